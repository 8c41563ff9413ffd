// Where two sticks bear on one another with a flat face each.
#include <algorithm>
#include <cmath>

#include "joints/kinds.h"

namespace kw {
namespace {

constexpr double facing = -0.9999985;  // cosine of 180 degrees less 0.1

// The part of one face's loop that lies over another loop, seen along `normal`.
Loop common_loop(Loop loop, const Loop& other, Vec3 normal) {
  ClipMemory memory;
  for (std::size_t i = 0; i < other.size(); ++i) {
    const Vec3 from = other[i], to = other[(i + 1) % other.size()];
    const Vec3 out = unit(cross(normal, to - from));
    const Cut cut = clip(loop, {out, dot(out, from)}, memory);
    if (cut == Cut::gone || cut == Cut::flush) return {};
  }
  return loop;
}

}  // namespace

std::optional<Patch> contact_of(const Joining& joining) {
  std::optional<Patch> best;
  double largest = 1;  // mm^2: less bears nothing
  const Convex &a = joining.a.stick->wood, &b = joining.b.stick->wood;
  for (const Convex::Side& of_a : a.sides)
    for (const Convex::Side& of_b : b.sides) {
      const Vec3 normal = of_a.plane.normal;
      if (dot(normal, of_b.plane.normal) > facing) continue;
      const Loop other = loop_of(b, of_b);
      if (std::abs(of_a.plane.distance(middle_of(other))) > touching) continue;
      // Seen from outside a, b's loop runs clockwise.
      Loop loop = common_loop(loop_of(a, of_a), other, normal);
      const double area = area_of(loop);
      if (area < largest * (1 + 1e-9)) continue;
      largest = area;
      best = Patch{of_a.plane, std::move(loop)};
    }
  return best;
}

}  // namespace kw
