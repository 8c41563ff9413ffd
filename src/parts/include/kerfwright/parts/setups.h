// Cuts grouped so that a saw is set once for all cuts that share its setting, and the problem that
// the sawing plan solves.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/parts/cut_list.h"

namespace kw {

enum class Machine : std::uint8_t { rip_saw, mitre_saw, taper, notching, drill, shaping };
[[nodiscard]] std::string_view name_of(Machine machine);

struct SetupCut {
  int part = 0;
  std::string what = {};  // "hook end", "far end", "notch for B", "taper"
  Length stop = {};       // printed: from the blade to the stop; zero where none
  int count = 0;
};

// One state of one machine.
struct Setup {
  Machine machine = Machine::mitre_saw;
  Angle swing = {}, tilt = {};  // printed, without sign: which way is told cut by cut
  Length fence = {};            // rip width, drill depth or notch depth; zero where none
  std::vector<SetupCut> cuts = {};
};

// In the order of work: rips, then crosscuts from the long stops to the short, tapers, notches,
// holes, curves (common practice, no published source).
[[nodiscard]] std::vector<Setup> setups_of(const Resolved& piece, const CutList& cut_list);

// The sticks to be sawn of one stock: the problem, and which part each demand is. Parts ripped
// narrower than half the board come `strips_per_board` side by side. Sheets have their problem in a
// later layer of `cutting` and are not here.
struct StockProblem {
  int stock = 0;
  int strips_per_board = 1;
  Length strip_width = {};
  Problem problem = {};
  std::vector<int> part_of_demand = {};
  bool has_prices = false;  // else a stick's price is its length, so that the least wood is bought
};
[[nodiscard]] std::vector<StockProblem> problems_for(const Resolved& piece,
                                                     const CutList& cut_list);

}  // namespace kw
