#include "columns.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "bound.h"
#include "program/cover.h"
#include "strips.h"

namespace kw::cutting::sheets {
namespace {

constexpr double whole_board = 0x1p32;  // worth of the dearest board in whole duals
constexpr std::int64_t most_table_work = 1'500'000'000;  // in cells, or pricing takes too long
constexpr double pull_of_the_best = 0.6;
constexpr std::size_t most_enumerated = 60'000;

std::int64_t price_step(const Model& model) {
  std::int64_t step = 0;
  for (const Board& b : model.boards) step = std::gcd(step, b.price);
  return std::max<std::int64_t>(step, 1);
}

}  // namespace

bool Pool::add(const Pattern& pattern) {
  std::vector<int> counts = counts_of(model_, pattern);
  for (std::size_t k = 0; k < counts.size(); ++k)
    counts[k] = std::min(counts[k], model_.kinds[k].count);
  if (std::all_of(counts.begin(), counts.end(), [](int n) { return n == 0; })) return false;
  if (!known_.emplace(pattern.board, counts).second) return false;
  patterns_.push_back(pattern);
  counts_.push_back(std::move(counts));
  return true;
}

bool best_of_pool(const Model& model, const Pool& pool, std::int64_t bound, Found& found,
                  std::int64_t most_nodes, Work& work) {
  program::Pool columns;
  for (const Kind& k : model.kinds) columns.rows.push_back({.lower = k.count});
  for (const Board& b : model.boards) columns.rows.push_back({.lower = 0, .upper = b.copies});
  for (std::size_t p = 0; p < pool.size(); ++p) {
    const int board = pool.patterns()[p].board;
    program::PoolColumn column{.cost = model.boards[static_cast<std::size_t>(board)].price};
    const std::vector<int>& counts = pool.counts(p);
    for (std::size_t k = 0; k < counts.size(); ++k)
      if (counts[k] > 0) column.parts.push_back({static_cast<int>(k), counts[k]});
    column.parts.push_back({static_cast<int>(model.kinds.size()) + board, 1});
    columns.columns.push_back(std::move(column));
  }
  program::CoverEffort effort{.enough = bound, .most_nodes = most_nodes};
  if (found.is_whole) effort.below = found.cost;
  effort.spend = [&](std::int64_t units) { return work.spend(units); };
  const program::Cover cover = program::cover(columns, effort);
  if (cover.counts) {
    found = {.cost = cover.cost, .is_whole = true};
    for (std::size_t p = 0; p < pool.size(); ++p)
      found.patterns.insert(found.patterns.end(), static_cast<std::size_t>((*cover.counts)[p]),
                            pool.patterns()[p]);
    work.report(found.cost, bound);
  }
  return cover.is_complete && (!cover.counts || cover.bound >= cover.cost);
}

Columns::Columns(const Model& model, Pool& pool, Work& work)
    : model_(model), pool_(pool), work_(work) {
  for (const Kind& k : model.kinds) {
    rows_.push_back(master_.add_row({.lower = static_cast<double>(k.count)}));
    counts_.push_back(k.count);
  }
  std::int64_t dearest = 1;
  for (std::size_t b = 0; b < model.boards.size(); ++b) {
    board_rows_.push_back(master_.add_row({.upper = static_cast<double>(model.boards[b].copies)}));
    dearest = std::max(dearest, model.boards[b].price);
    if (!has_strips())
      sheets_.push_back(std::make_unique<OneSheet>(model, static_cast<int>(b), work));
  }
  scale_ = whole_board / static_cast<double>(dearest);
  most_.resize(model.boards.size());
  Wide largest = 1;
  for (const Board& b : model.boards) largest = std::max(largest, b.size.area());
  for (const Kind& k : model.kinds) {
    best_duals_.push_back(static_cast<std::int64_t>(static_cast<double>(k.size.area()) /
                                                    static_cast<double>(largest) * whole_board));
  }
}

bool Columns::has_strips() const {
  return model_.stages == SheetStages::two || model_.stages == SheetStages::two_and_trim;
}

bool Columns::can_price() const {
  if (has_strips()) return true;
  return std::all_of(sheets_.begin(), sheets_.end(), [](const auto& s) {
    return s->has_grid() && s->table_work() <= most_table_work;
  });
}

void Columns::add_columns() {
  for (; added_ < pool_.size(); ++added_) {
    const auto board = static_cast<std::size_t>(pool_.patterns()[added_].board);
    program::Column column{.cost = static_cast<double>(model_.boards[board].price)};
    const std::vector<int>& counts = pool_.counts(added_);
    for (std::size_t k = 0; k < counts.size(); ++k)
      if (counts[k] > 0) column.entries.push_back({rows_[k], static_cast<double>(counts[k])});
    column.entries.push_back({board_rows_[board], 1});
    master_.add_column(column);
  }
}

std::int64_t Columns::bound(std::int64_t cost) {
  const std::int64_t step = price_step(model_);
  while (bound_ < cost && !work_.is_over()) {
    add_columns();
    if (master_.solve([&] { return !work_.spend(512 * master_.rows()); }) !=
        program::Status::optimal)
      break;
    work_.spend(master_.pivots() * 100 + 1'000);
    // No bound can come to more than the master does.
    const double ceiling = std::ceil((master_.value() - 1e-6) / static_cast<double>(step));
    if (bound_ >= static_cast<std::int64_t>(ceiling) * step) break;
    round_duals(pull_of_the_best);
    if (price(cost)) continue;
    if (bound_ >= cost || work_.is_over()) break;
    round_duals(0);
    if (!price(cost)) break;
  }
  return bound_;
}

// Duals drawn towards those of the best bound swing less (Wentges 1997, from memory).
void Columns::round_duals(double pull) {
  duals_.clear();
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    const double dual = master_.duals()[static_cast<std::size_t>(rows_[k])] * scale_;
    const double mixed = pull * static_cast<double>(best_duals_[k]) + (1 - pull) * dual;
    duals_.push_back(std::max<std::int64_t>(std::llround(mixed), 0));
  }
}

// True when patterns were found that the master gains by.
bool Columns::price(std::int64_t cost) {
  bool has_gained = false;
  for (std::size_t b = 0; b < model_.boards.size(); ++b) {
    has_gained = fill(b) || has_gained;
    if (work_.is_over()) return false;
  }
  learn();
  return has_gained && bound_ < cost;
}

bool Columns::fill(std::size_t board) {
  const double limit = std::min(master_.duals()[static_cast<std::size_t>(board_rows_[board])], 0.0);
  const double price = static_cast<double>(model_.boards[board].price) - limit;
  const auto known = static_cast<std::int64_t>(std::ceil(price * scale_ * (1 + 1e-9))) + 64;
  if (has_strips()) {
    const Strips strips = strips_on(model_, static_cast<int>(board), duals_, counts_, known, work_);
    most_[board] = strips.bound;
    bool is_new = false;
    for (const Pattern& p : strips.patterns) is_new = pool_.add(p) || is_new;
    return is_new;
  }
  const auto filling = sheets_[board]->fill(
      duals_, counts_, {.known = known, .rounds = 12, .any_will_do = true}, work_);
  most_[board] = filling ? filling->bound : Wide{1} << 60;
  if (!filling) return false;
  bool is_new = false;
  for (const Blocks& b : filling->others)
    is_new = pool_.add(pattern_of(model_, static_cast<int>(board), b)) || is_new;
  return is_new;
}

// Whatever boards are used, they are worth as much as the parts.
void Columns::learn() {
  Wide needed = 0;
  for (std::size_t k = 0; k < duals_.size(); ++k) needed += Wide{duals_[k]} * counts_[k];
  const auto bound = least_price(model_, most_, needed);
  if (!bound) return;
  double exact = 1e300;
  for (std::size_t b = 0; b < most_.size(); ++b) {
    exact = std::min(exact, static_cast<double>(needed) / static_cast<double>(most_[b]) *
                                static_cast<double>(model_.boards[b].price));
  }
  bound_ = std::max(bound_, *bound);
  if (exact <= exact_bound_) return;
  exact_bound_ = exact;
  best_duals_ = duals_;
  best_most_ = most_;
}

bool Columns::enumerate(std::int64_t cost) {
  if (best_most_.empty() || work_.is_over() || model_.stages != SheetStages::any) return false;
  // V times the price of a board is no less than it can be worth.
  Wide scale = 0, needed = 0;
  for (std::size_t b = 0; b < best_most_.size(); ++b) {
    const std::int64_t price = model_.boards[b].price;
    if (price == 0) return false;
    scale = std::max(scale, (best_most_[b] + price - 1) / price);
  }
  for (std::size_t k = 0; k < best_duals_.size(); ++k) needed += Wide{best_duals_[k]} * counts_[k];
  const Wide gap = scale * (cost - price_step(model_)) - needed;
  if (gap < 0) return true;
  for (std::size_t b = 0; b < sheets_.size(); ++b) {
    const Wide least = scale * model_.boards[b].price - gap;
    const auto all = sheets_[b]->all(best_duals_, counts_, static_cast<std::int64_t>(least),
                                     most_enumerated, work_);
    if (!all) return false;
    for (const Blocks& blocks : *all) pool_.add(pattern_of(model_, static_cast<int>(b), blocks));
  }
  return true;
}

}  // namespace kw::cutting::sheets
