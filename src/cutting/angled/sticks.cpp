#include "angled/sticks.h"

#include <algorithm>
#include <map>

namespace kw::cutting::angled {

std::vector<Pattern> patterns_of(const Solution& solution) {
  std::vector<Pattern> patterns;
  for (const Stick& stick : solution.sticks) {
    std::map<int, int> counts;
    for (const Cut& cut : stick.cuts) ++counts[cut.kind];
    patterns.push_back({stick.bar, {counts.begin(), counts.end()}});
  }
  return patterns;
}

std::optional<Solution> solution_of(const Model& model, Rows& rows, Stretches& stretches,
                                    const Uses& uses) {
  Solution solution{{}, supply_of(model)};
  for (const auto& [pattern, times] : uses) {
    for (int n = 0; n < times; ++n) {
      PartCounts parts;
      for (const auto& [kind, count] : pattern.parts) {
        int& left = solution.left.kinds[at(kind)];
        const int made = std::min(left, count);
        left -= made;
        if (made > 0) parts.emplace_back(kind, made);
      }
      if (parts.empty()) continue;
      const bool has_zones = !model.bars[at(pattern.bar)].zones.empty();
      Stick stick{pattern.bar, 0,
                  has_zones ? stretches.order_of(pattern.bar, parts) : rows.order_of(parts)};
      stick.used = length_of(model, stick);
      if (stick.cuts.empty() || room_on(model, stick) < 0) return std::nullopt;
      if (--solution.left.bars[at(pattern.bar)] < 0) return std::nullopt;
      solution.sticks.push_back(std::move(stick));
    }
  }
  if (!is_complete(solution)) return std::nullopt;
  downgrade(model, solution);
  return solution;
}

bool is_complete(const Solution& solution) {
  return std::all_of(solution.left.kinds.begin(), solution.left.kinds.end(),
                     [](int n) { return n == 0; });
}

std::int64_t cost_of(const Model& model, const Solution& solution) {
  std::int64_t cost = 0;
  for (const Stick& stick : solution.sticks) cost += bar_of(model, stick).price;
  return cost;
}

}  // namespace kw::cutting::angled
