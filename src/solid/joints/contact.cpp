// Where two boards bear on one another with a flat face each.
#include <algorithm>
#include <cmath>
#include <utility>

#include "joints/kinds.h"
#include "planar/region.h"

namespace kw {
namespace {

constexpr double facing = -0.9999985;  // cosine of 180 degrees less 0.1
constexpr double under_face = 0.02;    // mm into the wood, to tell what a hollow takes of a face

std::vector<Wall> faces_of(const Stick& stick) {
  std::vector<Wall> faces = stick.inner;
  for (const Convex::Side& side : stick.wood.sides)
    faces.push_back({side.plane, loop_of(stick.wood, side)});
  return faces;
}

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

// What a stick's hollows take of a patch in one of its faces; `into` looks into its wood.
void add_cutouts(const Stick& stick, const Plane& plane, Vec3 into, std::vector<Loop>& cutouts) {
  const Vec3 down = into * under_face;
  const Plane below = {plane.normal, plane.offset + dot(down, plane.normal)};
  for (const Convex& hollow : stick.hollows) {
    Loop loop = section_of(below, hollow, hollow);
    for (Vec3& corner : loop) corner = corner - down;
    if (!loop.empty()) cutouts.push_back(std::move(loop));
  }
}

// The largest part of a patch of both boards that is wood on both sides.
Loop wood_of(const Loop& loop, const Plane& plane, const Joining& joining) {
  std::vector<Loop> cutouts;
  add_cutouts(*joining.a.stick, plane, -plane.normal, cutouts);
  add_cutouts(*joining.b.stick, plane, plane.normal, cutouts);
  if (cutouts.empty()) return loop;
  Loop largest;
  double area = 0;
  for (Loop& part : subtract(loop, cutouts, plane.normal)) {
    if (dot(area_vector_of(part), plane.normal) <= area) continue;
    area = dot(area_vector_of(part), plane.normal);
    largest = std::move(part);
  }
  return largest;
}

}  // namespace

std::optional<Patch> contact_of(const Joining& joining) {
  std::optional<Patch> best;
  double largest = 1;  // mm^2: less bears nothing
  const std::vector<Wall> of_b = faces_of(*joining.b.stick);
  for (const Wall& a : faces_of(*joining.a.stick))
    for (const Wall& b : of_b) {
      const Vec3 normal = a.plane.normal;
      if (dot(normal, b.plane.normal) > facing) continue;
      if (std::abs(a.plane.distance(middle_of(b.loop))) > touching) continue;
      // Seen from outside a, b's loop runs clockwise.
      Loop loop = common_loop(a.loop, b.loop, normal);
      if (area_of(loop) < largest * (1 + 1e-9)) continue;
      loop = wood_of(loop, a.plane, joining);
      const double area = area_of(loop);
      if (area < largest * (1 + 1e-9)) continue;
      largest = area;
      best = Patch{a.plane, std::move(loop)};
    }
  return best;
}

}  // namespace kw
