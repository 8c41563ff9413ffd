#include "aims/at_best.h"

#include <algorithm>
#include <cmath>

#include "aims/layouts.h"

namespace kw::cutting {
namespace {

// The most that a tick of an offcut can be worth.
double worth_a_tick(const Problem& problem) {
  if (problem.offcut_worths.empty()) return 1.0 / static_cast<double>(Length::ticks_per_mm);
  double most = 0;
  for (const OffcutWorth& step : problem.offcut_worths) {
    const Length from = std::max(step.from, problem.shortest_offcut);
    if (from <= Length()) continue;
    most = std::max(most,
                    static_cast<double>(step.worth.coins) / static_cast<double>(from.in_ticks()));
  }
  return most;
}

}  // namespace

// Each stick gives its parts' sizes and an offcut; what the sticks of a given cost measure together
// less the parts is the most that offcuts can measure.
std::optional<std::int64_t> most_kept(const Problem& problem, const Model& model,
                                      std::int64_t cost) {
  if (problem.shortest_offcut <= Length()) return 0;
  const double each = worth_a_tick(problem);
  double best_a_coin = 0, from_the_rack = 0;
  for (const Bar& bar : model.bars) {
    const double worth = each * static_cast<double>(bar.usable + model.margin);
    if (problem.stocks[static_cast<std::size_t>(bar.stock)].count) {
      const auto given = static_cast<double>(worth_kept(problem, bar.length));
      from_the_rack += std::max(0.0, worth - given) * bar.copies;
    } else if (bar.price <= 0) {
      return std::nullopt;
    } else {
      best_a_coin = std::max(best_a_coin, worth / static_cast<double>(bar.price));
    }
  }
  double parts = 0;
  for (const Kind& kind : model.kinds)
    parts += static_cast<double>(kind.size) * static_cast<double>(kind.count);
  const double most = best_a_coin * static_cast<double>(cost) + from_the_rack - each * parts;
  return std::max<std::int64_t>(0, static_cast<std::int64_t>(std::floor(most * (1 + 1e-9) + 1)));
}

// A stick holds no more kinds than its shortest ones fill; each kind is on some layout. And one
// layout alone makes each kind a whole number of times over.
int fewest_layouts(const Model& model) {
  if (model.kinds.empty()) return 0;
  std::int64_t usable = 0;
  for (const Bar& bar : model.bars) usable = std::max(usable, bar.capacity);
  std::vector<std::int64_t> sizes;
  for (const Kind& kind : model.kinds) sizes.push_back(kind.size);
  std::sort(sizes.begin(), sizes.end());
  std::size_t most = 0;
  for (std::int64_t used = 0; most < sizes.size() && used + sizes[most] <= usable; ++most)
    used += sizes[most];
  most = std::max<std::size_t>(most, 1);
  return static_cast<int>((sizes.size() + most - 1) / most);
}

}  // namespace kw::cutting
