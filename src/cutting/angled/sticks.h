// From patterns to sticks and back.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "angled/stretches.h"
#include "solution.h"

namespace kw::cutting::angled {

using Uses = std::vector<std::pair<Pattern, int>>;  // and how often each

[[nodiscard]] std::vector<Pattern> patterns_of(const Solution& solution);

// Sticks that make every part once: what the patterns make too much of is left out. None when they
// make too little, or when a row does not fit.
[[nodiscard]] std::optional<Solution> solution_of(const Model& model, Rows& rows,
                                                  Stretches& stretches, const Uses& uses);

[[nodiscard]] bool is_complete(const Solution& solution);
[[nodiscard]] std::int64_t cost_of(const Model& model, const Solution& solution);

}  // namespace kw::cutting::angled
