// What an optimiser found for a plain instance, as JSON. Lengths are whole ticks, money whole
// coins.
#pragma once

#include <string>

#include "kerfwright/cutting/sheets.h"

namespace kw {

[[nodiscard]] std::string solved_json(const Problem& problem, const Plan& plan, double seconds);
[[nodiscard]] std::string solved_json(const SheetProblem& problem, const SheetPlan& plan,
                                      double seconds);

}  // namespace kw
