#include "kerfwright/parts/setups.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <map>
#include <tuple>

namespace kw {
namespace {

using Key =
    std::tuple<int, std::int64_t, std::int64_t, std::int64_t>;  // machine, swing, tilt, fence

std::int64_t tenths(Angle angle) {
  return std::llround(std::abs(angle.in_degrees()) * 10);
}

class Grouping {
 public:
  void add(Machine machine, Angle swing, Angle tilt, Length fence, SetupCut cut) {
    const Key key{static_cast<int>(machine), tenths(swing), tenths(tilt), -fence.in_ticks()};
    auto& setup = setups_[key];
    setup.machine = machine;
    setup.swing = Angle::degrees(static_cast<double>(tenths(swing)) / 10);
    setup.tilt = Angle::degrees(static_cast<double>(tenths(tilt)) / 10);
    setup.fence = fence;
    const auto same = std::find_if(setup.cuts.begin(), setup.cuts.end(), [&](const SetupCut& c) {
      return c.part == cut.part && c.what == cut.what && c.stop == cut.stop;
    });
    if (same == setup.cuts.end()) {
      setup.cuts.push_back(std::move(cut));
    } else {
      same->count += cut.count;
    }
  }

  std::vector<Setup> take() {
    std::vector<Setup> all;
    for (auto& [key, setup] : setups_) {
      std::stable_sort(setup.cuts.begin(), setup.cuts.end(),
                       [](const SetupCut& a, const SetupCut& b) { return a.stop > b.stop; });
      all.push_back(std::move(setup));
    }
    return all;
  }

