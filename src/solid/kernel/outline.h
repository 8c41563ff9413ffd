// Private to the kernel's side of solid: polygons of which some sides stand for arcs, as prisms
// with true cylindrical walls.
#pragma once

#include <TopoDS_Shape.hxx>
#include <vector>

#include "kerfwright/measure/vector.h"
#include "kerfwright/solid/body.h"

namespace kw::kernel {

// A convex polygon, counter-clockwise. Side i runs from points[i] to points[i + 1]; cylinders[i] is
// the index of the cylinder (along z) of which it is a facet, or -1.
struct Outline {
  std::vector<Vec2> points = {};
  std::vector<int> cylinders = {};
};

// The prism over the outline between z = low and z = high. Each run of facets becomes one arc, from
// where the neighbouring side's line meets the circle. `wood_inside`: the outline bounds wood, not
// a hollow.
[[nodiscard]] TopoDS_Shape prism_over(const Outline& outline,
                                      const std::vector<Cylinder>& cylinders, bool wood_inside,
                                      double low, double high);

}  // namespace kw::kernel
