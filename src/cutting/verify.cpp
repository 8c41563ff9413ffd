// The judge of plans. Lays every part down as four corners and looks at what lies between, in plain
// double arithmetic: nothing here comes from the optimiser.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw {
namespace {

constexpr double tolerance = 1.0 / 16;  // ticks; doubles hold every allowed length far more finely
constexpr double offcut_tolerance = 2 + tolerance;  // ticks that an offcut at an angle may be short

// A cut that crosses the middle line at x and runs dx for each dy.
struct Line {
  double x = 0, slope = 0;
  [[nodiscard]] double at(double y) const { return x + slope * y; }
};

struct Outline {
  Line left = {}, right = {};
};

class Verification {
 public:
  Verification(const Problem& problem, const Plan& plan) : problem_(problem), plan_(plan) {}

  Diagnostics run() {
    std::vector<std::int64_t> sawn(problem_.stocks.size()), made(problem_.demands.size());
    for (std::size_t i = 0; i < plan_.sticks.size(); ++i) check_stick(i, sawn, made);
    check_stock(sawn);
    check_parts(made);
    check_money();
    if (plan_.aims && faults_.empty()) check_aims(*plan_.aims);
    return std::move(faults_);
  }

 private:
  void fault(std::string_view code, std::string message) {
    faults_.push_back({.code = code,
                       .message = std::move(message),
                       .hint = "this plan must not be sawn; plan again"});
  }

  void check_stick(std::size_t index, std::vector<std::int64_t>& sawn,
                   std::vector<std::int64_t>& made) {
    const SawnStick& stick = plan_.sticks[index];
    const std::size_t number = index + 1;
    if (stick.stock < 0 || static_cast<std::size_t>(stick.stock) >= problem_.stocks.size()) {
      fault("cutting.plan-stick", fmt::format("stick {} is of no stock that there is", number));
      return;
    }
    ++sawn[static_cast<std::size_t>(stick.stock)];
    if (stick.parts.empty()) {
      fault("cutting.plan-stick",
            fmt::format("stick {} is paid for but has no part on it", number));
      return;
    }
    std::vector<Outline> outlines;
    for (const Placed& part : stick.parts) {
      const auto outline = outline_of(part, number);
      if (!outline) return;
      ++made[static_cast<std::size_t>(part.demand)];
      outlines.push_back(*outline);
    }
    check_ends(stick, outlines, number);
    for (const Outline& outline : outlines) check_faults(stick, outline, number);
    for (std::size_t i = 1; i < outlines.size(); ++i)
      check_between(outlines[i - 1], outlines[i], number, i);
  }

  std::optional<Outline> outline_of(const Placed& part, std::size_t number) {
    if (part.demand < 0 || static_cast<std::size_t>(part.demand) >= problem_.demands.size()) {
      fault("cutting.plan-count",
            fmt::format("stick {} holds a part that nobody asked for", number));
      return std::nullopt;
    }
    const Demand& d = problem_.demands[static_cast<std::size_t>(part.demand)];
    const bool is_square = d.left_slope == 0 && d.right_slope == 0;
    if (!is_square && ((part.flipped && !d.may_flip) || (part.turned && !d.may_turn))) {
      fault("cutting.plan-lie",
            fmt::format("stick {}: part `{}` lies as it may not", number, d.name));
    }
    const double side = part.flipped ? -1 : 1;
    const double from = ticks(part.from), to = from + ticks(d.length);
    if (part.turned) return Outline{{from, side * d.right_slope}, {to, side * d.left_slope}};
    return Outline{{from, side * d.left_slope}, {to, side * d.right_slope}};
  }

  void check_ends(const SawnStick& stick, const std::vector<Outline>& outlines,
                  std::size_t number) {
    const double trim = ticks(problem_.saw.end_trim);
    const double end = ticks(problem_.stocks[static_cast<std::size_t>(stick.stock)].length) - trim;
    const Line first = outlines.front().left, last = outlines.back().right;
    const double tip = std::max(last.at(-half()), last.at(half()));
    if (std::min(first.at(-half()), first.at(half())) < trim - tolerance) {
      fault("cutting.plan-outside",
            fmt::format("stick {}: the first part runs into the trim", number));
    }
    if (tip > end + tolerance) {
      fault("cutting.plan-outside",
            fmt::format("stick {}: the last part runs into the trim", number));
    }
    double from = tip + kerf_along(last);
    for (const FaultyZone& zone : problem_.stocks[static_cast<std::size_t>(stick.stock)].faults) {
      if (ticks(zone.from) < end) from = std::max(from, fault_end(zone));
    }
    const double left = std::max(end - from, 0.0), claimed = ticks(stick.offcut);
    if (claimed < 0 || claimed > left + tolerance || claimed < left - offcut_tolerance) {
      fault("cutting.plan-offcut", fmt::format("stick {}: its offcut is not what is left", number));
    }
  }

  // A fault goes across the whole stick, so a part lies wholly before it or wholly behind it.
  void check_faults(const SawnStick& stick, const Outline& outline, std::size_t number) {
    const double first = std::min(outline.left.at(-half()), outline.left.at(half()));
    const double last = std::max(outline.right.at(-half()), outline.right.at(half()));
    for (const FaultyZone& zone : problem_.stocks[static_cast<std::size_t>(stick.stock)].faults) {
      if (last <= ticks(zone.from) + tolerance || first >= fault_end(zone) - tolerance) continue;
      fault("cutting.plan-fault", fmt::format("stick {}: a part reaches into a fault", number));
      return;
    }
  }

