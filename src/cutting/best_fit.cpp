#include "best_fit.h"

#include <optional>
#include <set>
#include <tuple>
#include <utility>

namespace kw::cutting {
namespace {

constexpr int most_tried = 12;  // sticks tried for a part with angled ends

class BestFit {
 public:
  BestFit(const Model& model, Begin begin, Solution& solution)
      : model_(model), begin_(begin), solution_(solution) {
    for (std::size_t s = 0; s < solution.sticks.size(); ++s) file(s);
  }

  void place_all(int kind) {
    int& left = solution_.left.kinds[static_cast<std::size_t>(kind)];
    while (left > 0 && (place(kind) || place_on_new(kind))) --left;
  }

 private:
  void file(std::size_t s) { by_room_.insert({room_on(model_, solution_.sticks[s]), s}); }

  // What a part takes on a begun stick: exactly so when square, about so when angled.
  [[nodiscard]] std::int64_t need(int kind) const {
    return model_.kinds[static_cast<std::size_t>(kind)].size;
  }

  bool place(int kind) {
    auto at = by_room_.lower_bound({need(kind), 0});
    for (int tried = 0; at != by_room_.end() && tried < most_tried; ++at, ++tried) {
      const std::size_t s = at->second;
      if (!insert(model_, solution_.sticks[s], kind)) continue;
      by_room_.erase(at);
      file(s);
      return true;
    }
    return false;
  }

  bool place_on_new(int kind) {
    std::optional<Stick> best;
    std::tuple<double, std::int64_t> best_rank = {};
    for (int b = 0; b < static_cast<int>(model_.bars.size()); ++b) {
      if (solution_.left.bars[static_cast<std::size_t>(b)] == 0) continue;
      const auto rank = rank_of(model_.bars[static_cast<std::size_t>(b)]);
      if (best && best_rank <= rank) continue;
      Stick stick{b, 0, {}};
      if (!insert(model_, stick, kind)) continue;
      best = std::move(stick);
      best_rank = rank;
    }
    if (!best) return false;
    --solution_.left.bars[static_cast<std::size_t>(best->bar)];
    solution_.sticks.push_back(*std::move(best));
    file(solution_.sticks.size() - 1);
    return true;
  }

  // Smaller is sooner.
  [[nodiscard]] std::tuple<double, std::int64_t> rank_of(const Bar& bar) const {
    const auto price = static_cast<double>(bar.price), length = static_cast<double>(bar.usable);
    switch (begin_) {
      case Begin::cheapest_length:
        return {price / length, -bar.usable};
      case Begin::cheapest_bar:
        return {price, -bar.usable};
      case Begin::shortest:
        return {length, bar.price};
      case Begin::longest:
        break;
    }
    return {-length, bar.price};
  }

  const Model& model_;
  Begin begin_ = {};
  Solution& solution_;
  std::set<std::pair<std::int64_t, std::size_t>> by_room_ = {};
};

}  // namespace

void fit_best(const Model& model, const std::vector<int>& order, Begin begin, Solution& solution) {
  BestFit fit(model, begin, solution);
  for (const int kind : order) fit.place_all(kind);
}

}  // namespace kw::cutting
