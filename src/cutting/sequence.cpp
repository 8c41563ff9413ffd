#include "kerfwright/cutting/sequence.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <tuple>

#include "runs.h"

namespace kw {
namespace {

using cutting::fewest_runs;
using cutting::Row;
using cutting::Runs;

// What a stop is set for. Turning and flipping make (l, r) to (r, l), (-l, -r) and (-r, -l).
struct Stop {
  Length length = {};
  double near_slope = 0, far_slope = 0;
  friend auto operator<=>(const Stop&, const Stop&) = default;
};

Stop stop_of(const Demand& d) {
  const double l = d.left_slope, r = d.right_slope;
  const std::array<std::pair<double, double>, 4> ways = {{{l, r}, {r, l}, {-l, -r}, {-r, -l}}};
  const auto best = *std::max_element(ways.begin(), ways.end());
  return {d.length, best.first + 0.0, best.second + 0.0};  // no minus zero
}

class Sequencing {
 public:
  Sequencing(const Problem& problem, std::vector<SawnStick>& sticks, const HoldRules& rules,
             const SpendWork& spend)
      : problem_(problem), sticks_(sticks), rules_(rules), spend_(spend) {
    for (const Demand& d : problem.demands) of_demand_.push_back(stop_of(d));
  }

  Sequence run() {
    name_stops();
    const Runs runs = fewest_runs(rows(), spend_);
    Sequence sequence{.settings_at_least = runs.at_least + only_free(runs),
                      .kinds_of_stop = static_cast<int>(stops_.size())};
    const std::vector<int> order = order_of(runs);
    order_free_sticks(order);
    saw(order, sequence);
    return sequence;
  }

 private:
  // The stops in use, those for parts too short to hold first, then long before short.
  void name_stops() {
    for (const SawnStick& stick : sticks_) {
      for (const Placed& p : stick.parts) stops_.push_back(of_demand_[at(p.demand)]);
    }
    std::sort(stops_.begin(), stops_.end(), [&](const Stop& a, const Stop& b) {
      const bool is_a_long = over_all(a) >= rules_.shortest_held;
      const bool is_b_long = over_all(b) >= rules_.shortest_held;
      return std::tuple(is_a_long, b.length, a.near_slope, a.far_slope) <
             std::tuple(is_b_long, a.length, b.near_slope, b.far_slope);
    });
    stops_.erase(std::unique(stops_.begin(), stops_.end()), stops_.end());
    for (std::size_t i = 0; i < stops_.size(); ++i) number_[stops_[i]] = static_cast<int>(i);
  }

  [[nodiscard]] int number(const Placed& placed) const {
    return number_.at(of_demand_[at(placed.demand)]);
  }
  // Its parts may change places.
  [[nodiscard]] bool is_free(const SawnStick& stick) const {
    if (!problem_.stocks[at(stick.stock)].faults.empty()) return false;
    return std::all_of(stick.parts.begin(), stick.parts.end(), [&](const Placed& p) {
      const Stop& stop = of_demand_[at(p.demand)];
      return stop.near_slope == 0 && stop.far_slope == 0;
    });
  }

  [[nodiscard]] std::vector<Row> rows() const {
    std::vector<Row> rows;
    for (const SawnStick& stick : sticks_) {
      if (is_free(stick)) continue;
      Row row;
      for (const Placed& p : stick.parts) row.push_back(number(p));
      rows.push_back(std::move(row));
    }
    return rows;
  }

  [[nodiscard]] int only_free(const Runs& runs) const {
    std::vector<bool> is_run(stops_.size());
    for (const int s : runs.order) is_run[at(s)] = true;
    return static_cast<int>(std::count(is_run.begin(), is_run.end(), false));
  }

  // Stops of such sticks alone fit in anywhere: those of short parts first, the rest behind.
  [[nodiscard]] std::vector<int> order_of(const Runs& runs) const {
    std::vector<bool> is_run(stops_.size());
    for (const int s : runs.order) is_run[at(s)] = true;
    std::vector<int> order, behind;
    for (std::size_t s = 0; s < stops_.size(); ++s) {
      if (is_run[s]) continue;
      const bool is_short = over_all(stops_[s]) < rules_.shortest_held;
      (is_short ? order : behind).push_back(static_cast<int>(s));
    }
    order.insert(order.end(), runs.order.begin(), runs.order.end());
    order.insert(order.end(), behind.begin(), behind.end());
    return order;
  }

