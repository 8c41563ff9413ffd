#include "grid.h"

#include <algorithm>
#include <numeric>

namespace kw::cutting::sheets {
namespace {

constexpr std::size_t most_points = 3'000;
constexpr std::int64_t most_states = 12'000'000, most_work = 20'000'000'000;
constexpr std::int64_t sort_work = 100;          // of a sum that is sorted in
constexpr std::int64_t most_marks = 50'000'000;  // of the side by the steps

struct Step {
  std::int64_t size = 0;
  std::int64_t count = 0;
};

// The same by marks on a rule of `side / unit`, where all steps are whole units.
std::vector<std::int64_t> marks_of(const std::vector<Step>& steps, std::int64_t side,
                                   std::int64_t unit, Work& work) {
  const auto n = static_cast<std::size_t>(side / unit) + 1;
  std::vector<bool> is_marked(n);
  is_marked[0] = true;
  for (const Step& step : steps) {
    if (!work.spend(static_cast<std::int64_t>(n))) return {};
    const auto size = static_cast<std::size_t>(step.size / unit);
    std::vector<std::int64_t> used(n);  // of this step, at most
    for (std::size_t s = size; s < n; ++s) {
      if (is_marked[s] || !is_marked[s - size] || used[s - size] >= step.count) continue;
      is_marked[s] = true;
      used[s] = used[s - size] + 1;
    }
  }
  std::vector<std::int64_t> sums;
  for (std::size_t s = 0; s < n; ++s) {
    if (is_marked[s]) sums.push_back(static_cast<std::int64_t>(s) * unit);
  }
  return sums;
}

// What up to `count` of each step can add up to, up to `side`; none when there are too many.
std::optional<std::vector<std::int64_t>> sums_of(const std::vector<Step>& steps, std::int64_t side,
                                                 Work& work) {
  std::int64_t unit = 0;
  for (const Step& step : steps) unit = std::gcd(unit, step.size);
  if (unit > 0 && side / unit <= most_marks / static_cast<std::int64_t>(steps.size())) {
    std::vector<std::int64_t> sums = marks_of(steps, side, unit, work);
    if (sums.size() > most_points || work.is_over()) return std::nullopt;
    return sums;
  }
  std::vector<std::int64_t> sums{0};
  for (const Step& step : steps) {
    if (!work.spend(sort_work * static_cast<std::int64_t>(sums.size()))) return std::nullopt;
    const std::vector<std::int64_t> before = sums;
    std::vector<std::int64_t> all = before;
    for (std::int64_t n = 1; n <= std::min(step.count, side / step.size); ++n) {
      for (const std::int64_t s : before) {
        if (s + n * step.size > side) break;
        all.push_back(s + n * step.size);
      }
      if (all.size() > 40 * most_points) {
        std::sort(all.begin(), all.end());
        all.erase(std::unique(all.begin(), all.end()), all.end());
        if (all.size() > 2 * most_points) return std::nullopt;
      }
    }
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    if (all.size() > most_points) return std::nullopt;
    sums = std::move(all);
  }
  return sums;
}

std::int64_t floor_in(const std::vector<std::int64_t>& sums, std::int64_t size) {
  return *(std::upper_bound(sums.begin(), sums.end(), size) - 1);
}

using Pairs = std::vector<std::pair<std::int64_t, std::int64_t>>;

// Each half as large as the other allows.
Pairs pairs_of(const std::vector<std::int64_t>& sums, std::int64_t size) {
  Pairs pairs;
  for (const std::int64_t s : sums) {
    if (2 * s > size) break;
    if (s == 0) continue;
    const std::int64_t beyond = floor_in(sums, size - s);
    const std::int64_t below = floor_in(sums, size - beyond);
    pairs.emplace_back(std::min(below, beyond), std::max(below, beyond));
  }
  std::sort(pairs.begin(), pairs.end());
  pairs.erase(std::unique(pairs.begin(), pairs.end()), pairs.end());
  return pairs;
}

// The points that cutting the whole side, and what comes of it, can lead to.
Axis axis_of(const std::vector<std::int64_t>& sums, Work& work) {
  std::vector<bool> is_reached(sums.size());
  std::vector<Pairs> pairs(sums.size());
  is_reached.front() = is_reached.back() = true;
  const auto index_of = [&](std::int64_t size) {
    return static_cast<std::size_t>(std::lower_bound(sums.begin(), sums.end(), size) -
                                    sums.begin());
  };
  for (std::size_t i = sums.size(); i-- > 1;) {
    if (!is_reached[i]) continue;
    if (!work.spend(sort_work * static_cast<std::int64_t>(i))) return {};
    pairs[i] = pairs_of(sums, sums[i]);
    for (const auto& [a, b] : pairs[i]) is_reached[index_of(a)] = is_reached[index_of(b)] = true;
  }
  Axis axis;
  std::vector<int> place(sums.size());
  for (std::size_t i = 0; i < sums.size(); ++i) {
    if (!is_reached[i]) continue;
    place[i] = axis.count();
    axis.points.push_back(sums[i]);
    auto& cuts = axis.cuts.emplace_back();
    for (const auto& [a, b] : pairs[i]) cuts.emplace_back(place[index_of(a)], place[index_of(b)]);
  }
  return axis;
}

std::int64_t cuts_on(const Axis& axis) {
  std::int64_t cuts = 0;
  for (const auto& c : axis.cuts) cuts += static_cast<std::int64_t>(c.size());
  return cuts;
}

}  // namespace

int Axis::at_least(std::int64_t size) const {
  return static_cast<int>(std::lower_bound(points.begin(), points.end(), size) - points.begin());
}

std::int64_t Grid::work() const {
  return cuts_on(x) * y.count() + cuts_on(y) * x.count() + states();
}

std::optional<Grid> grid_of(const Model& model, const Board& board, Work& work) {
  std::vector<Step> along, across;
  for (const Kind& k : model.kinds) {
    for (const bool is_turned : {false, true}) {
      if (is_turned && !k.turns) continue;
      const Size s = is_turned ? turned(k.size) : k.size;
      if (!board.size.holds(s)) continue;
      along.push_back({s.l, k.count});
      across.push_back({s.w, k.count});
    }
  }
  const auto sums_x = sums_of(along, board.size.l, work),
             sums_y = sums_of(across, board.size.w, work);
  if (!sums_x || !sums_y) return std::nullopt;
  Grid grid{axis_of(*sums_x, work), axis_of(*sums_y, work)};
  if (work.is_over()) return std::nullopt;
  if (std::int64_t{grid.x.count()} * grid.y.count() > most_states) return std::nullopt;
  if (grid.work() > most_work) return std::nullopt;
  return grid;
}

}  // namespace kw::cutting::sheets
