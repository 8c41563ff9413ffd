#include "aims/pursue.h"

#include <algorithm>
#include <limits>
#include <map>
#include <tuple>

#include "aims/at_best.h"
#include "aims/layouts.h"
#include "aims/tradeoff.h"

namespace kw::cutting {
namespace {

constexpr std::size_t most_layouts_listed = 20'000;
constexpr std::size_t most_in_a_group = 3'000;
constexpr int most_counted = 24;  // layouts of one plan that the exact way keeps apart

// Sticks of one layout together.
struct Group {
  Layout layout = {};
  int times = 0;
};

// Groups of one layout put together.
std::vector<Group> merged(const std::vector<Group>& groups) {
  std::map<std::pair<int, PartCounts>, std::size_t> places;
  std::vector<Group> all;
  for (const Group& g : groups) {
    const auto [at, is_new] = places.try_emplace({g.layout.stick.bar, g.layout.counts}, all.size());
    if (is_new) all.push_back({g.layout, 0});
    all[at->second].times += g.times;
  }
  return all;
}

std::vector<Group> groups_of(const Problem& problem, const Model& model,
                             const std::vector<Stick>& sticks) {
  std::vector<Group> groups;
  for (const Stick& stick : sticks) groups.push_back({layout_of(problem, model, stick), 1});
  return merged(groups);
}

// Merit with the number of layouts in its place: after what is kept, before what is lost.
using Rank = std::tuple<std::int64_t, std::int64_t, std::size_t, std::int64_t>;

Rank rank_of(const std::vector<Group>& groups) {
  std::int64_t cost = 0, kept = 0, lost = 0;
  for (const Group& g : groups) {
    cost += g.layout.price * g.times;
    kept -= g.layout.kept * g.times;
    lost += g.layout.lost * g.times;
  }
  return {cost, kept, groups.size(), lost};
}

std::vector<Group> groups_of(const std::vector<Layout>& layouts, const LayoutChoice& choice) {
  std::vector<Group> groups;
  for (const Use& use : choice.uses) {
    groups.push_back({layouts[static_cast<std::size_t>(use.layout)], use.times});
  }
  return groups;
}

Pursued pursued(const std::vector<Group>& groups) {
  const auto [cost, kept, layouts, lost] = rank_of(groups);
  Pursued p{.cost = cost, .kept = -kept, .layouts = static_cast<int>(layouts)};
  for (const Group& g : groups) {
    for (int i = 0; i < g.times; ++i) p.sticks.push_back(g.layout.stick);
  }
  return p;
}

std::vector<int> parts_in(const Model& model, const std::vector<Group>& groups) {
  std::vector<int> parts(model.kinds.size());
  for (const Group& g : groups) {
    for (const auto& [kind, count] : g.layout.counts)
      parts[static_cast<std::size_t>(kind)] += count * g.times;
  }
  return parts;
}

class Pursuit {
 public:
  Pursuit(const Problem& problem, const Model& model, const PursuitLimits& limits)
      : problem_(problem),
        model_(model),
        hold_(limits.hold),
        units_(limits.units),
        random_(limits.random),
        work_(limits.work) {}

  Pursued run(const std::vector<Stick>& sticks) {
    groups_ = groups_of(problem_, model_, sticks);
    work_.grant(units_ / 2);
    if (auto exact = exactly(); exact) return std::move(*exact);
    work_.grant(units_ / 2);
    by_groups();
    Pursued result = pursued(groups_);
    result.kept_at_most = most_kept(problem_, model_, result.cost);
    result.layouts_at_least = fewest_layouts(model_);
    return result;
  }

 private:
  [[nodiscard]] std::vector<int> bars_left() const {
    std::vector<int> bars;
    for (const Bar& bar : model_.bars) bars.push_back(bar.copies);
    for (const Group& g : groups_) bars[static_cast<std::size_t>(g.layout.stick.bar)] -= g.times;
    for (std::size_t b = 0; b < bars.size(); ++b) {
      if (!problem_.stocks[static_cast<std::size_t>(model_.bars[b].stock)].count)
        bars[b] = model_.parts;
    }
    return bars;
  }

  // No plan within the ceiling has more sticks.
  [[nodiscard]] int most_sticks(std::int64_t ceiling) const {
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    for (const Bar& bar : model_.bars) least = std::min(least, bar.price);
    if (least <= 0) return model_.parts;
    return static_cast<int>(std::min<std::int64_t>(model_.parts, ceiling / least));
  }

