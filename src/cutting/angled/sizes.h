// Sizes of parts for a knapsack that no row of angled parts can beat.
//
// Give each right end r a share u_r, each left end l a share v_l of the gaps, with
// u_r + v_l <= gap(r, l) for all that can meet, and the ends of the stick shares u_0, v_0 with
// u_0 + v_l <= reach(l), u_r + v_0 <= reach(r). Summed along a row, its joints and tips take at
// least u_0 + v_0 + the shares of its parts' ends. So with
//     size = length + min over ways (l, r) of (v_l + u_r),   margin = -(u_0 + v_0)
// the sizes on a stick sum up to at most its usable length + margin. Which shares are good needs no
// proof: a linear programme chooses those under which all parts together are largest.
#pragma once

#include <cstdint>
#include <vector>

#include "angled/shapes.h"

namespace kw::cutting::angled {

struct Sizes {
  std::vector<std::int64_t> of_kind = {};  // at least 1
  std::int64_t margin = 0;
  bool is_sound = false;  // false: parts so small that no size can be given
};

// `sticks`: about how many a plan takes.
[[nodiscard]] Sizes sizes_of(const Model& model, const Shapes& shapes, int sticks);

}  // namespace kw::cutting::angled
