// Which patterns are worth more than their bin: the bounded knapsack, exactly, in whole numbers.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "lengths/instance.h"
#include "lengths/prices.h"
#include "lengths/table.h"

namespace kw::cutting::lengths {

// Files work done (about one table cell each) and says whether to go on.
using Spend = std::function<bool(std::int64_t)>;

struct Found {
  Pattern pattern = {};
  std::int64_t gain = 0;  // worth above the threshold, at the scale of the prices
};

struct Priced {
  std::vector<Found> found = {};        // best first
  std::vector<std::int64_t> most = {};  // by bin: no pattern on it is worth more
  bool is_whole = true;                 // false: the caller stopped it, nothing is known
};

// Types of which one part each is wanted, and all those parts on one bin: a pattern holds all of a
// group or none. No type is in two groups; within each they rise.
using Groups = std::vector<std::vector<int>>;

// Patterns may hold no more than `rest` wants, on bins that are left, with no more waste than
// `waste` (by bin) allows.
struct Query {
  const Instance& instance;
  const Prices& prices;
  const Rest& rest;
  const std::vector<std::int64_t>& waste;
  const Groups& groups;
  Table::Memory& memory;
};

// Adds to a pattern that has the first type of a group its other ones.
void fill_up(const Groups& groups, Pattern& pattern);

// Whether a table is too large for it, so that branch and bound answers.
[[nodiscard]] bool needs_tree(const Query& query);

// Up to `most` different patterns with gain > 0. Where bins may not all waste the same, the best
// may be missed, for one that wastes too much on its bin.
[[nodiscard]] Priced price(const Query& query, std::size_t most, const Spend& spend);

// Every pattern with gain >= -slack. Cut off, so of no use, where there are more than `most`.
struct Listed {
  std::vector<Pattern> patterns = {};
  bool is_whole = false;
};
[[nodiscard]] Listed list_patterns(const Query& query, std::int64_t slack, std::size_t most,
                                   const Spend& spend);

}  // namespace kw::cutting::lengths
