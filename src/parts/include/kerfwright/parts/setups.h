// Cuts grouped so that a saw is set once for all cuts that share its setting.
#pragma once

#include <string>
#include <vector>

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
  Length fence = {};            // rip width, bit as it is sold, or notch depth; zero: none
  std::vector<SetupCut> cuts = {};
};

// In the order of work: rips, then crosscuts from the long stops to the short, tapers, notches,
// holes, curves (common practice, no published source).
[[nodiscard]] std::vector<Setup> setups_of(const Resolved& piece, const CutList& cut_list);

}  // namespace kw
