// Private to solid: the faces of a convex stick less convex cutters. Each face is worked out in its
// own plane, so there is no global step that can fail.
#pragma once

#include <optional>
#include <vector>

#include "convex.h"
#include "polygon.h"

namespace kw {

using PlaneSet = std::vector<Plane>;

struct CarvedFace {
  int cutter = -1;   // -1: of the stick
  int side = 0;      // of the stick: Convex::Side::source; otherwise which plane of the cutter
  Plane plane = {};  // the normal looks out of what is left
  std::vector<Loop> loops = {};
};

// A cutter is where all its planes hold (distance <= 0), bounded or not. Where two cutters' walls
// lie in one plane, the first one's is kept. Nothing when more than `most_steps` polygons would
// have to be clipped (about 50 ns each).
[[nodiscard]] std::optional<std::vector<CarvedFace>> carve(const Convex& stick,
                                                           const std::vector<PlaneSet>& cutters,
                                                           std::size_t most_steps);

}  // namespace kw
