#include "lengths/settle.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "lengths/dive.h"
#include "program/cover.h"
#include "program/triples.h"
#include "work.h"

namespace kw::cutting::lengths {
namespace {

using program::Wide;

constexpr std::size_t least_listed = 20'000, most_listed = 200'000;
constexpr std::size_t short_list = 1'500;
constexpr std::int64_t short_cover_nodes = 60'000, root_cover_nodes = 3'000, cover_nodes = 300;
constexpr int root_rounds = 30, node_rounds = 2;
constexpr std::size_t cuts_a_round = 25, all_cuts = 150;
constexpr int cuts_each = 6;
// After so many leaves the search begins anew with luck, the next time after half as many more: an
// early wrong pair would else keep it from a plan for ever. Patterns and cuts are kept.
constexpr int first_leaves = 20;
constexpr double least_luck = 0.3;  // share of a pair's score that luck leaves
constexpr double whole_within = 1e-6, sticks_whole_within = 1e-5;

class Settling {
 public:
  Settling(const Instance& instance, std::int64_t bound, const Spend& spend, Relaxation& relaxation)
      : instance_(instance), bound_(bound), spend_(spend), relaxation_(relaxation) {}

  Settled run(const Stand& stand) {
    const bool begins_anew = instance_.bins.size() == 1;
    for (int leaves = begins_anew ? first_leaves : std::numeric_limits<int>::max();;
         leaves = 3 * leaves / 2) {
      Stand node = stand;
      leaves_left_ = leaves;
      const bool is_closed = close(node);
      if (is_closed || leaves_left_ >= 0) return {std::move(plan_), is_closed && !plan_};
      has_luck_ = true;
    }
  }

 private:
  // True when all is known of the node: it has no plan, or the plan is there.
  bool close(Stand& stand) {
    if (const auto known = work_on(stand)) return *known && (plan_ || --leaves_left_ >= 0);
    if (is_stopped_) return false;
    if (const auto bin = best_bin()) return split_sticks(stand, *bin);
    const auto pair = best_pair();
    if (!pair || is_stopped_) return false;
    Stand joined = stand;
    if (!join(joined, *pair)) {
      joined.pairs.push_back(*pair);
      joined.pairs.back().is_least = true;
      ++joined.pairs.back().side;
    }
    const bool is_closed = close(joined);
    if (!is_closed || plan_) return is_closed;
    stand.pairs.push_back(*pair);
    return close(stand);
  }

  // Nothing of types is decided.
  static bool is_whole(const Stand& stand) { return stand.pairs.empty() && stand.groups.empty(); }

  // Two single parts that lie on one bin are as good as one part. False: there are more of a type.
  static bool join(Stand& stand, const PairRow& pair) {
    std::vector<int> members;
    for (const int type : {pair.first, pair.second}) {
      if (stand.rest.counts[at(type)] != 1) return false;
    }
    for (const int type : {pair.first, pair.second}) {
      const auto with = std::find_if(stand.groups.begin(), stand.groups.end(), [&](const auto& g) {
        return std::find(g.begin(), g.end(), type) != g.end();
      });
      if (with == stand.groups.end()) {
        members.push_back(type);
      } else {
        members.insert(members.end(), with->begin(), with->end());
        stand.groups.erase(with);
      }
    }
    std::sort(members.begin(), members.end());
    stand.groups.push_back(std::move(members));
    return true;
  }

  // On how many bins of a kind are used: that settles what they cost, so it comes before what they
  // hold.
  bool split_sticks(const Stand& stand, int bin) {
    const auto down = static_cast<int>(std::floor(relaxation_.sticks()[at(bin)]));
    for (const bool is_more : {true, false}) {
      Stand part = stand;
      if (is_more) {
        part.rest.least[at(bin)] = down + 1;
      } else {
        part.rest.copies[at(bin)] = down;
        part.rest.is_limited[at(bin)] = true;
      }
      const bool is_closed = close(part);
      if (!is_closed || plan_) return is_closed;
    }
    return true;
  }

