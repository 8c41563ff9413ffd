// The cheapest whole-number cover over given columns, proved: minimise sum c_j x_j so that each row
// gets at least its `lower` and at most its `upper`, x_j whole, 0 <= x_j <= most_j. Branch and
// bound on a Master with cuts over three rows, reduced-cost fixing and dives.
//
// Costs, entries and sides are whole; entries and costs not negative. Every bound is reckoned in
// integers from rounded duals, so `bound` holds whatever the simplex did: for whole y_i (y_i >= 0
// where only `lower` counts, <= 0 where only `upper` does) and scale V,
//     V sum c x >= sum y_i side_i + sum_j min over 0 <= x_j <= most_j of (V c_j - sum_i a_ij y_i)
//     x_j.
//
// Deterministic: counted work, no clock but the caller's `spend`.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace kw::cutting::program {

struct Part {
  int row = 0;
  std::int64_t count = 0;
};

struct PoolColumn {
  std::int64_t cost = 0;
  std::vector<Part> parts = {};  // each row once, count > 0
  std::optional<std::int64_t> most = {};
};

struct PoolRow {
  std::int64_t lower = 0;  // 0: no need
  std::optional<std::int64_t> upper = {};
};

struct Pool {
  std::vector<PoolRow> rows = {};
  std::vector<PoolColumn> columns = {};
};

struct CoverEffort {
  // Only covers that cost less are looked for.
  std::optional<std::int64_t> below = {};
  // Stop at a cover that costs no more than this; it is known to be as good as any.
  std::int64_t enough = 0;
  // Files work done (about one table cell each) and says whether to go on.
  std::function<bool(std::int64_t)> spend = {};
  std::int64_t most_nodes = 1'000'000;
};

struct Cover {
  // How often each column, and what they cost; none found, or none below `below`: empty.
  std::optional<std::vector<std::int64_t>> counts = {};
  std::int64_t cost = 0;
  // No cover of this pool costs less than `bound`, but for one `below` was not to beat: with
  // `below` and no counts, a complete search has bound == *below. The largest int64 when there is
  // none.
  std::int64_t bound = 0;
  bool is_complete = false;  // bound == cost, or proved that there is none (below `below`)
  std::int64_t nodes = 0;
};

[[nodiscard]] Cover cover(const Pool& pool, const CoverEffort& effort = {});

}  // namespace kw::cutting::program
