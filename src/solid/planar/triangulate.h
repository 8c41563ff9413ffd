// Private to solid: polygons with holes into triangles, by cutting off ears.
//
// Guarantees: exactly the given corners are used, and each edge of the rings by exactly one
// triangle, so triangles of faces whose rings match are watertight whatever the numbers. Rings that
// cross themselves give triangles that overlap, never a hang.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

struct FlatCorner {
  Vec2 at = {};
  std::uint32_t point = 0;  // the caller's number; equal numbers are one point
};
using FlatRing = std::vector<FlatCorner>;

// `rings[0]` is the outer ring, counter-clockwise; the others are holes in it, clockwise.
[[nodiscard]] std::vector<std::array<std::uint32_t, 3>> triangulate(
    const std::vector<FlatRing>& rings);

}  // namespace kw