  // The kind of which the relaxation takes nearest to a half more than a whole number.
  [[nodiscard]] std::optional<int> best_bin() const {
    if (instance_.bins.size() == 1) return std::nullopt;
    std::optional<int> best;
    double most = sticks_whole_within;
    for (int b = 0; b < static_cast<int>(relaxation_.sticks().size()); ++b) {
      const double x = relaxation_.sticks()[at(b)], part = x - std::floor(x);
      if (std::min(part, 1 - part) <= most) continue;
      most = std::min(part, 1 - part);
      best = b;
    }
    return best;
  }

  bool try_dive(const Stand& stand) {
    Dived dived = dive(instance_, stand, {.steps = 10'000}, relaxation_);
    if (dived.is_stopped) is_stopped_ = true;
    plan_ = std::move(dived.plan);
    return plan_.has_value();
  }

  // Relaxation, cuts and lists; none when the node has to be split.
  std::optional<bool> work_on(const Stand& stand) {
    const bool is_root = is_whole(stand), has_stocks = instance_.bins.size() > 1;
    for (int round = 0;; ++round) {
      const Generated how =
          relaxation_.generate(stand, has_stocks ? Until::converged : Until::affordable);
      if (how == Generated::stopped) return is_stopped_ = true, false;
      if (how == Generated::above) return true;
      if (accept_whole(stand)) return true;
      if (best_bin()) return std::nullopt;
      if (has_stocks && is_root && round == 0) {
        if (try_dive(stand)) return true;
        // Back to where the dive began.
        if (is_stopped_ || relaxation_.generate(stand, Until::converged) == Generated::stopped)
          return is_stopped_ = true, false;
      }
      if (round == (is_root ? root_rounds : node_rounds)) break;
      if (!has_hard_list_ || !is_root) {
        if (const auto known = by_list(stand, least_listed)) return *known;
      }
      if (is_stopped_) return false;
      if (!add_cuts(stand)) break;
    }
    if (is_root && !has_hard_list_) return by_list(stand, most_listed);
    return std::nullopt;
  }

  bool accept_whole(const Stand& stand) {
    std::vector<Laid> laid;
    std::int64_t cost = 0;
    std::vector<std::int64_t> made(stand.rest.counts.size());
    for (const Use& u : relaxation_.used()) {
      const double times = std::round(u.times);
      if (std::abs(u.times - times) > whole_within) return false;
      if (times < 1) continue;
      laid.push_back({u.pattern, static_cast<int>(times)});
      cost += laid.back().times * instance_.bins[at(u.pattern.bin)].cost;
      for (const auto& [type, count] : u.pattern.parts) made[at(type)] += count * laid.back().times;
    }
    for (std::size_t t = 0; t < made.size(); ++t) {
      if (made[t] < stand.rest.counts[t]) return false;
    }
    if (cost > stand.target) return false;
    plan_ = std::move(laid);
    return true;
  }

  bool add_cuts(const Stand& stand) {
    if (relaxation_.cuts() + cuts_a_round > all_cuts) return false;
    std::vector<program::Used> used;
    for (const Use& u : relaxation_.used()) {
      used.push_back({{}, u.times});
      for (const auto& [type, count] : u.pattern.parts) used.back().parts.emplace_back(type, count);
    }
    const std::vector<std::int64_t> sides(stand.rest.counts.begin(), stand.rest.counts.end());
    const auto cuts = program::violated_triples(sides, used, cuts_a_round, cuts_each);
    std::vector<program::Triple> rows;
    for (const auto& cut : cuts) rows.push_back(cut.rows);
    relaxation_.add_cuts(rows);
    return !cuts.empty();
  }

  // All patterns that a plan of this node can hold, if they are not too many.
  std::optional<bool> by_list(const Stand& stand, std::size_t most) {
    const Generated how = relaxation_.generate(stand, Until::converged);
    if (how == Generated::stopped) return is_stopped_ = true, false;
    if (how == Generated::above || accept_whole(stand)) return true;
    const Relaxation::Proved& proved = relaxation_.last();
    const Wide gap = static_cast<Wide>(stand.target) * proved.prices.scale - proved.worth;
    const auto slack = static_cast<std::int64_t>(std::max<Wide>(gap, 0));
    const Listed listed = list_patterns(
        {instance_, proved.prices, stand.rest, stand.waste, stand.groups, relaxation_.memory()},
        slack, most, spend_);
    if (!spend_(0)) return is_stopped_ = true, false;
    if (!listed.is_whole) return std::nullopt;
    const bool is_short = listed.patterns.size() <= short_list;
    const std::int64_t root_nodes = is_short ? short_cover_nodes : root_cover_nodes;
    return by_cover(stand, listed.patterns, is_whole(stand) ? root_nodes : cover_nodes);
  }

  std::optional<bool> by_cover(const Stand& stand, const std::vector<Pattern>& patterns,
                               std::int64_t most_nodes) {
    program::Pool pool;
    for (const int count : stand.rest.counts) pool.rows.push_back({.lower = count});
    const int first = static_cast<int>(pool.rows.size());
    for (const Bin& bin : instance_.bins) {
      pool.rows.push_back({});
      if (bin.is_scarce) pool.rows.back().upper = bin.copies;
    }
    for (const Pattern& p : patterns) {
      program::PoolColumn column{instance_.bins[at(p.bin)].cost, {}, {}};
      for (const auto& [type, count] : p.parts) column.parts.push_back({type, count});
      if (instance_.bins.size() > 1 || instance_.bins.front().is_scarce)
        column.parts.push_back({first + p.bin, 1});
      pool.columns.push_back(std::move(column));
    }
    const program::Cover found = program::cover(
        pool,
        {.below = stand.target + 1, .enough = bound_, .spend = spend_, .most_nodes = most_nodes});
    if (!spend_(0)) is_stopped_ = true;
    if (found.counts) {
      plan_.emplace();
      for (std::size_t j = 0; j < patterns.size(); ++j) {
        const auto times = static_cast<int>((*found.counts)[j]);
        if (times > 0) plan_->push_back({patterns[j], times});
      }
      return true;
    }
    if (found.is_complete) return true;
    has_hard_list_ = true;
    return std::nullopt;
  }

  // Two types that patterns hold together neither always nor never: near a half, and long.
  std::optional<PairRow> best_pair() {
    std::map<std::pair<int, int>, double> shared;
    for (const Use& u : relaxation_.used()) {
      const auto& parts = u.pattern.parts;
      for (std::size_t a = 0; a < parts.size(); ++a) {
        for (std::size_t b = a + 1; b < parts.size(); ++b)
          shared[{parts[a].first, parts[b].first}] += u.times;
      }
    }
    std::optional<PairRow> best;
    double best_score = 0;
    for (const auto& [pair, times] : shared) {
      const double part = times - std::floor(times);
      if (std::min(part, 1 - part) < whole_within) continue;
      const auto length = static_cast<double>(instance_.types[at(pair.first)].size +
                                              instance_.types[at(pair.second)].size);
      const double luck = has_luck_ ? random_.between(least_luck, 1) : 1;
      const double score = std::min(part, 1 - part) * length * luck;
      if (score <= best_score) continue;
      best_score = score;
      best = PairRow{pair.first, pair.second, false, static_cast<int>(std::floor(times))};
    }
    return best;
  }

  const Instance& instance_;
  std::int64_t bound_ = 0;
  const Spend& spend_;
  Relaxation& relaxation_;
  std::optional<std::vector<Laid>> plan_ = {};
  bool has_hard_list_ = false;  // short, but its cover took too long: splitting helps more
  bool is_stopped_ = false;
  int leaves_left_ = 0;
  bool has_luck_ = false;
  Random random_{1};
};

}  // namespace

Settled settle(const Instance& instance, const Stand& stand, std::int64_t bound, const Spend& spend,
               Relaxation& relaxation) {
  return Settling(instance, bound, spend, relaxation).run(stand);
}

}  // namespace kw::cutting::lengths
