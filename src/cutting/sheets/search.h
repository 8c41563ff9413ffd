// Whole plans by greedy rules, then a few sheets emptied and laid out anew, over and over.
#pragma once

#include <functional>

#include "greedy.h"

namespace kw::cutting::sheets {

struct Found {
  std::vector<Pattern> patterns = {};
  std::int64_t cost = 0;
  bool is_whole = false;  // every part has a place
};

// Ends when the work is over, or after `rounds` rounds without gain, or at a whole plan that costs
// no more than `bound`. `on_sheet` is told every sheet of every plan that was better than the last.
[[nodiscard]] Found search(const Model& model, std::int64_t bound, std::uint64_t seed, int rounds,
                           Work& work, const std::function<void(const Pattern&)>& on_sheet = {});

}  // namespace kw::cutting::sheets
