#include "stick.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "own_cuts.h"

namespace kw {
namespace {

// A square in the plane, wide enough to reach past the solid on every side.
Loop sheet_past(const Plane& plane, const Convex& solid) {
  const Vec3 away = std::abs(plane.normal.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  const Vec3 u = unit(cross(plane.normal, away)), v = cross(plane.normal, u);
  const Vec3 foot = solid.points.front() - plane.normal * plane.distance(solid.points.front());
  double far = 1;
  for (const Vec3& point : solid.points) far = std::max(far, 2 * norm(point - foot));
  return {foot + (u + v) * far, foot + (v - u) * far, foot - (u + v) * far, foot + (u - v) * far};
}

// Keeps what lies behind the plane; a loop in the plane itself stays.
bool keeps(Loop& loop, const Plane& plane, ClipMemory& memory) {
  return clip(loop, plane, memory) != Cut::gone;
}

void to_world(Convex& solid, const Frame& frame) {
  for (Vec3& point : solid.points) point = frame.to_world(point);
  for (Convex::Side& side : solid.sides) side.plane = frame.to_world(side.plane);
}

// A hollow of the outline, cut out of the stick (all still in the board's frame).
void add_hollow(const Hollow& hollow, Stick& stick) {
  Convex taken = stick.wood;
  Knife knife;
  for (std::size_t i = 0; i < hollow.points.size(); ++i) {
    const Vec2 from = hollow.points[i], to = hollow.points[(i + 1) % hollow.points.size()];
    if (norm(to - from) < 1e-9) continue;
    knife.cut(taken, side_of(from, to), static_cast<int>(i));
  }
  for (const Convex::Side& side : taken.sides) {
    const bool is_straight =
        side.source >= 0 && hollow.curves[static_cast<std::size_t>(side.source)] == -1;
    if (!is_straight) continue;
    // Seen from within the hollow, from where the wood's face is seen, the loop runs the other way.
    Loop loop = loop_of(taken, side);
    std::reverse(loop.begin(), loop.end());
    stick.inner.push_back({{-side.plane.normal, -side.plane.offset}, std::move(loop)});
  }
  if (!taken.is_empty()) stick.hollows.push_back(std::move(taken));
}

}  // namespace

Stick stick_of(const ResolvedBoard& board, const Recipe& recipe) {
  Stick stick{.frame = board.frame};
  const Vec3 high = {recipe.to_x, recipe.half_width, recipe.half_thickness};
  stick.wood = convex_box({recipe.from_x, -high.y, -high.z}, high);
  for (Convex::Side& side : stick.wood.sides) side.source = -1;
  Knife knife;
  for (const Recipe::Trim& trim : recipe.trims) knife.cut(stick.wood, trim.plane, -1);
  for (const Hollow& hollow : board.hollows) add_hollow(hollow, stick);
  to_world(stick.wood, board.frame);
  for (Convex& hollow : stick.hollows) to_world(hollow, board.frame);
  for (Wall& wall : stick.inner) {
    wall.plane = board.frame.to_world(wall.plane);
    for (Vec3& corner : wall.loop) corner = board.frame.to_world(corner);
  }
  return stick;
}

Reach reach_of(const Convex& solid, Vec3 direction) {
  Reach reach{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  for (const Vec3& point : solid.points) {
    reach.from = std::min(reach.from, dot(direction, point));
    reach.to = std::max(reach.to, dot(direction, point));
  }
  return reach;
}

Loop section_of(const Plane& plane, const Convex& a, const Convex& b) {
  if (a.is_empty() || b.is_empty()) return {};
  Loop loop = sheet_past(plane, a);
  ClipMemory memory;
  for (const Convex* solid : {&a, &b})
    for (const Convex::Side& side : solid->sides)
      if (!keeps(loop, side.plane, memory)) return {};
  return loop;
}

double gap_between(const Convex& a, const Convex& b) {
  double widest = 0;
  for (const auto& [one, other] : {std::pair{&a, &b}, std::pair{&b, &a}})
    for (const Convex::Side& side : one->sides)
      widest = std::max(widest, reach_of(*other, side.plane.normal).from - side.plane.offset);
  return widest;
}

std::optional<Reach> line_through(const Convex& solid, Vec3 point, Vec3 direction) {
  Reach inside{std::numeric_limits<double>::lowest(), std::numeric_limits<double>::max()};
  for (const Convex::Side& side : solid.sides) {
    const double across = dot(side.plane.normal, direction), distance = side.plane.distance(point);
    if (std::abs(across) < 1e-12 && distance > no_length) return std::nullopt;
    if (std::abs(across) < 1e-12) continue;
    const double t = -distance / across;
    if (across > 0)
      inside.to = std::min(inside.to, t);
    else
      inside.from = std::max(inside.from, t);
  }
  if (solid.is_empty() || inside.to <= inside.from) return std::nullopt;
  return inside;
}

double area_of(const Loop& loop) {
  return norm(area_vector_of(loop));
}

Vec3 middle_of(const Loop& loop) {
  const Vec3 normal = unit(area_vector_of(loop));
  Vec3 sum = {};
  double twice = 0;
  for (std::size_t i = 2; i < loop.size(); ++i) {
    const Vec3 u = loop[i - 1] - loop[0], v = loop[i] - loop[0];
    const double share = dot(cross(u, v), normal);
    sum += (u + v) * share;
    twice += share;
  }
  if (twice > 0) return loop[0] + sum * (1 / (3 * twice));
  return loop.empty() ? sum : loop[0];
}

}  // namespace kw
