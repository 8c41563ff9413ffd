// Whole plans from the relaxation: patterns fixed one after another, with few second choices.
#pragma once

#include <optional>
#include <vector>

#include "lengths/relaxation.h"

namespace kw::cutting::lengths {

struct Dived {
  std::optional<std::vector<Laid>> plan = {};  // costs no more than the stand's target
  bool is_stopped = false;
};

// `most_second_choices` along one way down. Deterministic.
[[nodiscard]] Dived dive(const Instance& instance, const Stand& stand, int most_second_choices,
                         int most_steps, Relaxation& relaxation);

}  // namespace kw::cutting::lengths
