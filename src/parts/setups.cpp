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

void add_holes(Grouping& grouping, const Part& part, int index, LengthUnit unit) {
  for (const HoleMark& hole : part.holes) {
    grouping.add(Machine::drill, {}, hole.lean, bit_for(hole, unit),
                 {.part = index,
                  .what = std::string(name_of(hole.kind)),
                  .stop = printed(part, hole.along),
                  .count = static_cast<int>(part.members.size())});
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
    add_holes(grouping, part, index, cut_list.unit);
    if (part.is_curved) {
      grouping.add(Machine::shaping, {}, {}, {},
                   {.part = index,
                    .what = "saw to the template",
                    .count = static_cast<int>(part.members.size())});
    }
  }
  return grouping.take();
}

}  // namespace kw
