#include "aims/layouts.h"

#include <algorithm>

namespace kw::cutting {
namespace {

class Listing {
 public:
  Listing(const Problem& problem, const Model& model, const std::vector<int>& bars,
          std::size_t most, Work& work)
      : problem_(problem), model_(model), most_(most), work_(work) {
    for (std::size_t b = 0; b < bars.size(); ++b) {
      if (bars[b] > 0) bars_.push_back(static_cast<int>(b));
    }
  }

  Layouts run(std::vector<int> wanted) {
    wanted_ = std::move(wanted);
    if (bars_.empty()) return {};
    widest_ = *std::max_element(bars_.begin(), bars_.end(),
                                [&](int a, int b) { return bar(a).usable < bar(b).usable; });
    const bool is_done = extend(Stick{widest_, 0, {}}, 0);
    if (!is_done) return {};
    return {std::move(found_), model_.is_square && !model_.has_zones};
  }

 private:
  [[nodiscard]] const Bar& bar(int b) const { return model_.bars[static_cast<std::size_t>(b)]; }

  // All sets that add parts of kind `from` and later ones; false when there are too many. A set
  // that does not fit has no larger one that does, since taking a part out never takes more room.
  bool extend(const Stick& stick, std::size_t from) {
    for (std::size_t k = from; k < wanted_.size(); ++k) {
      Stick more = stick;
      const int wanted = wanted_[k];
      for (int n = 1; n <= wanted; ++n) {
        add(model_, more, static_cast<int>(k));
        const std::int64_t spent = 8 + nest(model_, more);
        if (!work_.spend(spent)) return false;
        const std::size_t before = found_.size();
        if (!file(more)) return false;
        if (found_.size() == before) break;
        if (!extend(more, k + 1)) return false;
      }
    }
    return true;
  }

  bool file(const Stick& stick) {
    for (const int b : bars_) {
      auto on = on_bar(model_, stick, b);
      if (!on) continue;
      if (found_.size() >= most_) return false;
      found_.push_back(layout_of(problem_, model_, std::move(*on)));
    }
    return true;
  }

  const Problem& problem_;
  const Model& model_;
  std::vector<int> bars_ = {};
  std::vector<int> wanted_ = {};
  int widest_ = 0;
  std::size_t most_ = 0;
  Work& work_;
  std::vector<Layout> found_ = {};
};

PartCounts counts_of(const Stick& stick) {
  std::vector<int> kinds;
  for (const Cut& cut : stick.cuts) kinds.push_back(cut.kind);
  std::sort(kinds.begin(), kinds.end());
  PartCounts counts;
  for (const int kind : kinds) {
    if (counts.empty() || counts.back().first != kind) counts.emplace_back(kind, 0);
    ++counts.back().second;
  }
  return counts;
}

}  // namespace

std::int64_t worth_kept(const Problem& problem, std::int64_t ticks) {
  const std::int64_t shortest = problem.shortest_offcut.in_ticks();
  if (shortest <= 0 || ticks < shortest) return 0;
  if (problem.offcut_worths.empty()) return ticks / Length::ticks_per_mm;
  std::int64_t from = -1, worth = 0;
  for (const OffcutWorth& step : problem.offcut_worths) {
    const std::int64_t at = step.from.in_ticks();
    if (at <= ticks && at > from) from = at, worth = step.worth.coins;
  }
  return worth;
}

Layout layout_of(const Problem& problem, const Model& model, Stick stick) {
  const Bar& bar = bar_of(model, stick);
  const std::int64_t offcut = offcut_of(model, stick);
  const bool is_kept = model.shortest_offcut > 0 && offcut >= model.shortest_offcut;
  Layout layout{.counts = counts_of(stick), .price = bar.price};
  layout.kept = worth_kept(problem, offcut);
  if (problem.stocks[static_cast<std::size_t>(bar.stock)].count) {
    layout.kept -= worth_kept(problem, bar.length);
  }
  layout.lost = bar.length - (is_kept ? offcut : 0);
  layout.stick = std::move(stick);
  return layout;
}

Layouts layouts_of(const Problem& problem, const Model& model, const std::vector<int>& wanted,
                   const std::vector<int>& bars, std::size_t most, Work& work) {
  return Listing(problem, model, bars, most, work).run(wanted);
}

}  // namespace kw::cutting
