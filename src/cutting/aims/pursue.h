// What comes after money: the offcuts worth most, then the fewest layouts.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "stick.h"
#include "work.h"

namespace kw::cutting {

struct Pursued {
  std::vector<Stick> sticks = {};
  std::int64_t cost = 0, kept = 0;
  std::optional<std::int64_t> kept_at_most = {};
  int layouts = 0, layouts_at_least = 0;
  bool is_cheapest = false;          // proved on the way: nothing costs less
  std::vector<Pursued> others = {};  // dearer, or less kept; fewer layouts, one by one
};

struct PursuitLimits {
  std::int64_t hold = 0;   // what one of the others may cost more
  std::int64_t units = 0;  // of work
  Random& random;
  Work& work;
};

// Starts from sticks that make every part. Never dearer; at the same money never less kept; then
// never more layouts.
[[nodiscard]] Pursued pursue(const Problem& problem, const Model& model,
                             const std::vector<Stick>& sticks, const PursuitLimits& limits);

}  // namespace kw::cutting
