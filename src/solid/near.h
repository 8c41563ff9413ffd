// Private to solid: which bodies are near one another, and which of those pairs were worked out
// before.
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

#include "kerfwright/solid/body.h"

#include "planar/box.h"

namespace kw {

// A box in the world around each body.
[[nodiscard]] std::vector<Box> boxes_of(const std::vector<Body>& bodies);

using Pairs = std::vector<std::pair<int, int>>;

// Pairs whose boxes touch when each way is `slack` mm wider; first < second, in order. Pairs of
// settled bodies (see Carried) are left out. Sweeps along the axis on which the boxes lie furthest
// apart.
struct Carried;
[[nodiscard]] Pairs pairs_near(const std::vector<Box>& boxes, double slack, const Carried& carried);

// For each body now the body of `before` that had the same shape in the same place, or -1. Each is
// taken once.
struct Carried {
  std::vector<int> before = {};
  // Nothing about the pair changed, so what was found for it before still holds.
  [[nodiscard]] bool is_settled(int a, int b) const {
    const int old_a = before[static_cast<std::size_t>(a)],
              old_b = before[static_cast<std::size_t>(b)];
    return old_a >= 0 && old_b >= 0 && old_a < old_b;
  }
};
[[nodiscard]] Carried carried_over(const std::vector<Body>& before, const std::vector<Body>& now);

// What was found between pairs of bodies last time (Found has members a and b).
template <class Found>
struct Told {
  std::vector<Body> bodies = {};
  double slack = 0;
  std::vector<Found> found = {};
};

// Finds something between all pairs near one another: what is settled is taken from `told`, for
// other pairs `look(a, b, found)` adds to `found`. In the order of the pairs; at most `most`, the
// first of them. The answer is the same whatever `told` holds, and is told in turn.
template <class Found, class Look>
std::vector<Found> find_between(const std::vector<Body>& bodies, double slack, std::size_t most,
                                Told<Found>& told, Look look) {
  if (told.slack != slack) told = {};
  const Carried carried = carried_over(told.bodies, bodies);
  std::vector<int> now(told.bodies.size(), -1);
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (carried.before[i] >= 0)
      now[static_cast<std::size_t>(carried.before[i])] = static_cast<int>(i);
  }
  std::vector<Found> all;
  for (const Pairs pairs = pairs_near(boxes_of(bodies), slack, carried);
       const auto& [a, b] : pairs) {
    look(a, b, all);
    if (all.size() >= most) break;
  }
  for (Found& old : told.found) {
    const int a = now[static_cast<std::size_t>(old.a)], b = now[static_cast<std::size_t>(old.b)];
    if (a < 0 || b < 0 || a > b) continue;
    old.a = a;
    old.b = b;
    all.push_back(std::move(old));
  }
  std::stable_sort(all.begin(), all.end(), [](const Found& x, const Found& y) {
    return std::pair(x.a, x.b) < std::pair(y.a, y.b);
  });
  const bool is_all = all.size() < most;
  all.resize(std::min(all.size(), most));
  told = is_all ? Told<Found>{bodies, slack, all} : Told<Found>{};
  return all;
}

}  // namespace kw
