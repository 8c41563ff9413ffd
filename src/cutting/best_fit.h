// Parts one after another, each on the stick where it leaves the least room.
#pragma once

#include "solution.h"
#include "work.h"

namespace kw::cutting {

// Which bar is begun when a part fits on no stick.
enum class Begin { cheapest_length, cheapest_bar, shortest, longest };

// Adds what is left in `solution`, kind by kind in the given order, as far as the bars go. Always
// runs to its end: its work is about one step a part.
void fit_best(const Model& model, const std::vector<int>& order, Begin begin, Solution& solution);

}  // namespace kw::cutting