  std::optional<Pursued> exactly() {
    const std::int64_t cost = std::get<0>(rank_of(groups_));
    Wanted wanted{.ceiling = cost + hold_};
    for (const Kind& kind : model_.kinds) wanted.kinds.push_back(kind.count);
    for (const Bar& bar : model_.bars) wanted.bars.push_back(bar.copies);
    const int sticks = most_sticks(wanted.ceiling);
    wanted.most_layouts = std::min(sticks, most_counted);
    const Layouts layouts =
        layouts_of(problem_, model_, wanted.kinds, wanted.bars, most_layouts_listed, work_);
    const Tradeoff trade = trade_off(model_, layouts.all, wanted, work_);
    const std::size_t best = at_best(trade);
    if (best == 0) return std::nullopt;
    const auto found = groups_of(layouts.all, *trade.by_layouts[best]);
    const bool is_all = layouts.is_complete && sticks <= most_counted;
    // Where not every order of angled parts was tried, what came in may be better.
    if (is_all || rank_of(found) < rank_of(groups_)) groups_ = found;
    Pursued result = pursued(groups_);
    result.is_cheapest = is_all;
    result.kept_at_most =
        is_all ? std::optional(result.kept) : most_kept(problem_, model_, result.cost);
    result.layouts_at_least = is_all ? result.layouts : fewest_layouts(model_);
    add_others(layouts.all, trade, result);
    return result;
  }

  // The number of layouts of the best choice; 0 where there is none.
  static std::size_t at_best(const Tradeoff& trade) {
    std::size_t best = 0;
    for (std::size_t n = 1; n < trade.by_layouts.size(); ++n) {
      const auto& choice = trade.by_layouts[n];
      if (!choice) continue;
      const auto key = [&](std::size_t i) {
        const Merit& m = trade.by_layouts[i]->merit;
        return std::pair(m.cost, m.kept);
      };
      if (best == 0 || key(n) < key(best)) best = n;
    }
    return best;
  }

  // Fewer layouts for more money or less kept, nothing that another one beats in both.
  void add_others(const std::vector<Layout>& layouts, const Tradeoff& trade, Pursued& result) {
    std::optional<Merit> least;
    for (std::size_t n = 1; n < static_cast<std::size_t>(result.layouts); ++n) {
      const auto& choice = trade.by_layouts[n];
      if (!choice || (least && *least <= choice->merit)) continue;
      least = choice->merit;
      Pursued other = pursued(groups_of(layouts, *choice));
      other.layouts_at_least = result.is_cheapest ? other.layouts : fewest_layouts(model_);
      result.others.push_back(std::move(other));
    }
    std::reverse(result.others.begin(), result.others.end());
  }

  // A few layouts' sticks emptied and laid out anew, each time in the best way; over and over.
  void by_groups() {
    for (int idle = 0; idle < 200 && groups_.size() > 1 && !work_.is_over(); ++idle) {
      const std::size_t size =
          std::min<std::size_t>(groups_.size(), static_cast<std::size_t>(2 + idle % 3));
      for (std::size_t i = 0; i < size; ++i) {
        const auto other = static_cast<std::size_t>(random_.under(groups_.size() - i));
        std::swap(groups_[groups_.size() - 1 - i], groups_[other]);
      }
      if (anew(size)) idle = 0;
    }
  }

  bool anew(std::size_t size) {
    const auto from = groups_.end() - static_cast<std::ptrdiff_t>(size);
    const std::vector<Group> old(from, groups_.end());
    std::vector<Group> rest(groups_.begin(), from);
    groups_.swap(rest);
    Wanted wanted{.kinds = parts_in(model_, old),
                  .bars = bars_left(),
                  .ceiling = std::get<0>(rank_of(old)),
                  .most_layouts = 8};
    groups_.swap(rest);
    const Layouts layouts =
        layouts_of(problem_, model_, wanted.kinds, wanted.bars, most_in_a_group, work_);
    const Tradeoff trade = trade_off(model_, layouts.all, wanted, work_);
    const std::size_t best = at_best(trade);
    if (best == 0) return false;
    std::vector<Group> now = rest;
    for (Group& g : groups_of(layouts.all, *trade.by_layouts[best])) now.push_back(std::move(g));
    now = merged(now);
    work_.spend(static_cast<std::int64_t>(now.size()) * 256);
    if (rank_of(groups_) <= rank_of(now)) return false;
    groups_ = std::move(now);
    return true;
  }

  const Problem& problem_;
  const Model& model_;
  std::int64_t hold_ = 0, units_ = 0;
  Random& random_;
  Work& work_;
  std::vector<Group> groups_ = {};
};

}  // namespace

Pursued pursue(const Problem& problem, const Model& model, const std::vector<Stick>& sticks,
               const PursuitLimits& limits) {
  return Pursuit(problem, model, limits).run(sticks);
}

}  // namespace kw::cutting
