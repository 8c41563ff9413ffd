// Whole plans from the relaxation: patterns fixed one after another, with few second choices.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "lengths/relaxation.h"

namespace kw::cutting::lengths {

struct Dived {
  std::optional<std::vector<Laid>> plan = {};  // costs at most the stand's target and what is spare
  bool is_stopped = false;
};

struct DiveHow {
  int second_choices = 0;  // along one way down
  int steps = 0;           // at most
  std::int64_t spare = 0;  // coins by which the target may be raised where it is out of reach
  std::uint64_t seed = 0;  // 0: the fullest patterns first, else with some luck
};

// Deterministic.
[[nodiscard]] Dived dive(const Instance& instance, const Stand& stand, const DiveHow& how,
                         Relaxation& relaxation);

}  // namespace kw::cutting::lengths
