// Private to solid: upright boxes, for telling quickly that things are far apart.
#pragma once

#include <algorithm>
#include <limits>
#include <span>

#include "kerfwright/measure/vector.h"

namespace kw {

struct Box {
  static constexpr double none = std::numeric_limits<double>::infinity();
  Vec3 low = {none, none, none}, high = {-none, -none, -none};  // holds nothing yet

  void take_in(Vec3 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  // Whether the boxes touch when each way is `slack` mm wider.
  [[nodiscard]] bool is_near(const Box& other, double slack) const {
    return low.x <= other.high.x + slack && other.low.x <= high.x + slack &&
           low.y <= other.high.y + slack && other.low.y <= high.y + slack &&
           low.z <= other.high.z + slack && other.low.z <= high.z + slack;
  }
};

[[nodiscard]] inline Box box_around(std::span<const Vec3> points) {
  Box box;
  for (const Vec3& p : points) box.take_in(p);
  return box;
}

}  // namespace kw
