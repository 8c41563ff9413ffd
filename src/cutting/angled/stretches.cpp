#include "angled/stretches.h"

#include <algorithm>

namespace kw::cutting::angled {
namespace {

constexpr std::size_t most_known = std::size_t{1} << 19;
constexpr int most_nodes = 5'000;
constexpr std::int64_t node_work = 60;

std::string key_of(int bar, const PartCounts& parts) {
  std::string key;
  const auto add = [&](int n) {
    key.push_back(static_cast<char>(n & 255));
    key.push_back(static_cast<char>(n >> 8 & 255));
  };
  add(bar);
  for (const auto& [kind, count] : parts) add(kind), add(count);
  return key;
}

}  // namespace

Stretches::Stretches(const Model& model, const Shapes& shapes, Rows& rows)
    : model_(model), shapes_(shapes), rows_(rows) {}

Fit Stretches::fit(int bar, const PartCounts& parts) {
  std::string key = key_of(bar, parts);
  const auto known = known_.find(key);
  if (known != known_.end()) return known->second;
  Counts left;
  for (const auto& [kind, count] : parts) left.push_back(count);
  begin(bar, parts, {});
  Fit fit = Fit::yes;
  if (!lay(0, left)) {
    const std::int64_t rounding = rounding_of_a_joint(model_);
    bool may_fit = is_cut_short_;
    if (!may_fit && rounding > 0) {
      begin(bar, parts, {rounding, slack_of_prefix(model_)});
      may_fit = lay(0, left) || is_cut_short_;
    }
    fit = may_fit ? Fit::maybe : Fit::no;
  }
  if (known_.size() < most_known) known_.emplace(std::move(key), fit);
  return fit;
}

std::vector<Cut> Stretches::order_of(int bar, const PartCounts& parts) {
  Counts left;
  for (const auto& [kind, count] : parts) left.push_back(count);
  begin(bar, parts, {});
  if (!lay(0, left)) return {};
  std::vector<Cut> cuts;
  for (const Counts& counts : laid_) {
    PartCounts here;
    for (std::size_t i = 0; i < counts.size(); ++i) {
      if (counts[i] > 0) here.emplace_back(parts[i].first, counts[i]);
    }
    if (here.empty()) continue;
    const std::vector<Cut> row = rows_.order_of(here);
    if (row.empty()) return {};
    cuts.insert(cuts.end(), row.begin(), row.end());
  }
  return cuts;
}

void Stretches::begin(int bar, const PartCounts& parts, Measure measure) {
  bar_ = &model_.bars[at(bar)];
  parts_ = parts;
  measure_ = measure;
  nodes_left_ = most_nodes;
  is_cut_short_ = false;
  failed_.clear();
  laid_.assign(bar_->clear.size(), Counts(parts.size()));
}

// Whether what is left can be laid in this stretch and those behind it.
bool Stretches::lay(std::size_t stretch, const Counts& left) {
  if (std::all_of(left.begin(), left.end(), [](int n) { return n == 0; })) return true;
  if (stretch == bar_->clear.size()) return false;
  if (stretch + 1 == bar_->clear.size()) {
    if (!is_within(stretch, left)) return false;
    laid_[stretch] = left;
    return true;
  }
  if (failed_.contains({stretch, left})) return false;
  Counts chosen(left.size());
  if (choose(stretch, left, chosen, 0)) return true;
  if (!is_cut_short_) failed_.insert({stretch, left});
  return false;
}

// Every set of kinds `from` and later for the stretch, the most of each first.
bool Stretches::choose(std::size_t stretch, const Counts& left, Counts& chosen, std::size_t from) {
  if (--nodes_left_ < 0) is_cut_short_ = true;
  if (is_cut_short_) return false;
  work_ += node_work;
  if (from == left.size()) {
    if (can_grow(stretch, left, chosen)) return false;
    Counts rest = left;
    for (std::size_t i = 0; i < rest.size(); ++i) rest[i] -= chosen[i];
    if (!lay(stretch + 1, rest)) return false;
    laid_[stretch] = chosen;
    return true;
  }
  int most = 0;
  for (chosen[from] = 1; chosen[from] <= left[from] && is_within(stretch, chosen); ++chosen[from])
    most = chosen[from];
  bool is_found = false;
  for (int n = most; n >= 0 && !is_found; --n) {
    chosen[from] = n;
    is_found = choose(stretch, left, chosen, from + 1);
  }
  chosen[from] = 0;
  return is_found;
}

bool Stretches::is_within(std::size_t stretch, const Counts& counts) {
  std::int64_t length = 0;
  int row = Rows::empty, parts = 0;
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const int kind = parts_[i].first;
    length += model_.kinds[at(kind)].length * counts[i];
    parts += counts[i];
    if (length > bar_->usable) return false;
    for (int n = 0; n < counts[i] && row != Rows::none; ++n)
      row = rows_.with(row, shapes_.of_kind[at(kind)]);
  }
  if (row == Rows::none) return is_cut_short_ = true, false;  // too many rows to remember
  if (parts > 0) length += rows_.joints(row) - measure_.rounding * (parts + 1);
  return length <= bar_->clear[stretch].length() + measure_.slack;
}

bool Stretches::can_grow(std::size_t stretch, const Counts& left, Counts& chosen) {
  for (std::size_t i = 0; i < left.size(); ++i) {
    if (chosen[i] == left[i]) continue;
    ++chosen[i];
    const bool fits = is_within(stretch, chosen);
    --chosen[i];
    if (fits) return true;
  }
  return false;
}

}  // namespace kw::cutting::angled