  void order_free_sticks(const std::vector<int>& order) {
    std::vector<int> place(stops_.size(), -1);
    for (std::size_t i = order.size(); i-- > 0;) place[at(order[i])] = static_cast<int>(i);
    for (SawnStick& stick : sticks_) {
      if (stick.parts.empty() || !is_free(stick)) continue;
      Length from = stick.parts.front().from;
      std::stable_sort(stick.parts.begin(), stick.parts.end(),
                       [&](const Placed& a, const Placed& b) {
                         return place[at(number(a))] < place[at(number(b))];
                       });
      for (Placed& p : stick.parts) {
        p.from = from;
        from += problem_.demands[at(p.demand)].length + problem_.saw.kerf;
      }
    }
  }

  void saw(const std::vector<int>& order, Sequence& sequence) const {
    std::vector<std::pair<std::size_t, std::size_t>> left;    // parts [first, second) of each stick
    std::vector<std::set<std::size_t>> shown(stops_.size());  // sticks with it at an end
    const auto show = [&](std::size_t i) {
      const auto& [first, second] = left[i];
      if (first == second) return;
      shown[at(number(sticks_[i].parts[first]))].insert(i);
      shown[at(number(sticks_[i].parts[second - 1]))].insert(i);
    };
    for (std::size_t i = 0; i < sticks_.size(); ++i) {
      left.emplace_back(0, sticks_[i].parts.size());
      show(i);
    }
    for (const int s : order) {
      const Stop& stop = stops_[at(s)];
      StopSetting setting{over_all(stop), stop.near_slope, stop.far_slope, {}};
      const std::set<std::size_t> now = std::move(shown[at(s)]);
      shown[at(s)].clear();
      for (const std::size_t i : now) {
        take_off(i, s, left[i], setting);
        show(i);
      }
      for (const SawnOff& off : setting.cuts) sequence.hard_to_hold += off.is_hard_to_hold ? 1 : 0;
      sequence.settings.push_back(std::move(setting));
    }
    for (std::size_t i = 1; i < sequence.settings.size(); ++i) {
      const StopSetting &a = sequence.settings[i - 1], &b = sequence.settings[i];
      const auto angles = [](const StopSetting& x) {
        return std::minmax({std::abs(x.near_slope), std::abs(x.far_slope)});
      };
      if (angles(a) != angles(b)) ++sequence.angle_changes;
    }
  }

  void take_off(std::size_t stick, int stop, std::pair<std::size_t, std::size_t>& left,
                StopSetting& setting) const {
    const auto& parts = sticks_[stick].parts;
    while (left.first < left.second && number(parts[left.first]) == stop) {
      setting.cuts.push_back(off(stick, left.first, left, true));
      ++left.first;
    }
    while (left.first < left.second && number(parts[left.second - 1]) == stop) {
      setting.cuts.push_back(off(stick, left.second - 1, left, false));
      --left.second;
    }
  }

  [[nodiscard]] SawnOff off(std::size_t stick, std::size_t part,
                            std::pair<std::size_t, std::size_t> left, bool is_from_left) const {
    const SawnStick& s = sticks_[stick];
    const Placed& p = s.parts[part];
    const Demand& d = problem_.demands[at(p.demand)];
    const Length end = left.second < s.parts.size() ? s.parts[left.second].from
                                                    : problem_.stocks[at(s.stock)].length;
    const Length begin = left.first == 0 ? Length() : s.parts[left.first].from;
    const Length rest = is_from_left ? end - (p.from + d.length) : p.from - begin;
    SawnOff off{static_cast<int>(stick), static_cast<int>(part), is_from_left,
                std::max(rest, Length()), false};
    off.is_hard_to_hold = over_all(of_demand_[at(p.demand)]) < rules_.shortest_held &&
                          off.left_over < rules_.shortest_held;
    return off;
  }

  [[nodiscard]] Length over_all(const Stop& stop) const {
    const auto half = static_cast<double>(problem_.width.in_ticks()) / 2;
    const double tips = half * (std::abs(stop.near_slope) + std::abs(stop.far_slope));
    return stop.length + Length::ticks(std::llround(tips));
  }

  static std::size_t at(int index) { return static_cast<std::size_t>(index); }

  const Problem& problem_;
  std::vector<SawnStick>& sticks_;
  const HoldRules& rules_;
  const SpendWork& spend_;
  std::vector<Stop> of_demand_ = {};
  std::vector<Stop> stops_ = {};
  std::map<Stop, int> number_ = {};
};

}  // namespace

Sequence sequence_of(const Problem& problem, std::vector<SawnStick>& sticks, const HoldRules& rules,
                     const SpendWork& spend) {
  return Sequencing(problem, sticks, rules, spend).run();
}

}  // namespace kw
