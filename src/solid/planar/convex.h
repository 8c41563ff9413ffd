// Private to solid: convex solids as sides over shared points, and the knife that cuts them by
// planes.
//
// Guarantees: sides that meet share the same points, bit for bit, before and after a cut, so a
// convex solid is always closed. A point nearer to the plane than `on_plane` is on it and stays as
// it is.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

inline constexpr double on_plane = 1e-8;  // mm

struct Convex {
  struct Side {
    Plane plane = {};                  // the normal looks out of the solid
    int source = 0;                    // the caller's number for the plane
    std::uint32_t begin = 0, end = 0;  // of its corners
  };
  std::vector<Vec3> points = {};
  std::vector<Side> sides = {};
  std::vector<std::uint32_t> corners = {};  // into points; counter-clockwise seen from outside

  [[nodiscard]] bool is_empty() const { return sides.empty(); }
};

// An upright box; the sources of its sides are 0 to 5: -x +x -y +y -z +z.
[[nodiscard]] Convex convex_box(Vec3 low, Vec3 high);

// mm^3.
[[nodiscard]] double volume_of(const Convex& solid);

// What a plane does to a body, of which the part behind the plane (distance <= 0) is kept.
enum class Cut : std::uint8_t {
  missed,   // all of it is kept
  through,  // it is cut in two
  gone,     // nothing is kept
  flush     // a flat polygon lies in the plane itself
};

// Cuts convex solids. Keeps its working memory from cut to cut.
class Knife {
 public:
  // Keeps what lies behind the plane; the new side has `source`. Never answers `flush`.
  Cut cut(Convex& solid, const Plane& plane, int source);

 private:
  Cut classify(const Convex& solid, const Plane& plane);
  void trim(const Convex& solid, const Convex::Side& side);
  std::uint32_t kept(const Convex& solid, std::uint32_t point);
  std::uint32_t crossing(const Convex& solid, std::uint32_t a, std::uint32_t b);
  void close(const Plane& plane, int source);

  struct Crossing {
    std::uint32_t a = 0, b = 0, point = 0;
  };
  std::vector<double> heights_ = {};            // of the old points over the plane
  std::vector<int> signs_ = {};                 // -1 behind, 0 on, +1 in front
  std::vector<std::uint32_t> new_number_ = {};  // of the old points
  std::vector<Crossing> crossings_ = {};
  std::vector<bool> is_rim_ = {};                       // of the new points: on the plane
  std::vector<std::array<std::uint32_t, 2>> rim_ = {};  // edges of the new side
  Convex next_ = {};
};

}  // namespace kw
