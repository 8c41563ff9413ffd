// Private to solid: what is left of a flat polygon, and what two flat figures have in common.
// Clipper is used where borders cross; the common easy cases are done exactly and fast.
#pragma once

#include <vector>

#include "polygon.h"

namespace kw {

// `base` less all `cutouts`: outer loops counter-clockwise about the plane's normal, holes
// clockwise. All loops lie in the plane, run counter-clockwise and are simple; the base is convex.
// Slivers thinner than on_line are left out.
[[nodiscard]] std::vector<Loop> subtract(const Loop& base, std::vector<Loop> cutouts, Vec3 normal);

// What both figures cover, oriented as above. Each figure: outer loops counter-clockwise, holes
// clockwise.
[[nodiscard]] std::vector<Loop> intersect(const std::vector<Loop>& a, const std::vector<Loop>& b,
                                          Vec3 normal);

}  // namespace kw
