// Boxes along the axes of the world, mm.
#pragma once

#include "kerfwright/solid/body.h"

namespace kw {

struct Extent {
  Vec3 low = {1e30, 1e30, 1e30}, high = {-1e30, -1e30, -1e30};
};
[[nodiscard]] Extent joined(const Extent& a, const Extent& b);
// Around the box that the body's own shape fills, as it lies in the world.
[[nodiscard]] Extent extent_of(const Body& body);

}  // namespace kw
