#include "pool_lp.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace kw::cutting::program {
namespace {

constexpr std::size_t all_at_once = 3'000;  // columns; a larger pool is priced in
constexpr std::size_t priced_a_round = 400;
constexpr double least_gain = 1e-9;
constexpr std::size_t most_pairs = 120;  // rows of branches kept beside those in use

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

std::int64_t count_of(const PoolColumn& column, int row) {
  for (const Part& part : column.parts) {
    if (part.row == row) return part.count;
  }
  return 0;
}

// More copies than that are never of use.
std::int64_t natural_most(const Pool& pool, const PoolColumn& column) {
  std::int64_t most = 0;
  for (const Part& part : column.parts) {
    const std::int64_t lower = pool.rows[at(part.row)].lower;
    most = std::max(most, (lower + part.count - 1) / part.count);
  }
  for (const Part& part : column.parts) {
    const auto& upper = pool.rows[at(part.row)].upper;
    if (upper) most = std::min(most, *upper / part.count);
  }
  return std::min(most, column.most.value_or(most));
}

RowBounds bounds_of(std::int64_t lower, std::optional<std::int64_t> upper) {
  return {lower > 0 ? static_cast<double>(lower) : -endless,
          upper ? static_cast<double>(*upper) : endless};
}

}  // namespace

PoolLp::PoolLp(const Pool& pool, std::int64_t penalty, std::function<bool()> is_over)
    : pool_(pool), penalty_(penalty), dearest_(penalty), is_over_(std::move(is_over)) {
  for (const PoolRow& row : pool.rows) {
    add_penalty(master_.add_row(bounds_of(row.lower, row.upper)));
  }
  for (const PoolColumn& column : pool.columns) {
    most_.push_back(natural_most(pool, column));
    dearest_ = std::max(dearest_, column.cost);
  }
  least_here_.assign(most_.size(), 0);
  most_here_ = most_;
  place_.assign(most_.size(), -1);
  primal_.assign(most_.size(), 0);
  if (pool.columns.size() > all_at_once) return;
  for (int j = 0; j < static_cast<int>(pool.columns.size()); ++j) put(j);
}

void PoolLp::add_penalty(int row) {
  master_.add_column({static_cast<double>(penalty_), {{row, 1}}});
}

std::int64_t PoolLp::count_in(const Extra& extra, int column) const {
  const PoolColumn& c = pool_.columns[at(column)];
  if (!extra.is_cut)
    return count_of(c, extra.pair.first) > 0 && count_of(c, extra.pair.second) > 0 ? 1 : 0;
  std::int64_t sum = 0;
  for (const int row : extra.triple) sum += count_of(c, row);
  return (sum + 1) / 2;
}

void PoolLp::put(int column) {
  const PoolColumn& c = pool_.columns[at(column)];
  Column lp{static_cast<double>(c.cost),
            {},
            static_cast<double>(least_here_[at(column)]),
            static_cast<double>(most_here_[at(column)])};
  for (const Part& part : c.parts)
    lp.entries.push_back({part.row, static_cast<double>(part.count)});
  for (const Extra& extra : extras_) {
    const std::int64_t count = count_in(extra, column);
    if (count > 0) lp.entries.push_back({extra.row, static_cast<double>(count)});
  }
  place_[at(column)] = master_.add_column(lp);
}

void PoolLp::add_extra(Extra extra) {
  std::vector<Entry> entries;
  for (int j = 0; j < static_cast<int>(place_.size()); ++j) {
    const std::int64_t count = place_[at(j)] >= 0 ? count_in(extra, j) : 0;
    if (count > 0) entries.push_back({place_[at(j)], static_cast<double>(count)});
  }
  extra.row = master_.add_row(bounds_of(extra.lower, extra.upper), entries);
  add_penalty(extra.row);
  extras_.push_back(extra);
}

void PoolLp::add_cut(const Triple& triple) {
  std::int64_t sum = 0;
  for (const int row : triple) sum += pool_.rows[at(row)].lower;
  add_extra({.is_cut = true, .triple = triple, .lower = (sum + 1) / 2});
}

std::vector<std::int64_t> PoolLp::sides() const {
  std::vector<std::int64_t> sides;
  for (const PoolRow& row : pool_.rows) sides.push_back(row.lower);
  return sides;
}

void PoolLp::set_extra(Extra& extra, std::int64_t lower, std::optional<std::int64_t> upper) {
  if (extra.lower == lower && extra.upper == upper) return;
  extra.lower = lower;
  extra.upper = upper;
  master_.set_row(extra.row, bounds_of(lower, upper));
}

// Rows of pairs that no branch uses any more; a penalty column without a row stays, harmless but
// never of use, so it is fixed to nothing.
void PoolLp::drop_unused_pairs() {
  std::vector<int> rows;
  std::vector<Extra> kept;
  for (const Extra& extra : extras_) {
    const bool is_free = !extra.is_cut && extra.lower == 0 && !extra.upper;
    if (is_free && master_.is_row_basic(extra.row)) {
      rows.push_back(extra.row);
    } else {
      kept.push_back(extra);
    }
  }
  if (rows.size() < most_pairs) return;
  master_.remove_rows(rows);
  for (Extra& extra : kept) {
    const auto gone = std::lower_bound(rows.begin(), rows.end(), extra.row) - rows.begin();
    extra.row -= static_cast<int>(gone);
  }
  extras_ = std::move(kept);
}

