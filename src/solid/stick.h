// Private to solid: the convex stick of a board in the world, and what joints ask of it.
#pragma once

#include <optional>
#include <vector>

#include "planar/convex.h"
#include "planar/polygon.h"
#include "recipe.h"

namespace kw {

// Lengths below this are none, in joints (mm).
inline constexpr double no_length = 1e-3;

// A flat face of the wood.
struct Wall {
  Plane plane = {};  // looks out of the wood
  Loop loop = {};    // convex, counter-clockwise seen from outside
};

// The box of a board with its trims, before any joint: empty when they leave nothing. In the world.
struct Stick {
  Frame frame = {};
  Convex wood = {};
  std::vector<Convex> hollows = {};  // what an outline takes out of it
  std::vector<Wall> inner = {};      // the straight sides of these that border on wood
};
[[nodiscard]] Stick stick_of(const ResolvedBoard& board, const Recipe& recipe);

// From the least to the greatest dot(direction, p) over the solid, which must not be empty.
struct Reach {
  double from = 0, to = 0;
  [[nodiscard]] double length() const { return to - from; }
};
[[nodiscard]] Reach reach_of(const Convex& solid, Vec3 direction);

// Where a plane cuts both solids, counter-clockwise about its normal; empty when it does not.
[[nodiscard]] Loop section_of(const Plane& plane, const Convex& a, const Convex& b);

// How far two solids are apart, at least: the widest gap along the normals of their sides (mm, 0
// when there is none).
[[nodiscard]] double gap_between(const Convex& a, const Convex& b);

// Where the line through a point enters and leaves the solid, as distances along the unit
// direction; nothing when it misses.
[[nodiscard]] std::optional<Reach> line_through(const Convex& solid, Vec3 point, Vec3 direction);

// Of a flat loop: its area (mm^2) and the middle of that area.
[[nodiscard]] double area_of(const Loop& loop);
[[nodiscard]] Vec3 middle_of(const Loop& loop);

}  // namespace kw
