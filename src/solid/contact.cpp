#include <algorithm>
#include <cmath>
#include <optional>

#include "cache.h"
#include "planar/polygon.h"
#include "planar/region.h"

namespace kw {
namespace {

constexpr std::size_t most_contacts = 50'000;
constexpr double least_patch = 1;      // mm^2
constexpr double touching = 0.01;      // mm
constexpr double sine = 0.0017453284;  // of 0.1 degree
constexpr double cosine = 0.9999984769;

// A flat face in the world.
struct Flat {
  int face = 0;
  Plane plane = {};
  Box box = {};
  bool is_simple = false;  // one convex outer loop, with or without holes
  std::vector<Loop> loops = {};
};

bool is_convex(const Loop& loop, Vec3 normal) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3 a = loop[i], b = loop[(i + 1) % loop.size()], c = loop[(i + 2) % loop.size()];
    if (dot(cross(b - a, c - b), normal) < -1e-9 * norm(b - a) * norm(c - b)) return false;
  }
  return true;
}

// Outer loops first.
Flat flat_of(const Body& body, int number) {
  const Face& face = body.shape->faces[static_cast<std::size_t>(number)];
  Flat flat{.face = number, .plane = body.frame.to_world(face.plane)};
  std::size_t outers = 0;
  for (const auto& local : face.loops) {
    Loop loop;
    for (const Vec3& p : local) {
      loop.push_back(body.frame.to_world(p));
      flat.box.take_in(loop.back());
    }
    const bool is_outer = dot(area_vector_of(loop), flat.plane.normal) > 0;
    flat.loops.insert(is_outer ? flat.loops.begin() : flat.loops.end(), std::move(loop));
    outers += is_outer ? 1 : 0;
  }
  flat.is_simple = outers == 1 && is_convex(flat.loops[0], flat.plane.normal);
  return flat;
}

std::vector<Flat> flats_of(const Body& body) {
  std::vector<Flat> flats;
  for (std::size_t f = 0; f < body.shape->faces.size(); ++f) {
    if (body.shape->faces[f].cylinder < 0) flats.push_back(flat_of(body, static_cast<int>(f)));
  }
  return flats;
}

// Whether the faces look at one another at such a distance. Faces that are not quite parallel may
// be nearer or further where the patch is than at the middle of a's box.
bool may_meet(const Flat& a, const Flat& b, double widest) {
  if (dot(a.plane.normal, b.plane.normal) > -cosine || !a.box.is_near(b.box, widest)) return false;
  const double gap = b.plane.distance((a.box.low + a.box.high) * 0.5);
  const double slack = sine * norm(a.box.high - a.box.low);
  return gap >= -touching - slack && gap <= widest + slack;
}

// b's face seen from a's outside, moved along a's normal on a's plane.
std::vector<Loop> moved_on(const Flat& a, const Flat& b) {
  std::vector<Loop> loops;
  for (const Loop& loop : b.loops) {
    Loop moved(loop.rbegin(), loop.rend());
    for (Vec3& p : moved) p = p - a.plane.normal * a.plane.distance(p);
    loops.push_back(std::move(moved));
  }
  return loops;
}

// Nothing when the convex loops have no room in common.
Loop common_part(const Loop& a, const Loop& b, Vec3 normal) {
  Loop common = a;
  ClipMemory memory;
  for (std::size_t i = 0; i < b.size(); ++i) {
    const Vec3 out = unit(cross(b[(i + 1) % b.size()] - b[i], normal));
    if (clip(common, {out, dot(out, b[i])}, memory) == Cut::gone) return {};
  }
  return common;
}

std::vector<Loop> patch_of(const Flat& a, const Flat& b) {
  const Vec3 normal = a.plane.normal;
  const std::vector<Loop> on_a = moved_on(a, b);
  if (!a.is_simple || !b.is_simple) return intersect(a.loops, on_a, normal);
  const Loop outer = common_part(a.loops[0], on_a[0], normal);
  if (norm(area_vector_of(outer)) <= least_patch) return {};
  std::vector<Loop> holes;
  for (const auto* loops : {&a.loops, &on_a}) {
    for (std::size_t i = 1; i < loops->size(); ++i) {
      holes.emplace_back((*loops)[i].rbegin(), (*loops)[i].rend());
    }
  }
  return subtract(outer, std::move(holes), normal);
}

// Area and centre of flat loops.
struct Middle {
  double area = 0;
  Vec3 centre = {};
};

Middle middle_of(const std::vector<Loop>& loops, Vec3 normal) {
  Middle middle;
  Vec3 moment;
  for (const Loop& loop : loops) {
    for (std::size_t i = 2; i < loop.size(); ++i) {
      const double area = dot(cross(loop[i - 1] - loop[0], loop[i] - loop[0]), normal) / 2;
      middle.area += area;
      moment += (loop[0] + loop[i - 1] + loop[i] - loops[0][0] * 3) * (area / 3);
    }
  }
  if (middle.area > 0) middle.centre = loops[0][0] + moment * (1 / middle.area);
  return middle;
}

void find_contacts(const std::vector<Flat>& of_a, const std::vector<Flat>& of_b, double widest,
                   const Contact& pair, std::vector<Contact>& found) {
  for (const Flat& a : of_a) {
    for (const Flat& b : of_b) {
      if (!may_meet(a, b, widest)) continue;
      std::vector<Loop> patch = patch_of(a, b);
      const Middle middle = middle_of(patch, a.plane.normal);
      if (middle.area <= least_patch) continue;
      const double slope = -dot(a.plane.normal, b.plane.normal);
      const double gap = b.plane.distance(middle.centre) / slope;
      if (gap < -touching || gap > widest) continue;
      Contact contact = pair;
      contact.face_a = a.face;
      contact.face_b = b.face;
      contact.gap = gap <= touching ? 0 : gap;
      contact.area = {middle.area};
      contact.centre = middle.centre;
      contact.patch = std::move(patch);
      found.push_back(std::move(contact));
    }
  }
}

}  // namespace

std::vector<Contact> contacts_in(const std::vector<Body>& bodies, double widest,
                                 ShapeCache& cache) {
  std::vector<std::optional<std::vector<Flat>>> flats(bodies.size());
  const auto flats_at = [&](int body) -> const std::vector<Flat>& {
    auto& at = flats[static_cast<std::size_t>(body)];
    if (!at) at = flats_of(bodies[static_cast<std::size_t>(body)]);
    return *at;
  };
  const auto look = [&](int a, int b, std::vector<Contact>& found) {
    find_contacts(flats_at(a), flats_at(b), widest, {.a = a, .b = b}, found);
  };
  return find_between(bodies, widest, most_contacts, cache.store().contacts, look);
}

std::vector<Contact> contacts_in(const std::vector<Body>& bodies, double widest) {
  ShapeCache cache;
  return contacts_in(bodies, widest, cache);
}

}  // namespace kw
