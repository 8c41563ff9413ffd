#include "solution.h"

#include <utility>

namespace kw::cutting {
namespace {

// Of the stick's length, what is not kept.
std::int64_t lost_on(const Model& model, const Stick& stick) {
  const std::int64_t offcut = offcut_of(model, stick);
  const bool is_kept = model.shortest_offcut > 0 && offcut >= model.shortest_offcut;
  return bar_of(model, stick).length - (is_kept ? offcut : 0);
}

}  // namespace

Supply supply_of(const Model& model) {
  Supply supply;
  for (const Kind& kind : model.kinds) supply.kinds.push_back(kind.count);
  for (const Bar& bar : model.bars) supply.bars.push_back(bar.copies);
  return supply;
}

Score score_of(const Model& model, const std::vector<Stick>& sticks,
               const std::vector<int>& missing) {
  Score score;
  const auto longest = static_cast<double>(model.bars.front().usable);
  for (const Stick& stick : sticks) {
    const double room = static_cast<double>(room_on(model, stick)) / longest;
    score.cost += bar_of(model, stick).price;
    score.lost += lost_on(model, stick);
    score.spread -= room * room;
  }
  for (std::size_t k = 0; k < missing.size(); ++k) {
    score.missing += model.kinds[k].length * missing[k];
  }
  return score;
}

void downgrade(const Model& model, Solution& solution) {
  for (Stick& stick : solution.sticks) {
    ++solution.left.bars[static_cast<std::size_t>(stick.bar)];
    auto rank = std::pair(bar_of(model, stick).price, lost_on(model, stick));
    for (int b = 0; b < static_cast<int>(model.bars.size()); ++b) {
      const Bar& bar = model.bars[static_cast<std::size_t>(b)];
      if (solution.left.bars[static_cast<std::size_t>(b)] == 0 || bar.price > rank.first) continue;
      auto moved = on_bar(model, stick, b);
      if (!moved) continue;
      const auto now = std::pair(bar.price, lost_on(model, *moved));
      if (now < rank) rank = now, stick = std::move(*moved);
    }
    --solution.left.bars[static_cast<std::size_t>(stick.bar)];
  }
}

}  // namespace kw::cutting
