#include "model.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <tuple>

namespace kw::cutting {
namespace {

constexpr int most_cells = 16'384;
constexpr std::size_t most_ends_in_table = 256;
constexpr std::int64_t table_limit = 1 << 25;  // items * cells of the filling table
constexpr std::int64_t rounding_of_two_tips = 4;

struct Slopes {
  double left = 0, right = 0;
  friend bool operator==(const Slopes&, const Slopes&) = default;
};

Slopes slopes_of(const Demand& d, bool flipped, bool turned) {
  Slopes s{d.left_slope, d.right_slope};
  if (turned) std::swap(s.left, s.right);
  if (flipped) s = {-s.left, -s.right};
  return {s.left + 0.0, s.right + 0.0};  // -0 becomes 0
}

struct Lie {
  Slopes slopes = {};
  bool flipped = false, turned = false;
};

// The different ways in which a demand may lie, the plainest first.
std::vector<Lie> lies_of(const Demand& d) {
  std::vector<Lie> lies;
  for (const bool flipped : {false, true}) {
    for (const bool turned : {false, true}) {
      if ((flipped && !d.may_flip) || (turned && !d.may_turn)) continue;
      const Slopes s = slopes_of(d, flipped, turned);
      const auto same = [&](const Lie& l) { return l.slopes == s; };
      if (std::none_of(lies.begin(), lies.end(), same)) lies.push_back({s, flipped, turned});
    }
  }
  return lies;
}

std::vector<End> ends_of(const Problem& problem) {
  std::vector<double> slopes = {0.0};
  for (const Demand& d : problem.demands) {
    if (d.count == 0) continue;
    for (const Lie& lie : lies_of(d)) {
      slopes.push_back(lie.slopes.left);
      slopes.push_back(lie.slopes.right);
    }
  }
  std::sort(slopes.begin(), slopes.end());
  slopes.erase(std::unique(slopes.begin(), slopes.end()), slopes.end());
  const double half = static_cast<double>(problem.width.in_ticks()) / 2;
  const double kerf = static_cast<double>(problem.saw.kerf.in_ticks());
  std::vector<End> ends;
  for (const double s : slopes) {
    ends.push_back({s, lean_above(half, s, 0), ticks_above(kerf * std::sqrt(1 + s * s))});
  }
  // A square cut needs no rounding: exactly the kerf.
  for (End& e : ends) {
    if (e.slope == 0) e.cut = problem.saw.kerf.in_ticks();
  }
  return ends;
}

int index_of(const std::vector<End>& ends, double slope) {
  const auto at = std::lower_bound(ends.begin(), ends.end(), slope,
                                   [](const End& e, double s) { return e.slope < s; });
  return static_cast<int>(at - ends.begin());
}

std::vector<Kind> kinds_of(const Problem& problem, const std::vector<End>& ends) {
  std::map<std::tuple<std::int64_t, double, double, bool, bool>, Kind> merged;
  for (std::size_t i = 0; i < problem.demands.size(); ++i) {
    const Demand& d = problem.demands[i];
    if (d.count == 0) continue;
    const auto lies = lies_of(d);
    const bool lies_one_way = lies.size() == 1;
    Kind& kind = merged[{-d.length.in_ticks(), d.left_slope + 0.0, d.right_slope + 0.0,
                         d.may_flip && !lies_one_way, d.may_turn && !lies_one_way}];
    kind.length = d.length.in_ticks();
    kind.count += d.count;
    kind.demands.push_back(static_cast<int>(i));
    if (!kind.poses.empty()) continue;
    for (const Lie& lie : lies) {
      kind.poses.push_back({index_of(ends, lie.slopes.left), index_of(ends, lie.slopes.right),
                            lie.flipped, lie.turned});
    }
  }
  std::vector<Kind> kinds;
  for (auto& [key, kind] : merged) kinds.push_back(std::move(kind));
  return kinds;
}

// What an end takes at least of its gap: half the kerf along the stick, and half of the lean
// against the likeliest neighbour among `others` (the ends that can face it, and the square end of
// the stick).
double share_of(const Model& model, const End& end, const std::vector<double>& others,
                double kerf) {
  const auto above = std::lower_bound(others.begin(), others.end(), end.slope);
  double lean = std::abs(end.slope);
  if (above != others.end()) lean = std::min(lean, *above - end.slope);
  if (above != others.begin()) lean = std::min(lean, end.slope - *std::prev(above));
  return kerf * std::sqrt(1 + end.slope * end.slope) / 2 + model.half_width * lean / 2;
}

// Sizes and margin where ends are angled (NOTES.md, "What a part takes at least"). One tick is
// given away on each part and on the margin, more than all rounding can come to.
void set_angled_sizes(Model& model, double kerf) {
  std::vector<double> lefts, rights;
  for (const Kind& kind : model.kinds) {
    for (const Pose& pose : kind.poses) {
      lefts.push_back(model.ends[static_cast<std::size_t>(pose.left)].slope);
      rights.push_back(model.ends[static_cast<std::size_t>(pose.right)].slope);
    }
  }
  std::sort(lefts.begin(), lefts.end());
  std::sort(rights.begin(), rights.end());
  double left_excess = std::numeric_limits<double>::lowest(), right_excess = left_excess;
  for (Kind& kind : model.kinds) {
    double least = std::numeric_limits<double>::max();
    for (const Pose& pose : kind.poses) {
      const End& left = model.ends[static_cast<std::size_t>(pose.left)];
      const End& right = model.ends[static_cast<std::size_t>(pose.right)];
      const double a = share_of(model, left, rights, kerf);
      const double b = share_of(model, right, lefts, kerf);
      least = std::min(least, a + b);
      left_excess = std::max(left_excess, a - model.half_width * std::abs(left.slope));
      right_excess = std::max(right_excess, b - model.half_width * std::abs(right.slope));
    }
    kind.size = kind.length + static_cast<std::int64_t>(std::floor(least)) - 1;
  }
  model.margin = ticks_above(left_excess + right_excess) + 1;
}

void set_sizes(Model& model, std::int64_t kerf) {
  std::int64_t dearest_cut = 0;
  for (const End& end : model.ends) dearest_cut = std::max(dearest_cut, end.cut);
  for (Kind& kind : model.kinds) {
    const Pose& pose = kind.poses.front();  // any: they differ in sign and order only
    kind.alone = model.ends[static_cast<std::size_t>(pose.left)].reach + kind.length +
                 model.ends[static_cast<std::size_t>(pose.right)].reach;
    kind.most = kind.alone + dearest_cut;
    kind.size = kind.length + kerf;
  }
  model.margin = kerf;
  if (!model.is_square) set_angled_sizes(model, static_cast<double>(kerf));
}

// A stretch clear of faults is a stick of its own to the parts on it, and all together are one row
// of the whole stick.
void set_stretches(Bar& bar, const Model& model, std::int64_t least) {
  std::int64_t sum = 0;
  for (const Stretch& s : clear_between(bar.zones, bar.usable)) {
    bar.longest = std::max(bar.longest, s.length());
    if (s.length() + rounding_of_two_tips < least) continue;
    bar.clear.push_back(s);
    sum += s.length() + model.margin;
  }
  bar.capacity = std::min(sum, bar.usable + model.margin);
}

std::vector<Bar> bars_of(const Problem& problem, const Model& model) {
  std::int64_t least = std::numeric_limits<std::int64_t>::max();
  for (const Kind& kind : model.kinds) least = std::min(least, kind.alone);
  const std::int64_t widest = widest_cut(problem);
  std::vector<Bar> bars;
  for (std::size_t i = 0; i < problem.stocks.size(); ++i) {
    const Stock& s = problem.stocks[i];
    const std::int64_t length = s.length.in_ticks();
    const std::int64_t usable = length - 2 * model.end_trim;
    const int copies = std::min(s.count.value_or(model.parts), model.parts);
    if (copies == 0 || usable < least) continue;
    Bar bar{.stock = static_cast<int>(i),
            .length = length,
            .usable = usable,
            .price = s.price.coins,
            .copies = copies,
            .zones = zones_of(s, model.end_trim, widest)};
    set_stretches(bar, model, least);
    if (bar.longest >= least) bars.push_back(std::move(bar));
  }
  std::stable_sort(bars.begin(), bars.end(), [](const Bar& a, const Bar& b) {
    return std::tuple(-a.capacity, -a.usable, a.price, a.copies) <
           std::tuple(-b.capacity, -b.usable, b.price, b.copies);
  });
  return bars;
}

// Whole cells for the tables: exact where the common divisor of the sizes allows it. (A bar may be
// cut down to a multiple of it, since every sum of sizes is one.)
void set_cells(Model& model) {
  if (model.bars.empty()) return;
  const std::int64_t longest = model.bars.front().capacity;
  std::int64_t divisor = 0, items = 1;
  for (const Kind& kind : model.kinds) {
    divisor = std::gcd(divisor, kind.size);
    std::int64_t copies = longest / std::max<std::int64_t>(kind.size, 1);
    for (copies = std::min<std::int64_t>(copies, kind.count); copies > 0; copies /= 2) ++items;
  }
  const std::int64_t cells = std::clamp<std::int64_t>(table_limit / items, 1'024, most_cells);
  model.divisor = std::max<std::int64_t>(divisor, 1);
  model.cell = std::max(model.divisor, (longest + cells - 1) / cells);
  for (Kind& kind : model.kinds) kind.cells = static_cast<int>(kind.size / model.cell);
  for (Bar& bar : model.bars) bar.cells = static_cast<int>(bar.capacity / model.cell);
}

std::int64_t reckoned_gap(const Model& model, const End& a, const End& b) {
  return lean_above(model.half_width, a.slope, b.slope) + std::max(a.cut, b.cut);
}

}  // namespace

std::int64_t ticks_above(double exact) {
  constexpr double above = 1 + 0x1p-40;
  return static_cast<std::int64_t>(std::ceil(exact * above));
}

// Half the width is a multiple of a half, so both roundings can be had exactly: that of the
// difference (Moller and Knuth's two-sum, from memory) and, by a fused multiply-add, that of the
// product. Without them a row that fits to the tick would not fit.
std::int64_t lean_above(double half_width, double a, double b) {
  const double d = a - b;
  const double from_b = a - d;
  const double lost = (a - (d + from_b)) + (from_b - b);
  const double product = half_width * d;
  const double rest = std::fma(half_width, d, -product) + half_width * lost;
  const double sign = product < 0 ? -1 : 1;
  const double whole = std::ceil(sign * product);
  const bool is_short = whole == sign * product && sign * rest > 0;
  return static_cast<std::int64_t>(whole) + (is_short ? 1 : 0);
}

std::int64_t gap(const Model& model, int right, int left) {
  const auto r = static_cast<std::size_t>(right), l = static_cast<std::size_t>(left);
  if (!model.gaps.empty()) return model.gaps[r * model.ends.size() + l];
  return reckoned_gap(model, model.ends[r], model.ends[l]);
}

Model model_of(const Problem& problem) {
  Model model;
  model.half_width = static_cast<double>(problem.width.in_ticks()) / 2;
  model.shortest_offcut = problem.shortest_offcut.in_ticks();
  model.end_trim = problem.saw.end_trim.in_ticks();
  model.ends = ends_of(problem);
  if (model.ends.size() <= most_ends_in_table) {
    for (const End& right : model.ends) {
      for (const End& left : model.ends) model.gaps.push_back(reckoned_gap(model, right, left));
    }
  }
  model.kinds = kinds_of(problem, model.ends);
  for (const Kind& kind : model.kinds) model.parts += kind.count;
  model.is_square = model.ends.size() == 1;
  set_sizes(model, problem.saw.kerf.in_ticks());
  model.bars = bars_of(problem, model);
  model.has_zones = std::any_of(model.bars.begin(), model.bars.end(),
                                [](const Bar& bar) { return !bar.zones.empty(); });
  set_cells(model);
  return model;
}

}  // namespace kw::cutting
