// A good answer early: several ways to lay out all parts, then small groups of sticks laid out
// anew.
#pragma once

#include "solution.h"
#include "work.h"

namespace kw::cutting {

// The best answer found within `work`; parts that found no place are in its `left`. `bound` is what
// any plan costs at least: once met, only a little more work goes into losing less.
[[nodiscard]] Solution heuristic(const Model& model, std::int64_t bound, std::uint64_t seed,
                                 Work& work);

}  // namespace kw::cutting
