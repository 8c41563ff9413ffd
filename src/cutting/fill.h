// Stick after stick, each time the one whose parts are worth most for its money.
#pragma once

#include <vector>

#include "solution.h"
#include "work.h"

namespace kw::cutting {

// What a part of each kind is worth, about 1 for one as long as the longest bar.
using Worth = std::vector<double>;

// Worth by length, with a little more a length for the long ones, which are harder to place.
[[nodiscard]] Worth worth_by_length(const Model& model, double favour_of_long);

// Fills what is left in `solution` as far as the bars and the work go, and corrects the worth of
// the kinds it placed by how well their sticks were used (sequential value correction, after
// Mukhacheva and others, 2000; the rule from memory), so that the next filling treats the awkward
// ones earlier.
void fill(const Model& model, Worth& worth, Random& random, Work& work, Solution& solution);

}  // namespace kw::cutting
