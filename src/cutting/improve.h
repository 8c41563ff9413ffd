// Better by small steps: a few sticks are emptied and their parts laid out anew.
#pragma once

#include <functional>

#include "solution.h"
#include "work.h"

namespace kw::cutting {

// Works on `solution` until the work is over. `on_better` hears of each step that makes parts less
// missing or money less.
void improve(const Model& model, Random& random, Work& work, Solution& solution,
             const std::function<void(const Solution&)>& on_better);

}  // namespace kw::cutting
