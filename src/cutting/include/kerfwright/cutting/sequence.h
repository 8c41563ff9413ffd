// In which order parts are sawn off their sticks, so that a stop is set as seldom as can be.
//
// A part comes off an end of what is left of its stick. While a stop is set, every part that it
// suits and that lies at an end is sawn off, of all sticks. Square parts may change places on their
// stick, so each of their stops is set once where there are no faults; angled parts lie as they
// nest, and a stop may have to be set again. NOTES.md has the search and why its bound holds.
//
//   const Sequence s = sequence_of(problem, plan->sticks);
//   for (const StopSetting& stop : s.settings) set(stop.over_all), saw(stop.cuts);
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw {

struct HoldRules {
  // Neither hand nor clamp holds a shorter one well beside a mitre saw: 8 in (common practice, no
  // published source; saws' manuals ask for hands 4 to 6 in from the blade). A shorter part is
  // sawn off while what is left of its stick is this long, if it can be.
  Length shortest_held = Length::inches(8);
};

// One part sawn off.
struct SawnOff {
  int stick = 0, part = 0;  // indices into the sticks and SawnStick::parts
  bool is_from_left = true;
  Length left_over = {};  // of the stick, between its outermost points, once the part is off
  bool is_hard_to_hold = false;
};

// A state of the stop: for all parts of one length and pair of ends, as they may be turned over.
struct StopSetting {
  Length over_all = {};                  // tip to tip, along the stick
  double near_slope = 0, far_slope = 0;  // of the ends; of opposite signs when they lean apart
  std::vector<SawnOff> cuts = {};
};

struct Sequence {
  std::vector<StopSetting> settings = {};  // in the order of work
  int settings_at_least = 0;               // no order of these sticks has fewer
  int kinds_of_stop = 0;                   // no plan for these parts has fewer
  int hard_to_hold = 0;                    // cuts
  int angle_changes = 0;  // how often the angles differ from one setting to the next
};

// Files work done (`Effort::work` counts the same) and says whether to go on.
using SpendWork = std::function<bool(std::int64_t)>;

// Needs sticks that `verify` has nothing against. Parts of sticks that hold only square ones are
// put into the order of work, from the left. Once `spend` says no, what is left is put in order
// the short way, with stops set more often than need be; none: to the end, which may take a second
// or two for hundreds of angled parts.
[[nodiscard]] Sequence sequence_of(const Problem& problem, std::vector<SawnStick>& sticks,
                                   const HoldRules& rules = {}, const SpendWork& spend = {});

}  // namespace kw