 private:
  std::map<Key, Setup> setups_ = {};
};

Length printed(const Part& part, int figure) {
  return figure < 0 ? Length() : part.figures[static_cast<std::size_t>(figure)].printed;
}

void add_rip(Grouping& grouping, const Resolved& piece, const Part& part, int index) {
  const auto& stock = piece.stocks[static_cast<std::size_t>(part.stock)];
  if (stock.is_sheet || part.strips > 1) return;
  if (stock.used.width == stock.bought.width) return;
  grouping.add(
      Machine::rip_saw, {}, {}, stock.used.width,
      {.part = index, .what = "rip to width", .count = static_cast<int>(part.members.size())});
}

void add_crosscuts(Grouping& grouping, const Part& part, int index) {
  const int count = static_cast<int>(part.members.size());
  for (std::size_t e = 0; e < part.ends.size(); ++e) {
    const SawCut& cut = part.ends[e];
    if (cut.feature < 0 || cut.is_along) continue;
    const bool is_hook = e == 0;
    grouping.add(cut.other_way.empty() ? Machine::mitre_saw : Machine::shaping, cut.printed_swing,
                 cut.printed_tilt, {},
                 {.part = index,
                  .what = is_hook ? "hook end" : "far end",
                  .stop = is_hook ? Length() : printed(part, part.length),
                  .count = count});
  }
  for (const SawCut& cut : part.cuts) {
    const Machine machine = !cut.is_along         ? Machine::mitre_saw
                            : is_bevel(part, cut) ? Machine::rip_saw
                                                  : Machine::taper;
    const bool is_ripped = machine == Machine::rip_saw;
    grouping.add(machine, is_ripped ? Angle() : cut.printed_swing, cut.printed_tilt,
                 is_ripped ? printed(part, cut.from_across) : Length(),
                 {.part = index,
                  .what = !cut.is_along ? "cut"
                          : is_ripped   ? "bevel"
                                        : "taper",
                  .stop = cut.is_along ? Length() : printed(part, cut.on_edge),
                  .count = count});
  }
}

void add_notches(Grouping& grouping, const Part& part, int index) {
  for (const Mark& mark : part.marks) {
    const Opening& opening = mark.openings.front();
    grouping.add(
        Machine::notching, mark.printed_swing, mark.printed_tilt, printed(part, mark.depth),
        {.part = index,
         .what = std::string(name_of(mark.kind)),
         .stop = printed(part, opening.near_from >= 0 ? opening.near_from : opening.far_from),
         .count = static_cast<int>(part.members.size())});
  }
}

void add_holes(Grouping& grouping, const Part& part, int index) {
  for (const HoleMark& hole : part.holes) {
    grouping.add(Machine::drill, {}, hole.lean, hole.diameter,
                 {.part = index,
                  .what = std::string(name_of(hole.kind)),
                  .stop = printed(part, hole.along),
                  .count = static_cast<int>(part.members.size())});
  }
}

// The slope of an end across the width, as the sawing plan takes it: d(x)/d(y). Ends tilted through
// the thickness are taken whole, as square at their long point.
double slope_of(const SawCut& cut, Vec3 size) {
  if (cut.feature < 0 || tenths(cut.tilt) != 0 || size.y <= 0) return 0;
  return -std::tan(cut.swing.in_radians());
}

Demand demand_of(const Part& part) {
  Demand demand{.name = part.letter, .count = static_cast<int>(part.members.size())};
  const double hook = slope_of(part.ends[0], part.size);
  const double far = slope_of(part.ends[1], part.size);
  // n = (-|n_x|, n_y): x falls as y grows when n_y is negative, so the hook end's slope has the
  // other sign.
  demand.left_slope = -hook;
  demand.right_slope = far;
  const double shortened = part.size.y / 2 * (std::abs(hook) + std::abs(far));
  demand.length = part.figures[static_cast<std::size_t>(part.length)].exact - Length::mm(shortened);
  return demand;
}

bool fits_problem(const Resolved& piece, const Part& part) {
  return !piece.stocks[static_cast<std::size_t>(part.stock)].is_sheet;
}

int strips_that_fit(const ResolvedStock& stock, Length kerf) {
  const auto step = (stock.used.width + kerf).in_ticks();
  if (step <= 0) return 1;
  return std::max(1, static_cast<int>((stock.bought.width + kerf).in_ticks() / step));
}

void add_sticks(StockProblem& sp, const ResolvedStock& stock) {
  sp.has_prices = std::all_of(stock.buy.begin(), stock.buy.end(),
                              [](const Offer& o) { return o.price.has_value(); });
  for (const Offer& offer : stock.have) {
    sp.problem.stocks.push_back(
        {.name = "on hand", .length = offer.length, .price = {}, .count = offer.count});
  }
  for (const Offer& offer : stock.buy) {
    const Money by_length{offer.length.in_ticks() / Length::ticks_per_mm};
    sp.problem.stocks.push_back({.name = stock.sold_as,
                                 .length = offer.length,
                                 .price = sp.has_prices ? *offer.price : by_length,
                                 .count = {}});
  }
}

}  // namespace

std::string_view name_of(Machine machine) {
  switch (machine) {
    case Machine::rip_saw:
      return "rip";
    case Machine::mitre_saw:
      return "mitre saw";
    case Machine::taper:
      return "taper jig";
    case Machine::notching:
      return "notching";
    case Machine::drill:
      return "drill";
    case Machine::shaping:
      return "by hand or band saw";
  }
  return "";
}

std::vector<Setup> setups_of(const Resolved& piece, const CutList& cut_list) {
  Grouping grouping;
  for (std::size_t i = 0; i < cut_list.parts.size(); ++i) {
    const Part& part = cut_list.parts[i];
    const int index = static_cast<int>(i);
    add_rip(grouping, piece, part, index);
    add_crosscuts(grouping, part, index);
    add_notches(grouping, part, index);
    add_holes(grouping, part, index);
    if (part.is_curved) {
      grouping.add(Machine::shaping, {}, {}, {},
                   {.part = index,
                    .what = "saw to the template",
                    .count = static_cast<int>(part.members.size())});
    }
  }
  return grouping.take();
}

std::vector<StockProblem> problems_for(const Resolved& piece, const CutList& cut_list) {
  std::vector<StockProblem> problems;
  for (std::size_t s = 0; s < piece.stocks.size(); ++s) {
    const auto& stock = piece.stocks[s];
    StockProblem sp{.stock = static_cast<int>(s),
                    .strips_per_board = strips_that_fit(stock, piece.kerf),
                    .strip_width = stock.used.width};
    sp.problem.saw = {.kerf = piece.kerf, .end_trim = piece.trim};
    sp.problem.width = stock.used.width;
    sp.problem.shortest_offcut = piece.shortest_offcut;
    sp.problem.unit = piece.unit;
    for (std::size_t i = 0; i < cut_list.parts.size(); ++i) {
      const Part& part = cut_list.parts[i];
      if (part.stock != static_cast<int>(s) || !fits_problem(piece, part)) continue;
      Demand demand = demand_of(part);
      if (part.strips > 1) {
        demand.count *= part.strips;
        demand.length = part.figures[static_cast<std::size_t>(part.length)].exact;
        demand.left_slope = demand.right_slope = 0;
      }
      sp.problem.demands.push_back(std::move(demand));
      sp.part_of_demand.push_back(static_cast<int>(i));
    }
    if (sp.problem.demands.empty()) continue;
    add_sticks(sp, stock);
    problems.push_back(std::move(sp));
  }
  return problems;
}

}  // namespace kw
