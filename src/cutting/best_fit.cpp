#include "best_fit.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace kw::cutting {
namespace {

constexpr int most_tried = 3;  // sticks tried for a part from each of ...
constexpr int starts = 4;      // so many amounts of room

// About, for one part.
constexpr std::int64_t square_work = 200, angled_work = 500;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

class BestFit {
 public:
  BestFit(const Model& model, Begin begin, Solution& solution)
      : model_(model), solution_(solution) {
    for (int b = 0; b < static_cast<int>(model.bars.size()); ++b) bars_.push_back(b);
    std::stable_sort(bars_.begin(), bars_.end(), [&](int a, int b) {
      return rank(model.bars[at(a)], begin) < rank(model.bars[at(b)], begin);
    });
    for (std::size_t s = 0; s < solution.sticks.size(); ++s) file(s);
  }

  void place_all(int kind) {
    int& left = solution_.left.kinds[at(kind)];
    while (left > 0 && (place(kind) || place_on_new(kind))) --left;
  }

 private:
  using ByRoom = std::set<std::pair<std::int64_t, std::size_t>>;

  // Between faulty zones there may be room before the last part, too.
  void file(std::size_t s) {
    const Stick& stick = solution_.sticks[s];
    std::int64_t room = room_on(model_, stick);
    if (!bar_of(model_, stick).zones.empty()) {
      room = bar_of(model_, stick).capacity;
      for (const Cut& cut : stick.cuts) room -= model_.kinds[at(cut.kind)].size;
    }
    by_room_.insert({room, s});
  }

  // A square part takes its size of a begun stick. An angled one takes something between that and
  // what it takes alone with its kerf, so sticks are tried from several amounts of room on.
  bool place(int kind) {
    const std::int64_t least = model_.kinds[at(kind)].size;
    const std::int64_t span = model_.kinds[at(kind)].most - least;
    for (int start = 0; start < starts; ++start) {
      if (place_from(kind, least + span * start / (starts - 1))) return true;
      if (model_.is_square) break;
    }
    return false;
  }

  bool place_from(int kind, std::int64_t room) {
    auto stick = by_room_.lower_bound({room, 0});
    for (int tried = 0; stick != by_room_.end() && tried < most_tried; ++stick, ++tried) {
      const std::size_t s = stick->second;
      if (!insert(model_, solution_.sticks[s], kind)) continue;
      by_room_.erase(stick);
      file(s);
      return true;
    }
    return false;
  }

  bool place_on_new(int kind) {
    const auto holds = [&](int b) {
      return solution_.left.bars[at(b)] > 0 &&
             model_.bars[at(b)].longest >= model_.kinds[at(kind)].alone;
    };
    const auto bar = std::find_if(bars_.begin(), bars_.end(), holds);
    if (bar == bars_.end()) return false;
    Stick stick{*bar, 0, {}};
    if (!insert(model_, stick, kind)) return false;
    --solution_.left.bars[at(*bar)];
    solution_.sticks.push_back(std::move(stick));
    file(solution_.sticks.size() - 1);
    return true;
  }

  // Smaller is sooner.
  static std::tuple<double, std::int64_t> rank(const Bar& bar, Begin begin) {
    const auto price = static_cast<double>(bar.price), length = static_cast<double>(bar.usable);
    switch (begin) {
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
  Solution& solution_;
  std::vector<int> bars_ = {};  // the sooner to begin first
  ByRoom by_room_ = {};
};

std::size_t parts_on(const Solution& solution) {
  std::size_t parts = 0;
  for (const Stick& stick : solution.sticks) parts += stick.cuts.size();
  return parts;
}

}  // namespace

std::int64_t fit_best(const Model& model, Begin begin, Solution& solution) {
  const std::size_t before = parts_on(solution);
  BestFit fit(model, begin, solution);
  for (int kind = 0; kind < static_cast<int>(model.kinds.size()); ++kind) fit.place_all(kind);
  const auto placed = static_cast<std::int64_t>(parts_on(solution) - before);
  return placed * (model.is_square ? square_work : angled_work);
}

}  // namespace kw::cutting
