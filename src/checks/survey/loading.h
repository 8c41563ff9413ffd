// Private to checks: what a piece has to bear, case by case.
#pragma once

#include <string>
#include <vector>

#include "survey/bearing.h"

namespace kw::surveying {

struct LoadCase {
  std::string name = {};
  FrameLoads loads = {};
  Duration duration = Duration::permanent;
  bool is_people = false;
  bool has_passing =
      false;  // more than what stays: its own weight, soil, what lies on it for years
};

// The first is what stays; it alone creeps. Loads without a figure that they need are told as not
// computed.
[[nodiscard]] std::vector<LoadCase> load_cases(Scene& scene, const Bearing& bearing);

inline constexpr std::string_view combination_source =
    "ASCE/SEI 7 combinations for allowable stress (from memory)";

}  // namespace kw::surveying