void PoolLp::set_columns(const Chain& chain) {
  const auto tell = [&](int j) {
    if (place_[at(j)] < 0) return;
    master_.set_bounds(place_[at(j)], static_cast<double>(least_here_[at(j)]),
                       static_cast<double>(most_here_[at(j)]));
  };
  const std::vector<int> before = std::move(changed_);
  changed_.clear();
  for (const int j : before) least_here_[at(j)] = 0, most_here_[at(j)] = most_[at(j)];
  for (const Branch& b : chain) {
    if (!b.column) continue;
    (b.is_up ? least_here_ : most_here_)[at(*b.column)] = b.limit;
    changed_.push_back(*b.column);
  }
  for (const int j : before) tell(j);
  for (const int j : changed_) tell(j);
}

void PoolLp::set_pairs(const Chain& chain) {
  struct Limits {
    std::int64_t lower = 0;
    std::optional<std::int64_t> upper = {};
  };
  std::map<PairRow, Limits> wanted;
  for (const Branch& b : chain) {
    if (b.column) continue;
    if (b.is_up) {
      wanted[b.pair].lower = b.limit;
    } else {
      wanted[b.pair].upper = b.limit;
    }
  }
  for (Extra& extra : extras_) {
    if (extra.is_cut) continue;
    const auto found = wanted.find(extra.pair);
    if (found == wanted.end()) {
      set_extra(extra, 0, {});
    } else {
      set_extra(extra, found->second.lower, found->second.upper);
      wanted.erase(found);
    }
  }
  for (const auto& [pair, limits] : wanted)
    add_extra({.pair = pair, .lower = limits.lower, .upper = limits.upper});
}

bool PoolLp::price_in() {
  const auto duals = master_.duals();
  std::vector<std::pair<double, int>> good;
  for (int j = 0; j < static_cast<int>(place_.size()); ++j) {
    if (place_[at(j)] >= 0 || most_here_[at(j)] == 0) continue;
    const PoolColumn& c = pool_.columns[at(j)];
    double reduced = static_cast<double>(c.cost);
    for (const Part& part : c.parts)
      reduced -= static_cast<double>(part.count) * duals[at(part.row)];
    for (const Extra& extra : extras_) {
      if (duals[at(extra.row)] != 0)
        reduced -= static_cast<double>(count_in(extra, j)) * duals[at(extra.row)];
    }
    if (reduced < -least_gain) good.emplace_back(reduced, j);
  }
  std::sort(good.begin(), good.end());
  if (good.size() > priced_a_round) good.resize(priced_a_round);
  for (const auto& [reduced, j] : good) put(j);
  return !good.empty();
}

bool PoolLp::solve(const Chain& chain) {
  drop_unused_pairs();
  set_columns(chain);
  set_pairs(chain);
  pivots_ = 0;
  do {
    const Status status = master_.solve(is_over_);
    pivots_ += master_.pivots() + 1;
    if (status != Status::optimal) return false;
  } while (price_in());
  const auto x = master_.primal();
  for (std::size_t j = 0; j < primal_.size(); ++j)
    primal_[j] = place_[j] >= 0 ? std::max(x[at(place_[j])], 0.0) : 0;
  reckon_bound();
  return true;
}

std::int64_t PoolLp::whole_cost(int column, const std::vector<std::int64_t>& y,
                                std::int64_t scale) const {
  const PoolColumn& c = pool_.columns[at(column)];
  std::int64_t reduced = scale * c.cost;
  for (const Part& part : c.parts) reduced -= part.count * y[at(part.row)];
  for (const Extra& extra : extras_) {
    if (y[at(extra.row)] != 0) reduced -= count_in(extra, column) * y[at(extra.row)];
  }
  return reduced;
}

void PoolLp::reckon_bound() {
  WholeDuals whole = whole_duals(master_.duals(), dearest_);
  scale_ = whole.scale;
  bound_scaled_ = 0;
  const auto count_row = [&](int row, std::int64_t lower, std::optional<std::int64_t> upper) {
    std::int64_t& y = whole.y[at(row)];
    if (y > 0 && lower <= 0) y = 0;
    if (y < 0 && !upper) y = 0;
    bound_scaled_ += static_cast<Wide>(y) * (y > 0 ? lower : upper.value_or(0));
  };
  for (int i = 0; i < static_cast<int>(pool_.rows.size()); ++i)
    count_row(i, pool_.rows[at(i)].lower, pool_.rows[at(i)].upper);
  for (const Extra& extra : extras_) count_row(extra.row, extra.lower, extra.upper);
  reduced_.resize(place_.size());
  for (int j = 0; j < static_cast<int>(place_.size()); ++j) {
    reduced_[at(j)] = most_here_[at(j)] == 0 ? 0 : whole_cost(j, whole.y, scale_);
    const std::int64_t copies = reduced_[at(j)] < 0 ? most_here_[at(j)] : least_here_[at(j)];
    bound_scaled_ += static_cast<Wide>(reduced_[at(j)]) * copies;
  }
  bound_ = ceil_over(bound_scaled_, scale_);
}

int PoolLp::fix(std::int64_t cost) {
  int gone = 0;
  const Wide gap = static_cast<Wide>(cost) * scale_ - bound_scaled_;  // what is out of reach
  for (int j = 0; j < static_cast<int>(place_.size()); ++j) {
    if (most_[at(j)] == 0 || reduced_[at(j)] <= 0) continue;
    // copies * reduced >= gap cannot be better than `cost`
    const Wide copies = gap <= 0 ? 0 : (gap + reduced_[at(j)] - 1) / reduced_[at(j)] - 1;
    if (copies >= most_[at(j)]) continue;
    most_[at(j)] = most_here_[at(j)] = static_cast<std::int64_t>(copies);
    if (place_[at(j)] >= 0) master_.set_bounds(place_[at(j)], 0, static_cast<double>(most_[at(j)]));
    if (most_[at(j)] == 0) ++gone;
  }
  return gone;
}

}  // namespace kw::cutting::program
