// Private to parts: in which order units are put together.
#pragma once

#include <optional>
#include <vector>

#include "units.h"

namespace kw {

struct PutOn {
  int unit = 0;
  std::optional<Vec3> from = {};  // none: no way was found, or it is the first
};
struct Order {
  std::vector<PutOn> puts = {};  // in order of work
  int at_once = 1;               // so many of the first lock one another; 1: none
};

// Takes off, one after another, what can be drawn off the rest, and turns that round. Among those
// that can: the highest `step` of the file first, then what leaves the rest joined, what is of the
// kind just taken off, what has the fewest joints, what lies highest.
[[nodiscard]] Order order_of(const Resolved& piece, const std::vector<Body>& bodies,
                             const Ties& ties, const std::vector<PutUnit>& units);

}  // namespace kw
