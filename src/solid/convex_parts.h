// Private to solid: the convex stick and its cutters, kept beside a shape for clashes.
#pragma once

#include <vector>

#include "kerfwright/solid/body.h"

#include "planar/carve.h"

namespace kw {

// Common wood thinner than this is no clash.
inline constexpr double thinnest_clash = 0.01;  // mm

struct ConvexParts {
  Convex stick = {};
  // The stick with each side moved in by half of thinnest_clash; empty when that leaves nothing.
  Convex core = {};
  std::vector<PlaneSet> cutters = {};  // those that bite
};

}  // namespace kw
