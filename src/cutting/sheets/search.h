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

// Ends when the work or the effort is over, or at a whole plan that costs
// no more than `bound`. `on_sheet` is told every sheet of every plan that the search went on from.
struct SearchEffort {
  std::uint64_t seed = 1;
  int rounds = 1'000;     // without gain, after which it ends
  std::int64_t work = 0;  // after which it ends too
};

[[nodiscard]] Found search(const Model& model, std::int64_t bound, const SearchEffort& effort,
                           Work& work, const std::function<void(const Pattern&)>& on_sheet = {});

}  // namespace kw::cutting::sheets
