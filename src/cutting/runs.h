// The fewest goes in which rows of marks can be taken off from their ends, mark by mark.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

namespace kw::cutting {

using Row = std::vector<int>;  // marks, 0 and up, left to right

struct Runs {
  std::vector<int> order = {};  // of marks; in each go all of that mark at the ends come off
  int at_least = 0;             // no order is shorter
};

// Files work done (about one cell of a row each) and says whether to go on; none: always.
using Spend = std::function<bool(std::int64_t)>;

// Exact where the rows together have few states, else the best that a narrow search finds (beyond
// 200 rows, or once `spend` says no: one go after another), with a bound from each row alone. Among
// equally short orders, low marks come early.
[[nodiscard]] Runs fewest_runs(std::vector<Row> rows, const Spend& spend = {});

}  // namespace kw::cutting