  // A fault counts as at least as long as the widest cut of any part.
  [[nodiscard]] double fault_end(const FaultyZone& zone) const {
    double widest = ticks(problem_.saw.kerf);
    for (const Demand& d : problem_.demands) {
      if (d.count == 0) continue;
      widest = std::max({widest, kerf_along({0, d.left_slope}), kerf_along({0, d.right_slope})});
    }
    return ticks(zone.from) + std::max(ticks(zone.length), widest);
  }

  // The kerf of either cut has to stay clear of the other part across the whole width. Cuts are
  // straight, so the two edges of the stick decide.
  void check_between(const Outline& a, const Outline& b, std::size_t number, std::size_t place) {
    const double kerf = std::max(kerf_along(a.right), kerf_along(b.left));
    for (const double y : {-half(), half()}) {
      if (b.left.at(y) - a.right.at(y) >= kerf - tolerance) continue;
      fault("cutting.plan-overlap",
            fmt::format("stick {}: parts {} and {} leave no room for the kerf", number, place,
                        place + 1));
      return;
    }
  }

  void check_stock(const std::vector<std::int64_t>& sawn) {
    for (std::size_t i = 0; i < sawn.size(); ++i) {
      const Stock& s = problem_.stocks[i];
      if (!s.count || sawn[i] <= *s.count) continue;
      fault("cutting.plan-stick",
            fmt::format("{} sticks of `{}` are sawn, there are {}", sawn[i], s.name, *s.count));
    }
  }

  void check_parts(const std::vector<std::int64_t>& made) {
    for (std::size_t i = 0; i < made.size(); ++i) {
      const Demand& d = problem_.demands[i];
      if (made[i] == d.count) continue;
      fault("cutting.plan-count",
            fmt::format("part `{}` is made {} times instead of {}", d.name, made[i], d.count));
    }
  }

  void check_money() {
    Money cost;
    for (const SawnStick& stick : plan_.sticks) {
      const auto stock = static_cast<std::size_t>(stick.stock);
      if (stick.stock >= 0 && stock < problem_.stocks.size())
        cost = cost + problem_.stocks[stock].price;
    }
    if (plan_.cost != cost) {
      fault("cutting.plan-cost", fmt::format("the sticks cost {} coins, the plan says {}",
                                             cost.coins, plan_.cost.coins));
    }
    if (plan_.bound > plan_.cost || plan_.is_proved != (plan_.bound == plan_.cost)) {
      fault("cutting.plan-bound",
            "what the plan says of its bound and its proof does not agree with its cost");
    }
  }

  // What an offcut of this length is worth, or a stick of it.
  [[nodiscard]] std::int64_t worth(Length length) const {
    if (problem_.shortest_offcut <= Length() || length < problem_.shortest_offcut) return 0;
    if (problem_.offcut_worths.empty()) return length.in_ticks() / Length::ticks_per_mm;
    const OffcutWorth* best = nullptr;
    for (const OffcutWorth& step : problem_.offcut_worths) {
      if (step.from <= length && (best == nullptr || step.from > best->from)) best = &step;
    }
    return best == nullptr ? 0 : best->worth.coins;
  }

  void check_aims(const Aims& aims) {
    std::int64_t kept = 0;
    for (const SawnStick& stick : plan_.sticks) {
      const Stock& stock = problem_.stocks[static_cast<std::size_t>(stick.stock)];
      kept += worth(stick.offcut) - (stock.count ? worth(stock.length) : 0);
    }
    const auto count = static_cast<std::size_t>(std::max(aims.layouts, 0));
    const bool is_counted = count >= layouts(true) && count <= layouts(false);
    if (kept != aims.kept.coins || (aims.kept_at_most && *aims.kept_at_most < aims.kept) ||
        !is_counted || aims.layouts_at_least > aims.layouts || aims.stops_at_least > aims.stops) {
      fault("cutting.plan-aims",
            "what the plan says of its offcuts and set-ups does not agree with its sticks");
    }
  }

  // Sticks that differ: with parts told apart by their shape, or by the demand they are of.
  [[nodiscard]] std::size_t layouts(bool by_shape) const {
    using Shape = std::tuple<Length, double, double, int>;
    std::set<std::pair<int, std::vector<Shape>>> different;
    for (const SawnStick& stick : plan_.sticks) {
      std::vector<Shape> shapes;
      for (const Placed& part : stick.parts) {
        const Demand& d = problem_.demands[static_cast<std::size_t>(part.demand)];
        const auto [low, high] = std::minmax({std::abs(d.left_slope), std::abs(d.right_slope)});
        shapes.emplace_back(d.length, low, high, by_shape ? 0 : part.demand);
      }
      std::sort(shapes.begin(), shapes.end());
      different.insert({stick.stock, std::move(shapes)});
    }
    return different.size();
  }

  [[nodiscard]] static double ticks(Length l) { return static_cast<double>(l.in_ticks()); }
  [[nodiscard]] double half() const { return ticks(problem_.width) / 2; }
  [[nodiscard]] double kerf_along(Line cut) const {
    return ticks(problem_.saw.kerf) / std::cos(std::atan(cut.slope));
  }

  const Problem& problem_;
  const Plan& plan_;
  Diagnostics faults_ = {};
};

}  // namespace

Diagnostics verify(const Problem& problem, const Plan& plan) {
  Diagnostics faults = validate(problem);
  if (has_errors(faults)) return faults;
  faults = Verification(problem, plan).run();
  for (const Alternative& other : plan.alternatives) {
    const Plan alone{.sticks = other.sticks,
                     .cost = other.cost,
                     .bound = other.cost,
                     .is_proved = true,
                     .aims = other.aims};
    const Diagnostics more = Verification(problem, alone).run();
    faults.insert(faults.end(), more.begin(), more.end());
  }
  return faults;
}

}  // namespace kw
