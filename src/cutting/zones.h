// Faulty zones of a stick in whole ticks, and the clear stretches between them.
#pragma once

#include <cstdint>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw::cutting {

// Of a stick's usable length, in ticks from the left trim.
struct Stretch {
  std::int64_t from = 0, to = 0;
  [[nodiscard]] std::int64_t length() const { return to - from; }
};

// What the saw takes along the stick at the steepest end of any part.
[[nodiscard]] std::int64_t widest_cut(const Problem& problem);

// The zones as they count: at least `widest` long, within the usable length, in order and apart.
[[nodiscard]] std::vector<Stretch> zones_of(const Stock& stock, std::int64_t trim,
                                            std::int64_t widest);

// What zones in order leave of the usable length.
[[nodiscard]] std::vector<Stretch> clear_between(const std::vector<Stretch>& zones,
                                                 std::int64_t usable);

}  // namespace kw::cutting
