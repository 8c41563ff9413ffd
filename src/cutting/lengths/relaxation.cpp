#include "lengths/relaxation.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "lengths/reach.h"

namespace kw::cutting::lengths {
namespace {

using program::Column;
using program::Status;
using program::Wide;

constexpr double least_gain = 1e-9;                        // of a column, in share of a bin's cost
constexpr double smoothing = 0.5, light_smoothing = 0.25;  // of several kinds of bin, of one
constexpr std::size_t columns_a_round = 100, more_columns_a_round = 300;
constexpr int first_rounds = 50;        // without a simplex
constexpr std::size_t first_share = 3;  // patterns of them all together, by row
constexpr double first_step = 0.05;     // of a worth, for a part that is not covered at all
constexpr double used_at_all = 1e-9;

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

int cut_count(const program::Triple& triple, const Pattern& pattern) {
  int sum = 0;
  for (const auto& [type, count] : pattern.parts) {
    if (std::find(triple.begin(), triple.end(), type) != triple.end()) sum += count;
  }
  return (sum + 1) / 2;
}

}  // namespace

Stand stand_of(const Instance& instance, Rest rest, std::int64_t target) {
  Stand stand{std::move(rest), target, {}};
  Wide all = 0;
  for (std::size_t i = 0; i < instance.types.size(); ++i)
    all += static_cast<Wide>(instance.types[i].size) * stand.rest.counts[i];
  const Bin* least = nullptr;
  for (std::size_t b = 0; b < instance.bins.size(); ++b) {
    const Bin& bin = instance.bins[b];
    if (stand.rest.copies[b] == 0) continue;
    if (least == nullptr || static_cast<Wide>(bin.cost) * least->capacity <
                                static_cast<Wide>(least->cost) * bin.capacity)
      least = &bin;
  }
  for (const Bin& bin : instance.bins) {
    if (least == nullptr || least->cost == 0) {
      stand.waste.push_back(bin.capacity);
      continue;
    }
    // length >= (cost - (target - r all)) / r, with r = least->cost / least->capacity
    const Wide num = static_cast<Wide>(bin.cost - target) * least->capacity +
                     static_cast<Wide>(least->cost) * all;
    const Wide shortest = num <= 0 ? 0 : (num + least->cost - 1) / least->cost;
    const Wide waste = static_cast<Wide>(bin.capacity) - shortest;
    stand.waste.push_back(static_cast<std::int64_t>(std::max<Wide>(waste, -1)));
  }
  return stand;
}

Relaxation::Relaxation(const Instance& instance, Spend spend)
    : instance_(instance), spend_(std::move(spend)) {
  for (const Type& t : instance.types) master_.add_row({.lower = static_cast<double>(t.count)});
  for (const Bin& b : instance.bins) {
    const bool has_row = b.is_scarce || instance.bins.size() > 1;
    bin_row_.push_back(has_row ? master_.add_row({}) : -1);
  }
  first_cut_row_ = master_.rows();
  // A part out of nowhere, at a price that nobody would pay.
  const double dear = 2.0 * static_cast<double>(instance.dearest) + 1;
  for (int t = 0; t < static_cast<int>(instance.types.size()); ++t)
    master_.add_column({dear, {{t, 1}}});
  // Bins may stay empty where so many are to be used.
  for (std::size_t b = 0; b < bin_row_.size(); ++b) {
    if (bin_row_[b] >= 0)
      master_.add_column({static_cast<double>(instance.bins[b].cost), {{bin_row_[b], 1}}});
  }
  first_pattern_ = master_.columns();
  set_first_centre();
}

// Parts worth their length at the best price for length there is.
void Relaxation::set_first_centre() {
  double least = program::endless;
  for (const Bin& b : instance_.bins) {
    if (b.is_scarce) continue;
    least = std::min(least, static_cast<double>(b.cost) / static_cast<double>(b.capacity));
  }
  if (least == program::endless) least = 0;
  for (const Type& t : instance_.types) centre_.part.push_back(least * static_cast<double>(t.size));
  centre_.bin.assign(instance_.bins.size(), 0);
}

void Relaxation::add(const Pattern& pattern) {
  Column column{static_cast<double>(instance_.bins[at(pattern.bin)].cost), {}};
  for (const auto& [type, count] : pattern.parts)
    column.entries.push_back({type, static_cast<double>(count)});
  if (bin_row_[at(pattern.bin)] >= 0) column.entries.push_back({bin_row_[at(pattern.bin)], 1});
  for (std::size_t c = 0; c < cuts_.size(); ++c) {
    const int count = cut_count(cuts_[c], pattern);
    if (count > 0)
      column.entries.push_back({first_cut_row_ + static_cast<int>(c), static_cast<double>(count)});
  }
  for (std::size_t r = 0; r < pairs_.size(); ++r) {
    if (holds(pattern, pairs_[r].first) && holds(pattern, pairs_[r].second))
      column.entries.push_back({first_pair_row() + static_cast<int>(r), 1});
  }
  master_.add_column(column);
  patterns_.push_back(pattern);
  is_shut_.push_back(false);
}

// Rows of pairs always come last, so they make room for a new cut.
void Relaxation::set_pairs(const std::vector<PairRow>& pairs) {
  const auto is_same = [](const PairRow& a, const PairRow& b) {
    return a.first == b.first && a.second == b.second && a.is_least == b.is_least;
  };
  std::size_t same = 0;
  while (same < std::min(pairs.size(), pairs_.size()) && is_same(pairs[same], pairs_[same])) ++same;
  std::vector<int> rows;
  for (std::size_t r = same; r < pairs_.size(); ++r)
    rows.push_back(first_pair_row() + static_cast<int>(r));
  master_.remove_rows(rows);
  pairs_.resize(same);
  centre_.pair.resize(same);
  const auto bounds = [](const PairRow& row) {
    const auto side = static_cast<double>(row.side);
    return row.is_least ? program::RowBounds{side, program::endless}
                        : program::RowBounds{-program::endless, side};
  };
  for (std::size_t r = 0; r < same; ++r) {
    pairs_[r] = pairs[r];
    master_.set_row(first_pair_row() + static_cast<int>(r), bounds(pairs[r]));
  }
  for (std::size_t r = same; r < pairs.size(); ++r) {
    std::vector<program::Entry> entries;
    if (pairs[r].is_least) entries = {{pairs[r].first, 1}};  // a part out of nowhere does, too
    for (std::size_t p = 0; p < patterns_.size(); ++p) {
      if (holds(patterns_[p], pairs[r].first) && holds(patterns_[p], pairs[r].second))
        entries.push_back({first_pattern_ + static_cast<int>(p), 1});
    }
    master_.add_row(bounds(pairs[r]), entries);
    pairs_.push_back(pairs[r]);
    centre_.pair.push_back(0);
  }
}

void Relaxation::add_cuts(const std::vector<program::Triple>& triples) {
  if (triples.empty()) return;
  set_pairs({});
  for (const program::Triple& triple : triples) add_cut(triple);
}

void Relaxation::add_cut(const program::Triple& triple) {
  std::vector<program::Entry> entries;
  for (const int type : triple) entries.push_back({type, 1});
  for (std::size_t p = 0; p < patterns_.size(); ++p) {
    const int count = cut_count(triple, patterns_[p]);
    if (count > 0)
      entries.push_back({first_pattern_ + static_cast<int>(p), static_cast<double>(count)});
  }
  int sum = 0;
  for (const int type : triple) sum += instance_.types[at(type)].count;
  master_.add_row({.lower = static_cast<double>((sum + 1) / 2)}, entries);
  cuts_.push_back(triple);
  centre_.cut.push_back(0);
}

bool Relaxation::fits(const Pattern& pattern, const Stand& stand) const {
  const auto is_wanted = [&](const auto& part) {
    return part.second <= stand.rest.counts[at(part.first)];
  };
  const auto is_whole = [&](const std::vector<int>& group) {
    const auto held =
        std::count_if(group.begin(), group.end(), [&](int type) { return holds(pattern, type); });
    return held == 0 || held == std::ssize(group);
  };
  return stand.rest.copies[at(pattern.bin)] > 0 &&
         std::all_of(pattern.parts.begin(), pattern.parts.end(), is_wanted) &&
         std::all_of(stand.groups.begin(), stand.groups.end(), is_whole);
}

void Relaxation::enter(const Stand& stand) {
  for (std::size_t t = 0; t < stand.rest.counts.size(); ++t)
    master_.set_row(static_cast<int>(t), {.lower = static_cast<double>(stand.rest.counts[t])});
  for (std::size_t b = 0; b < bin_row_.size(); ++b) {
    if (bin_row_[b] < 0) continue;
    program::RowBounds bounds;
    if (stand.rest.is_limited[b]) bounds.upper = static_cast<double>(stand.rest.copies[b]);
    if (stand.rest.least[b] > 0) bounds.lower = static_cast<double>(stand.rest.least[b]);
    master_.set_row(bin_row_[b], bounds);
  }
  for (std::size_t c = 0; c < cuts_.size(); ++c) {
    int sum = 0;
    for (const int type : cuts_[c]) sum += stand.rest.counts[at(type)];
    master_.set_row(first_cut_row_ + static_cast<int>(c),
                    {.lower = static_cast<double>((sum + 1) / 2)});
  }
  set_pairs(stand.pairs);
  for (std::size_t p = 0; p < patterns_.size(); ++p) {
    const bool is_shut = !fits(patterns_[p], stand);
    if (is_shut == is_shut_[p]) continue;
    is_shut_[p] = is_shut;
    master_.set_bounds(first_pattern_ + static_cast<int>(p), 0, is_shut ? 0 : program::endless);
  }
  best_ = last_ = {};
}

Relaxation::Duals Relaxation::duals() const {
  const auto all = master_.duals();
  Duals d;
  for (std::size_t t = 0; t < instance_.types.size(); ++t) d.part.push_back(std::max(all[t], 0.0));
  for (const int row : bin_row_) d.bin.push_back(row >= 0 ? -all[at(row)] : 0);
  for (std::size_t c = 0; c < cuts_.size(); ++c)
    d.cut.push_back(std::max(all[at(first_cut_row_) + c], 0.0));
  for (std::size_t r = 0; r < pairs_.size(); ++r) d.pair.push_back(all[at(first_pair_row()) + r]);
  return d;
}

Prices Relaxation::prices_at(const Duals& duals) const {
  std::vector<std::pair<program::Triple, double>> cuts;
  for (std::size_t c = 0; c < cuts_.size(); ++c) {
    if (duals.cut[c] > 1e-9) cuts.emplace_back(cuts_[c], duals.cut[c]);
  }
  Prices prices = whole_prices(instance_, duals.part, duals.bin, cuts);
  for (std::size_t r = 0; r < pairs_.size(); ++r) {
    const PairRow& row = pairs_[r];
    const double sign = row.is_least ? 1 : -1;
    const std::int64_t worth = whole(sign * duals.pair[r], prices.scale);
    if (worth == 0) continue;
    prices.pairs.push_back({row.first, row.second, row.is_least ? worth : -worth, row.side});
  }
  return prices;
}

void Relaxation::set_centre(const Prices& prices) {
  const auto scale = static_cast<double>(prices.scale);
  centre_ = {};
  for (const std::int64_t p : prices.part) centre_.part.push_back(static_cast<double>(p) / scale);
  for (const std::int64_t p : prices.bin) centre_.bin.push_back(static_cast<double>(p) / scale);
  centre_.cut.assign(cuts_.size(), 0);
  for (const auto& [triple, price] : prices.cuts) {
    const auto c = std::find(cuts_.begin(), cuts_.end(), triple) - cuts_.begin();
    centre_.cut[static_cast<std::size_t>(c)] = static_cast<double>(price) / scale;
  }
  centre_.pair.assign(pairs_.size(), 0);
  for (const PairPrice& p : prices.pairs) {
    for (std::size_t r = 0; r < pairs_.size(); ++r) {
      if (pairs_[r].first == p.first && pairs_[r].second == p.second)
        centre_.pair[r] = static_cast<double>(p.worth) / scale;
    }
  }
}

// True when the prices prove that the target is out of reach.
bool Relaxation::consider(const Stand& stand, const Prices& prices, const Priced& priced) {
  asked_ = prices;
  held_ = priced.most;
  last_.reach = 0;
  last_.prices = mended(instance_, prices, stand.rest, priced.most);
  last_.worth = worth_of_all(last_.prices, stand.rest);
  if (best_.prices.part.empty() || last_.worth > best_.worth) {
    best_ = last_;
    set_centre(best_.prices);
  }
  return best_.bound() > stand.target;
}

// Adds what lowers the value at these duals.
int Relaxation::take(const std::vector<Found>& found, const Duals& duals) {
  int taken = 0;
  for (const Found& f : found) {
    const auto cost = static_cast<double>(instance_.bins[at(f.pattern.bin)].cost);
    double reduced = cost + duals.bin[at(f.pattern.bin)];
    for (const auto& [type, count] : f.pattern.parts) reduced -= count * duals.part[at(type)];
    for (std::size_t c = 0; c < cuts_.size(); ++c) {
      if (duals.cut[c] > 0) reduced -= duals.cut[c] * cut_count(cuts_[c], f.pattern);
    }
    for (std::size_t r = 0; r < pairs_.size(); ++r) {
      if (holds(f.pattern, pairs_[r].first) && holds(f.pattern, pairs_[r].second))
        reduced -= duals.pair[r];
    }
    if (reduced > -least_gain * static_cast<double>(instance_.dearest)) continue;
    add(f.pattern);
    ++taken;
  }
  return taken;
}

void Relaxation::read_solution() {
  value_ = master_.value();
  used_.clear();
  const auto x = master_.primal();
  for (std::size_t p = 0; p + at(first_pattern_) < x.size(); ++p) {
    const double times = x[at(first_pattern_) + p];
    if (times > used_at_all) used_.push_back({patterns_[p], times});
  }
  sticks_.clear();
  for (const int row : bin_row_) sticks_.push_back(row >= 0 ? master_.activity()[at(row)] : 0);
}

void Relaxation::purge() {
  const std::size_t rows = at(master_.rows());
  if (patterns_.size() < 4 * rows + 500) return;
  const auto reduced = master_.reduced();
  std::vector<std::pair<double, int>> idle;
  for (std::size_t p = 0; p < patterns_.size(); ++p) {
    const int column = first_pattern_ + static_cast<int>(p);
    if (!master_.is_basic(column)) idle.emplace_back(-reduced[at(column)], column);
  }
  std::sort(idle.begin(), idle.end());
  idle.resize(std::min(idle.size(), patterns_.size() - 2 * rows));
  std::vector<int> columns;
  for (const auto& [r, column] : idle) columns.push_back(column);
  std::sort(columns.begin(), columns.end());
  std::size_t next = 0, kept = 0;
  for (std::size_t p = 0; p < patterns_.size(); ++p) {
    if (next < columns.size() && columns[next] == first_pattern_ + static_cast<int>(p)) {
      ++next;
      continue;
    }
    if (kept != p) patterns_[kept] = std::move(patterns_[p]);
    is_shut_[kept++] = is_shut_[p];
  }
  patterns_.resize(kept);
  is_shut_.resize(kept);
  master_.remove_columns(columns);
}

// Whole bins: those of a plan together hold what all parts are worth.
bool Relaxation::is_out_of_reach(const Stand& stand) {
  if (instance_.bins.size() == 1) return false;
  last_.reach = least_reach(instance_, stand.rest, held_, worth_of_parts(asked_, stand.rest),
                            stand.target, spend_);
  best_.reach = std::max(best_.reach, last_.reach);
  return last_.reach > stand.target;
}

bool Relaxation::is_enough(const Stand& stand, Until until) const {
  const double slack = 1e-7 * static_cast<double>(instance_.dearest);
  if (until == Until::affordable) return value_ <= static_cast<double>(stand.target) + slack;
  if (until == Until::converged) return false;
  const auto bound = static_cast<double>(best_.bound());
  const auto steps = [&](double v) { return std::ceil(v / static_cast<double>(instance_.step)); };
  return steps(value_ - slack) <= steps(bound);
}

Generated Relaxation::round(const Stand& stand, Until until, bool& goes_on) {
  const auto start = std::chrono::steady_clock::now();
  const std::int64_t step = 8 * master_.rows() + static_cast<std::int64_t>(patterns_.size() / 4);
  const Status status = master_.solve([&] { return !spend_(50 * step); });
  counted_.in_master += seconds_since(start);
  counted_.pivots += master_.pivots();
  ++counted_.rounds;
  goes_on = false;
  if (status != Status::optimal) return Generated::stopped;
  purge();
  const Duals now = duals();
  value_ = master_.value();
  // The simplex holds what was added last for no gain, within its tolerance.
  const bool is_stalled = has_added_ && master_.pivots() == 0;
  has_added_ = false;
  const bool is_single = instance_.bins.size() == 1;
  const std::size_t most = is_single ? more_columns_a_round : columns_a_round;
  for (double weight = is_single ? light_smoothing : smoothing;;
       weight = weight > 0.2 ? weight - 0.25 : 0) {
    Duals at_point = now;
    const auto blend = [&](std::vector<double>& to, const std::vector<double>& centre) {
      for (std::size_t i = 0; i < to.size(); ++i) to[i] = weight * centre[i] + (1 - weight) * to[i];
    };
    if (weight > 0) {
      blend(at_point.part, centre_.part);
      blend(at_point.bin, centre_.bin);
      blend(at_point.cut, centre_.cut);
      blend(at_point.pair, centre_.pair);
    }
    const Prices prices = prices_at(at_point);
    const auto before = std::chrono::steady_clock::now();
    const Priced priced =
        price({instance_, prices, stand.rest, stand.waste, stand.groups, memory_}, most, spend_);
    counted_.in_pricing += seconds_since(before);
    if (!priced.is_whole) return Generated::stopped;
    if (consider(stand, prices, priced)) return Generated::above;
    const int taken = take(priced.found, now);
    if (taken > 0 && !is_stalled) break;
    if (weight <= 0) return Generated::converged;
  }
  has_added_ = true;
  if (is_enough(stand, until)) return Generated::enough;
  goes_on = true;
  return Generated::converged;
}

// Patterns to begin with, without a simplex: parts that the best patterns so far hold less often
// than is wanted become dearer than at the best prices, the others cheaper, and so on. The average
// of these patterns comes near to what is wanted (a subgradient method).
std::optional<Generated> Relaxation::begin(const Stand& stand) {
  const std::size_t types = instance_.types.size();
  const std::size_t most = first_share * types / first_rounds + 1;
  double wanted = 0;
  for (const int count : stand.rest.counts) wanted += count;
  std::vector<double> covered(types, 0.0);  // 1 a round: as often as wanted
  Duals duals = centre_;
  for (int round = 1; round <= first_rounds; ++round) {
    const Prices prices = prices_at(duals);
    const Query query{instance_, prices, stand.rest, stand.waste, stand.groups, memory_};
    if (needs_tree(query)) return std::nullopt;
    const Priced priced = price(query, most, spend_);
    if (!priced.is_whole) return Generated::stopped;
    if (consider(stand, prices, priced)) return Generated::above;
    std::vector<double> held(types, 0.0);
    double all = 0;
    for (const Found& f : priced.found) {
      add(f.pattern);
      for (const auto& [type, count] : f.pattern.parts) held[at(type)] += count, all += count;
    }
    for (std::size_t t = 0; t < types; ++t) {
      const double share = wanted / std::max(all, 1.0) / std::max(stand.rest.counts[t], 1);
      covered[t] += held[t] * share;
      duals.part[t] = centre_.part[t] * (1 + first_step * (1 - covered[t] / round));
    }
  }
  return std::nullopt;
}

Generated Relaxation::generate(const Stand& stand, Until until) {
  enter(stand);
  has_added_ = false;
  if (counted_.rounds == 0 && instance_.bins.size() == 1) {
    if (const auto known = begin(stand)) return *known;
  }
  Generated how = Generated::stopped;
  for (bool goes_on = true; goes_on;) how = round(stand, until, goes_on);
  if (how == Generated::converged || how == Generated::enough) {
    read_solution();
    if (is_out_of_reach(stand)) return Generated::above;
  }
  return how;
}

}  // namespace kw::cutting::lengths
