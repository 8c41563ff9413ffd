// The fewest goes in which rows of marks can be taken off from their ends, mark by mark.
#pragma once

#include <vector>

namespace kw::cutting {

using Row = std::vector<int>;  // marks, 0 and up, left to right

struct Runs {
  std::vector<int> order = {};  // of marks; in each go all of that mark at the ends come off
  int at_least = 0;             // no order is shorter
};

// Exact where the rows together have few states, else the best that a narrow search finds (beyond
// 200 rows: one go after another), with a bound from each row alone. Among equally short orders,
// low marks come early.
[[nodiscard]] Runs fewest_runs(std::vector<Row> rows);

}  // namespace kw::cutting
