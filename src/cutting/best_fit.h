// Parts one after another, each on the stick where it leaves the least room.
#pragma once

#include <cstdint>

#include "solution.h"

namespace kw::cutting {

// Which bar is begun when a part fits on no stick.
enum class Begin { cheapest_length, cheapest_bar, shortest, longest };

// Adds what is left in `solution`, the longest first, as far as the bars go. Always runs to its
// end; returns the work it took.
std::int64_t fit_best(const Model& model, Begin begin, Solution& solution);

}  // namespace kw::cutting
