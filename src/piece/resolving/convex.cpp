#include "convex.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace kw::resolving {
namespace {

constexpr double on_plane = 1e-9;     // mm
constexpr double same_corner = 1e-7;  // mm

using Loop = std::vector<Vec3>;

// The part of a loop where the distance is not above zero.
Loop clipped(const Loop& loop, const Plane& plane) {
  Loop out;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Vec3 from = loop[i], to = loop[(i + 1) % loop.size()];
    const double before = plane.distance(from), after = plane.distance(to);
    if (before <= on_plane) out.push_back(from);
    if ((before < -on_plane && after > on_plane) || (before > on_plane && after < -on_plane))
      out.push_back(from + (to - from) * (before / (before - after)));
  }
  if (out.size() < 3) out.clear();
  return out;
}

// The corners of a flat convex face in order around it.
Loop loop_around(Vec3 normal, const Loop& corners) {
  Vec3 middle = {};
  for (const Vec3& corner : corners) middle += corner;
  middle = middle * (1.0 / static_cast<double>(corners.size()));
  const Vec3 u = unit(corners.front() - middle), v = cross(normal, u);
  std::vector<std::pair<double, Vec3>> turns;
  for (const Vec3& corner : corners)
    turns.emplace_back(std::atan2(dot(corner - middle, v), dot(corner - middle, u)), corner);
  std::sort(turns.begin(), turns.end(),
            [](const auto& a, const auto& b) { return a.first < b.first; });
  Loop loop;
  for (const auto& [turn, corner] : turns)
    if (loop.empty() || norm(corner - loop.back()) > same_corner) loop.push_back(corner);
  while (loop.size() > 1 && norm(loop.back() - loop.front()) <= same_corner) loop.pop_back();
  return loop;
}

Convex box_of(const Box& box) {
  const double x[] = {box.from_x, box.to_x}, y[] = {-box.half_width, box.half_width},
               z[] = {-box.half_thickness, box.half_thickness};
  const auto at = [&](int i, int j, int k) { return Vec3{x[i], y[j], z[k]}; };
  Convex body;
  body.sides = {{{{-1, 0, 0}, -x[0]}, {at(0, 0, 0), at(0, 0, 1), at(0, 1, 1), at(0, 1, 0)}},
                {{{1, 0, 0}, x[1]}, {at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)}},
                {{{0, -1, 0}, -y[0]}, {at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)}},
                {{{0, 1, 0}, y[1]}, {at(0, 1, 0), at(0, 1, 1), at(1, 1, 1), at(1, 1, 0)}},
                {{{0, 0, -1}, -z[0]}, {at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0)}},
                {{{0, 0, 1}, z[1]}, {at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)}}};
  return body;
}

void cut(Convex& body, const Plane& plane) {
  std::vector<Convex::Side> left;
  Loop rim;
  bool is_cut = false;
  for (Convex::Side& side : body.sides) {
    is_cut = is_cut || std::any_of(side.loop.begin(), side.loop.end(),
                                   [&](Vec3 p) { return plane.distance(p) > on_plane; });
    Loop loop = clipped(side.loop, plane);
    const auto on_rim = [&](Vec3 p) { return std::abs(plane.distance(p)) <= 2 * on_plane; };
    std::copy_if(loop.begin(), loop.end(), std::back_inserter(rim), on_rim);
    // A side that lies in the plane is made anew below.
    if (!loop.empty() && !std::all_of(loop.begin(), loop.end(), on_rim))
      left.push_back({side.plane, std::move(loop)});
  }
  if (!is_cut) return;
  body.sides = std::move(left);
  if (body.sides.empty() || rim.size() < 3) return;
  Loop loop = loop_around(plane.normal, rim);
  if (loop.size() >= 3) body.sides.push_back({plane, std::move(loop)});
}

// Directions that differ, up to their sign.
void add_direction(std::vector<Vec3>& directions, Vec3 direction) {
  for (const Vec3& known : directions)
    if (norm(cross(known, direction)) < 1e-9) return;
  directions.push_back(direction);
}

void place(Convex& body, const Frame& frame) {
  constexpr double far = std::numeric_limits<double>::max();
  body.low = {far, far, far};
  body.high = -body.low;
  for (Convex::Side& side : body.sides) {
    side.plane = frame.to_world(side.plane);
    for (Vec3& corner : side.loop) {
      corner = frame.to_world(corner);
      body.low = {std::min(body.low.x, corner.x), std::min(body.low.y, corner.y),
                  std::min(body.low.z, corner.z)};
      body.high = {std::max(body.high.x, corner.x), std::max(body.high.y, corner.y),
                   std::max(body.high.z, corner.z)};
      const bool is_known = std::any_of(body.corners.begin(), body.corners.end(), [&](Vec3 known) {
        return norm(known - corner) < same_corner;
      });
      if (!is_known) body.corners.push_back(corner);
    }
    for (std::size_t i = 0; i < side.loop.size(); ++i)
      add_direction(body.edges, unit(side.loop[(i + 1) % side.loop.size()] - side.loop[i]));
  }
}

double gap_along(const Convex& a, const Convex& b, Vec3 direction) {
  const Reach of_a = reach_of(a, direction), of_b = reach_of(b, direction);
  return std::max(of_b.from - of_a.to, of_a.from - of_b.to);
}

// Two convex polyhedra that are apart are so along the normal of a side or of an edge of each:
// visits these directions until `visit` says false.
template <class Visit>
void visit_axes(const Convex& a, const Convex& b, const Visit& visit) {
  for (const Convex* body : {&a, &b})
    for (const Convex::Side& side : body->sides)
      if (!visit(side.plane.normal)) return;
  for (const Vec3& of_a : a.edges)
    for (const Vec3& of_b : b.edges) {
      const Vec3 normal = cross(of_a, of_b);
      if (norm(normal) >= 1e-6 && !visit(unit(normal))) return;
    }
}

}  // namespace

Convex convex_of(const Box& box, const std::vector<Plane>& cuts, const Frame& frame) {
  Convex body = box_of(box);
  for (const Plane& plane : cuts) cut(body, plane);
  place(body, frame);
  return body;
}

Reach reach_of(const Convex& body, Vec3 direction) {
  Reach reach{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest()};
  for (const Vec3& corner : body.corners) {
    const double along = dot(direction, corner);
    reach = {std::min(reach.from, along), std::max(reach.to, along)};
  }
  return reach;
}

double gap_between(const Convex& a, const Convex& b, double enough) {
  double widest = 0;
  visit_axes(a, b, [&](Vec3 axis) {
    widest = std::max(widest, gap_along(a, b, axis));
    return widest <= enough;
  });
  return widest;
}

bool meet_in_an_edge(const Convex& a, const Convex& b, double by) {
  constexpr double same_way = 0.9;  // cosine: directions nearer than that are one
  std::vector<Vec3> narrow;
  visit_axes(a, b, [&](Vec3 axis) {
    const auto is_same = [&](Vec3 other) { return std::abs(dot(axis, other)) > same_way; };
    if (gap_along(a, b, axis) > -by && std::none_of(narrow.begin(), narrow.end(), is_same))
      narrow.push_back(axis);
    return narrow.size() < 2;
  });
  return narrow.size() > 1;
}

bool are_boxes_apart(const Convex& a, const Convex& b, double by) {
  return a.low.x > b.high.x + by || b.low.x > a.high.x + by || a.low.y > b.high.y + by ||
         b.low.y > a.high.y + by || a.low.z > b.high.z + by || b.low.z > a.high.z + by;
}

}  // namespace kw::resolving
