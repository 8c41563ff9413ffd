#include "angled/generation.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::angled {
namespace {

using program::endless;
using program::Entry;
using program::Status;

constexpr double largest_worth = 0x1p40;  // of the dearest bar; sums of all parts stay below 2^61
constexpr double pays_by = 1e-8;          // of the dearest bar: less than that is rounding
constexpr std::int64_t work_of_a_pivot = 20;

bool is_scarce(const Model& model, std::size_t bar) {
  return model.bars[bar].copies < model.parts;
}

}  // namespace

Generation::Generation(const Model& model, Search& search, Work& work)
    : model_(model), search_(search), work_(work) {
  for (const Bar& bar : model.bars) dearest_ = std::max(dearest_, bar.price);
  while (static_cast<double>(scale_) * 2 * static_cast<double>(dearest_) < largest_worth)
    scale_ *= 2;
  for (const Kind& kind : model.kinds) master_.add_row({.lower = static_cast<double>(kind.count)});
  for (std::size_t b = 0; b < model.bars.size(); ++b) {
    row_of_bar_.push_back(
        is_scarce(model, b) ? master_.add_row({.upper = static_cast<double>(model.bars[b].copies)})
                            : -1);
  }
  // Parts bought ready-made, dearer than any stick, so that there is always an answer.
  for (int k = 0; k < static_cast<int>(model.kinds.size()); ++k)
    master_.add_column({.cost = 10 * static_cast<double>(dearest_) + 1'000, .entries = {{k, 1}}});
}

void Generation::add(const Pattern& pattern, bool fits) {
  if (!patterns_.insert(pattern).second) return;
  std::vector<Entry> entries;
  for (const auto& [kind, count] : pattern.parts)
    entries.push_back({kind, static_cast<double>(count)});
  if (const int row = row_of_bar_[at(pattern.bar)]; row >= 0) entries.push_back({row, 1});
  master_.add_column(
      {.cost = static_cast<double>(model_.bars[at(pattern.bar)].price), .entries = entries});
  known_.push_back({pattern, fits});
}

double Generation::use_of(std::size_t known) const {
  return master_.primal()[model_.kinds.size() + known];
}

void Generation::set_rows(const Available& available) {
  for (std::size_t k = 0; k < available.counts.size(); ++k)
    master_.set_row(static_cast<int>(k), {.lower = static_cast<double>(available.counts[k])});
  for (std::size_t b = 0; b < available.copies.size(); ++b) {
    if (row_of_bar_[b] >= 0)
      master_.set_row(row_of_bar_[b], {.upper = static_cast<double>(available.copies[b])});
  }
}

bool Generation::solve(const Available& available, const Care& care) {
  set_rows(available);
  std::int64_t nodes = care.first_nodes;
  for (int round = 0; round < care.most_rounds; ++round) {
    // Asked every so many pivots; what it files is little, but the clock is looked at.
    const Status status = master_.solve([&] { return !work_.spend(512 * master_.rows()); });
    work_.spend(work_of_a_pivot * master_.pivots() * (4 * master_.rows() + master_.columns()) / 4);
    if (status != Status::optimal) return false;
    if (price(available, nodes)) continue;
    if (work_.is_over()) return false;
    if (was_complete_ || nodes >= care.most_nodes) return true;
    nodes = std::min(nodes * 14, care.most_nodes);
  }
  return true;
}

Worths Generation::worths() const {
  const auto whole = [&](double coins) {
    const double scaled = std::isfinite(coins) ? coins * static_cast<double>(scale_) : 0;
    return static_cast<std::int64_t>(std::floor(std::clamp(scaled, 0.0, 32 * largest_worth)));
  };
  Worths worths;
  const auto duals = master_.duals();
  for (std::size_t k = 0; k < model_.kinds.size(); ++k) worths.part.push_back(whole(duals[k]));
  const std::int64_t more = whole(pays_by * static_cast<double>(dearest_)) + 1;
  for (std::size_t b = 0; b < model_.bars.size(); ++b) {
    const std::int64_t surcharge = row_of_bar_[b] < 0 ? 0 : whole(-duals[at(row_of_bar_[b])]);
    worths.threshold.push_back(scale_ * model_.bars[b].price + surcharge + more);
  }
  return worths;
}

bool Generation::price(const Available& available, std::int64_t nodes) {
  Worths now = worths();
  const Pricing pricing = search_.price(now, available, nodes);
  was_complete_ = pricing.is_complete;
  now.threshold = pricing.most;
  proof_ = std::move(now);
  const std::size_t before = known_.size();
  for (const Found& found : pricing.found) add(found.pattern, found.fits);
  return known_.size() > before;
}

program::Pool pool_of(const Model& model, const std::vector<Known>& columns) {
  program::Pool pool;
  for (const Kind& kind : model.kinds) pool.rows.push_back({.lower = kind.count});
  // A row for each bar, though its copies may not matter: the cover branches on it.
  const int first_bar = static_cast<int>(pool.rows.size());
  for (const Bar& bar : model.bars) pool.rows.push_back({.upper = bar.copies});
  for (const Known& column : columns) {
    const Bar& bar = model.bars[at(column.pattern.bar)];
    program::PoolColumn c{.cost = bar.price, .most = bar.copies};
    for (const auto& [kind, count] : column.pattern.parts) c.parts.push_back({kind, count});
    c.parts.push_back({first_bar + column.pattern.bar, 1});
    pool.columns.push_back(std::move(c));
  }
  return pool;
}

}  // namespace kw::cutting::angled
