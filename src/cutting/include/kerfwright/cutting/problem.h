// The sawing plan as a problem of lengths, kerfs, prices and end slopes. Knows nothing of wood.
//
// Sticks of stock are sawn across into parts, square or at an angle, for the least money. x runs
// along the stick, y across it, 0 on its middle line. NOTES.md beside the module has the geometry
// in formulas; in short: the first part starts and the last one ends within the trimmed stick, and
// between neighbours h, i the middle lines lie apart by
//     width/2 * |right slope of h - left slope of i| + kerf / cos(the steeper of the two cuts).
// No kerf is asked for where the last part ends at the end of the stick.
//
// Guarantees: `verify` accepts every plan of `optimise`; lengths and money are whole numbers; the
// same problem and effort give the same plan unless the clock or the caller stops the work.
//
//   Problem p{.demands = {{.name = "leg", .length = Length::inches(30), .count = 4}},
//             .stocks = {{.name = "8 ft", .length = Length::inches(96), .price = {598}}},
//             .saw = {.kerf = Length::inches(0.125)}};
//   if (auto plan = optimise(p)) show(plan->sticks, plan->cost, plan->is_proved);
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/length.h"
#include "kerfwright/measure/money.h"

namespace kw {

// One kind of part that is wanted `count` times. A slope is dx/dy along the cut at that end, as the
// part lies when neither turned nor flipped: 0 is square, a cut that runs to larger x as y grows is
// positive. Its edges are `length -+ width/2 * (right_slope - left_slope)` long; neither may be
// negative (0 is a triangle).
struct Demand {
  std::string name = {};
  Length length = {};  // along the middle line, from cut to cut
  int count = 1;
  double left_slope = 0, right_slope = 0;
  bool may_flip = true;  // over its long axis: the ends stay, both slopes change sign
  bool may_turn = true;  // half round in its plane: the ends change places, slopes keep their sign
};

// A stretch of a stick, across its whole width, that no part may reach into: a knot, a split,
// paint. It counts as at least as long as the widest cut of the saw at any part's end, so that
// parts on both of its sides never share a kerf.
struct FaultyZone {
  Length from = {}, length = {};  // from the stick's left end; may run into the trim
};

// One kind of stick that can be had; its ends are square.
struct Stock {
  std::string name = {};
  Length length = {};
  Money price = {};                     // of one; 0 for what is on hand
  std::optional<int> count = {};        // how many there are; none: as many as wanted
  std::vector<FaultyZone> faults = {};  // of each of them, in any order; they may overlap
};

struct Saw {
  Length kerf = {};
  Length end_trim = {};  // of each end of each stick, where no part may lie; holds its own kerf
};

// What an offcut of at least `from` is worth; the longest `from` that it reaches counts.
struct OffcutWorth {
  Length from = {};
  Money worth = {};
};

struct Problem {
  std::vector<Demand> demands = {};
  std::vector<Stock> stocks = {};
  Saw saw = {};
  Length width = {};            // of every stick; matters only where ends are angled
  Length shortest_offcut = {};  // worth keeping; 0: none is
  // By length; none: an offcut is worth its length, a coin for each whole millimetre.
  std::vector<OffcutWorth> offcut_worths = {};
  LengthUnit unit = LengthUnit::inch;  // in which the messages speak
};

// How far the work is. `best` is none until there is a plan that makes every part.
struct Progress {
  std::optional<Money> best = {};
  Money bound = {};
  double seconds = 0;  // since the start
};

// What the optimiser may spend and whom it tells.
struct Effort {
  double seconds = 2;  // of the clock, after which the work stops wherever it is
  // Steps of work; none: about what half of `seconds` allows. The same plan on every machine needs
  // the same work, and seconds enough for it.
  std::optional<std::int64_t> work = {};
  std::optional<Money> hold = {};  // most that an alternative may cost more; none: a tenth
  bool money_only = false;         // stops at the cheapest plan: no aims, no alternatives
  std::uint64_t seed = 1;          // of the random choices
  std::function<bool(const Progress&)> on_progress = {};  // false stops the work; must not throw
};

// One part on one stick, with the way it lies.
struct Placed {
  int demand = 0;    // index into Problem::demands
  Length from = {};  // where its middle line starts, from the stick's left end
  bool flipped = false, turned = false;
};

struct SawnStick {
  int stock = 0;                   // index into Problem::stocks
  std::vector<Placed> parts = {};  // left to right
  // Square and clear, from behind the last cut's kerf and the last fault to the right trim; 0 if
  // nothing is left.
  Length offcut = {};
};

// How well a plan does at what comes after money.
struct Aims {
  // Worth of the offcuts worth keeping, less that of the sticks of finite count that were used.
  Money kept = {};
  std::optional<Money> kept_at_most = {};  // by any plan of this cost; none: not known
  // Sticks of one stock with the same parts on them have one layout. A stop is a setting of the saw
  // for parts of one length and one pair of ends; it is set again when the parts of a stick, taken
  // off from its ends, cannot come in one go (sequence.h).
  int layouts = 0, layouts_at_least = 0;  // the bound: of any plan of this cost and this `kept`
  int stops = 0, stops_at_least = 0;
  [[nodiscard]] int setups() const { return layouts + stops; }
  [[nodiscard]] int setups_at_least() const { return layouts_at_least + stops_at_least; }
};

// Another plan: dearer, with fewer set-ups.
struct Alternative {
  std::vector<SawnStick> sticks = {};
  Money cost = {};
  Aims aims = {};
};

struct Plan {
  std::vector<SawnStick> sticks = {};
  Money cost = {};
  Money bound = {};        // no plan can cost less
  bool is_proved = false;  // cost == bound
  std::optional<Aims> aims = {};
  std::vector<Alternative> alternatives = {};  // dearer and dearer, set-ups fewer and fewer
};

// Why a problem cannot be worked on. Errors: cutting.bad-number, cutting.no-stock, cutting.too-long
// (a part that no stick can hold), cutting.too-many (over 100,000 parts, 1,000 demands, 1,000
// stocks or 100 faults of one).
[[nodiscard]] Diagnostics validate(const Problem& problem);

// A plan that makes every part: least money first, then the offcuts worth most, then the fewest
// set-ups, then least stock used up. Errors: those of `validate`, or cutting.cannot when the stock
// does not suffice (proved) or no plan was found within the effort (the message says which).
[[nodiscard]] Outcome<Plan> optimise(const Problem& problem, const Effort& effort = {});

// No plan can cost less, by an integer argument (NOTES.md); quick, so a plan may know a better one.
// The largest Money when the stock is
// proved not to suffice; 0 when `validate` has an error.
[[nodiscard]] Money lower_bound(const Problem& problem);

// Everything that is wrong with a plan, judged afresh from the problem alone, to a sixteenth of a
// tick. Errors: those of `validate`, cutting.plan-stick, cutting.plan-count, cutting.plan-overlap,
// cutting.plan-outside, cutting.plan-fault, cutting.plan-lie, cutting.plan-offcut,
// cutting.plan-cost, cutting.plan-bound, cutting.plan-aims. Shares no code with `optimise`.
[[nodiscard]] Diagnostics verify(const Problem& problem, const Plan& plan);

}  // namespace kw
