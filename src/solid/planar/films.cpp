#include "films.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "net.h"

namespace kw {
namespace {

struct Step {
  std::uint32_t from = 0, to = 0;
  double angle = 0;  // of the way it goes, about the normal
  bool is_used = false;
};

// The edges of the net that do not run back along one another.
std::vector<Step> steps_of(const Net& net, const FlatView& view) {
  std::vector<Step> steps;
  for (const Ring& ring : net.rings) {
    std::uint32_t from = ring.points.back();
    for (const std::uint32_t to : ring.points) {
      const Vec2 way = view.flat(net.points[to]) - view.flat(net.points[from]);
      steps.push_back({from, to, std::atan2(way.y, way.x)});
      from = to;
    }
  }
  for (Step& step : steps) {
    const auto back = std::find_if(steps.begin(), steps.end(), [&](const Step& other) {
      return !step.is_used && !other.is_used && other.from == step.to && other.to == step.from;
    });
    if (back != steps.end()) step.is_used = back->is_used = true;
  }
  std::erase_if(steps, [](const Step& step) { return step.is_used; });
  return steps;
}

// The unused step from where `step` ends that turns most to the left, so that borders which only
// touch stay apart.
Step* after(const Step& step, std::vector<Step>& steps) {
  constexpr double full = 2 * std::numbers::pi;
  Step* best = nullptr;
  double least = 0;
  for (Step& next : steps) {
    if (next.is_used || next.from != step.to) continue;
    double turn = step.angle + std::numbers::pi - next.angle;  // clockwise, from the way back
    while (turn <= 0) turn += full;
    while (turn > full) turn -= full;
    if (best != nullptr && turn >= least) continue;
    best = &next;
    least = turn;
  }
  return best;
}

}  // namespace

std::vector<Loop> without_films(std::vector<Loop> loops, Vec3 normal) {
  if (loops.empty()) return loops;
  Net net = net_of({Face{.plane = {normal, 0}, .loops = loops}});
  if (!split_at_corners(net)) return loops;
  std::vector<Step> steps = steps_of(net, FlatView(normal, loops[0][0]));
  std::vector<Loop> parted;
  for (Step& start : steps) {
    Loop loop;
    for (Step* step = &start; step != nullptr && !step->is_used; step = after(*step, steps)) {
      step->is_used = true;
      loop.push_back(net.points[step->from]);
    }
    tidy(loop);
    if (!loop.empty()) parted.push_back(std::move(loop));
  }
  return parted;
}

}  // namespace kw
