// Private to solid: flat polygons in space.
#pragma once

#include <span>
#include <vector>

#include "kerfwright/measure/vector.h"

#include "convex.h"

namespace kw {

using Loop = std::vector<Vec3>;

inline constexpr double on_line = 1e-5;  // mm: nearer to a line than this is on it

// The corners of a side, counter-clockwise seen from outside.
[[nodiscard]] Loop loop_of(const Convex& solid, const Convex::Side& side);

// Half the sum of the cross products: along the normal by the right hand, as long as the area
// (mm^2).
[[nodiscard]] Vec3 area_vector_of(std::span<const Vec3> loop);

// Working memory of clip, kept from call to call.
struct ClipMemory {
  std::vector<double> heights = {};
  Loop kept = {};
};

// Keeps what lies behind the plane of a convex polygon. When `gone` or `flush` the polygon is left
// as it was. Cuts an edge at the same point whichever way it runs.
Cut clip(Loop& polygon, const Plane& plane, ClipMemory& memory);

// Takes away corners that are no corners: doubled, on the straight line between their neighbours,
// or the tip of a spike (each within on_line). Empties a loop that is thinner than that.
void tidy(Loop& loop);

// A plane seen along the axis that it faces most, upright or mirrored so that what runs
// counter-clockwise about the normal runs counter-clockwise here. Areas and lengths are not kept.
class FlatView {
 public:
  FlatView(Vec3 normal, Vec3 on);
  [[nodiscard]] Vec2 flat(Vec3 p) const;
  [[nodiscard]] Vec3 raised(Vec2 p) const;

 private:
  int axis_ = 2;
  bool is_mirrored_ = false;
  Vec3 slope_ = {};    // normal divided by its largest component
  double height_ = 0;  // dot(slope_, on)
};

}  // namespace kw
