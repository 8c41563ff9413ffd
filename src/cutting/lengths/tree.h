// Bounded knapsacks by branch and bound, where a table would be too long.
#pragma once

#include "lengths/pricing.h"

namespace kw::cutting::lengths {

// An item of the search; `worth` counts cuts in advance.
struct Choice {
  int type = 0;
  std::int64_t size = 0;
  int count = 0;
  std::int64_t worth = 0;
};

[[nodiscard]] Priced price_by_tree(const Query& query, std::vector<Choice> choices,
                                   std::size_t most, const Spend& spend);

[[nodiscard]] Listed list_by_tree(const Query& query, std::vector<Choice> choices,
                                  std::int64_t slack, std::size_t most, const Spend& spend);

}  // namespace kw::cutting::lengths
