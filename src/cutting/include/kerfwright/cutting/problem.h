// The sawing plan as a problem of lengths, kerfs, prices and end slopes. Knows nothing of wood.
//
// A stick of stock is sawn across into parts. Between two neighbours the saw takes its kerf; square
// ends lose nothing more. A part's length here is what it takes of the stick along its middle line;
// `left` and `right` are the slopes of its ends (tangent of the angle away from square, signed: the
// cut's lean across the width, positive when the upper edge is shorter at the left end or longer at
// the right end... see `slope` below). Neighbours h, i lose width/2 * |right_h - left_i|.
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

// One kind of part that is wanted `count` times. `slope` is d(x of the cut)/d(y across the stick) at
// each end, as the part lies: a cut running to larger x as y grows is positive. Turning the part end
// for end keeps both slopes but swaps the ends; flipping it over changes the sign of both.
struct Demand {
  std::string name = {};
  Length length = {};       // along the middle line
  int count = 1;
  double left_slope = 0, right_slope = 0;
  bool may_flip = true;     // over its long axis: both slopes change sign
  bool may_turn = true;     // end for end, in its plane: ends change places, slopes keep their sign
};

// One kind of stick that can be had.
struct Stock {
  std::string name = {};
  Length length = {};
  Money price = {};         // 0 for what is on hand
  std::optional<int> count = {};  // how many there are; none: as many as wanted
};

struct Saw {
  Length kerf = {};
  Length end_trim = {};     // taken off each end of each stick before the first part
};

struct Problem {
  std::vector<Demand> demands = {};
  std::vector<Stock> stocks = {};
  Saw saw = {};
  Length width = {};        // of the stick, for angled ends
  Length shortest_offcut = {};  // worth keeping
};

// What the solver may spend and whom it tells.
struct Progress {
  Money best = {}, bound = {};
  double seconds = 0;
};
struct Effort {
  double seconds = 2;       // of one core
  int threads = 1;
  std::uint64_t seed = 1;
  std::function<bool(const Progress&)> on_progress = {};  // false stops the work
};

// One part on one stick, with the way it lies.
struct Placed {
  int demand = 0;           // index into Problem::demands
  Length from = {};         // of its middle line, from the stick's left end
  bool flipped = false, turned = false;
};

struct SawnStick {
  int stock = 0;            // index into Problem::stocks
  std::vector<Placed> parts = {};  // left to right
  Length offcut = {};       // usable length left at the right end, its kerf already taken off
};

struct Plan {
  std::vector<SawnStick> sticks = {};
  Money cost = {};
  Money bound = {};         // no plan can cost less
  bool is_proved = false;   // cost == bound by an integer argument
};

// Faults: cutting.no-stock, cutting.too-long (a part longer than every stick), cutting.bad-number,
// cutting.too-many (over 100,000 parts or 1,000 kinds).
[[nodiscard]] Diagnostics validate(const Problem& problem);

// A plan that makes every part. Needs a problem that `validate` has no error for; a part that fits no
// stick, or a demand that the finite stock cannot meet, is an error (cutting.cannot).
[[nodiscard]] Outcome<Plan> optimise(const Problem& problem, const Effort& effort = {});

// No plan can cost less, in whole coins.
[[nodiscard]] Money lower_bound(const Problem& problem);

// Everything that is wrong with a plan, judged afresh from the problem alone: parts missing or made
// twice, overlaps, kerf or trim not left, sticks that do not exist, flips not allowed, cost or offcut
// misreckoned, a bound above the cost. Shares no code with `optimise`.
[[nodiscard]] Diagnostics verify(const Problem& problem, const Plan& plan);

}  // namespace kw
