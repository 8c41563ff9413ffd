// A judge of the planar core that shares nothing with it: it works on half-spaces alone, and makes
// no faces.
#pragma once

#include <vector>

#include "recipe.h"

namespace kw::test {

// Volume of where all planes hold, which must be bounded (mm^3): a third of each face's area times
// its distance, and so on down to intervals on lines (Lasserre, "An analytical expression and an
// algorithm for the volume of a convex polyhedron in R^n", J. Optim. Theory Appl. 39, 1983).
[[nodiscard]] double volume_of_half_spaces(const std::vector<Plane>& planes);

// Volume of a stick less its cutters by inclusion and exclusion over all sets of cutters. Up to a
// dozen cutters.
[[nodiscard]] double volume_less(const std::vector<Plane>& stick,
                                 const std::vector<std::vector<Plane>>& cutters);

[[nodiscard]] std::vector<Plane> stick_planes(const Recipe& recipe);
[[nodiscard]] std::vector<std::vector<Plane>> cutter_planes(const Recipe& recipe);

// Whether a point is in the wood, and the distance to the nearest plane of the recipe.
struct Membership {
  bool is_wood = false;
  double margin = 0;
};
[[nodiscard]] Membership membership_of(const Recipe& recipe, Vec3 p);

}  // namespace kw::test
