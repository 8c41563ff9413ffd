// Convex parts of polygons.
#pragma once

#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw::resolving {

// A counter-clockwise polygon; marks[i] belongs to the side from point i to the next.
struct Polygon {
  std::vector<Vec2> points = {};
  std::vector<int> marks = {};
};

[[nodiscard]] bool is_convex(const Polygon& polygon);

// Convex polygons that make up a simple one, by cutting off ears and joining what stays convex.
// Sides that they share have the mark `shared`. Also for n points in the order of n^3 steps at the
// worst.
[[nodiscard]] std::vector<Polygon> convex_parts_of(const Polygon& polygon, int shared);

// What of a convex polygon lies on the left of the line from a to b; sides along it get the mark
// `cut`.
[[nodiscard]] Polygon left_of(const Polygon& polygon, Vec2 a, Vec2 b, int cut);

}  // namespace kw::resolving
