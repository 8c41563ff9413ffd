#include <algorithm>
#include <array>
#include <cmath>

#include "units.h"

namespace kw {
namespace {

constexpr double slack = 1e-3;        // of a direction against a touching face (0.06 degrees)
constexpr std::size_t most_ways = 4;  // that are tried by moving

bool do_meet(const Extent& a, const Extent& b) {
  return a.low.x < b.high.x && b.low.x < a.high.x && a.low.y < b.high.y && b.low.y < a.high.y &&
         a.low.z < b.high.z && b.low.z < a.high.z;
}

struct Way {
  Vec3 along = {};
  double worth = 0;  // how squarely it leaves the faces that touch, 0..1
  bool is_axis = false;
};

// Straight off rather than sliding along; then along an axis of the piece; then the squarest.
bool is_better(const Way& a, const Way& b) {
  constexpr double fair = 0.3;
  if ((a.worth >= fair) != (b.worth >= fair)) return a.worth >= fair;
  if (a.is_axis != b.is_axis) return a.is_axis;
  return a.worth > b.worth + 1e-6;
}

std::vector<Ties::Touch> touches_with(const Ties& ties, const std::vector<int>& moving,
                                      const std::vector<int>& rest) {
  std::vector<Ties::Touch> touches;
  for (const int m : moving) {
    for (const Ties::Touch& t : ties.touches[static_cast<std::size_t>(m)]) {
      if (std::binary_search(rest.begin(), rest.end(), t.other)) touches.push_back(t);
    }
  }
  return touches;
}

std::vector<Vec3> directions_for(const std::vector<Ties::Touch>& touches) {
  std::vector<Vec3> normals;
  const auto add = [&](std::vector<Vec3>& to, Vec3 d) {
    if (norm(d) < 1e-6) return;
    d = unit(d);
    const auto same = [&](Vec3 e) { return dot(d, e) > 1 - 1e-6; };
    if (std::none_of(to.begin(), to.end(), same)) to.push_back(d);
  };
  for (const Ties::Touch& t : touches) {
    if (normals.size() < 12) add(normals, t.away);
  }
  std::vector<Vec3> all;
  for (const Vec3 axis : {Vec3{0, 0, 1}, Vec3{0, -1, 0}, Vec3{1, 0, 0}, Vec3{-1, 0, 0},
                          Vec3{0, 1, 0}, Vec3{0, 0, -1}})
    add(all, axis);
  for (const Vec3 n : normals) add(all, n);
  for (std::size_t i = 0; i < normals.size(); ++i) {
    for (std::size_t j = i + 1; j < normals.size(); ++j) {
      add(all, normals[i] + normals[j]);
      add(all, cross(normals[i], normals[j]));
      add(all, -cross(normals[i], normals[j]));
    }
  }
  return all;
}

std::vector<Way> free_ways(const std::vector<Ties::Touch>& touches) {
  std::vector<Way> ways;
  for (const Vec3 d : directions_for(touches)) {
    double worth = 0, area = 0;
    bool is_free = true;
    for (const Ties::Touch& t : touches) {
      is_free = is_free && dot(d, t.away) >= -slack;
      worth += t.area * dot(d, t.away);
      area += t.area;
    }
    const double along_axis = std::max({std::abs(d.x), std::abs(d.y), std::abs(d.z)});
    if (is_free) ways.push_back({d, area > 0 ? worth / area : 0, along_axis > 1 - 1e-9});
  }
  std::stable_sort(ways.begin(), ways.end(), is_better);
  return ways;
}

bool is_clear(const std::vector<Body>& bodies, const Ties& ties, const std::vector<int>& moving,
              const std::vector<int>& rest, Vec3 along) {
  const Extent own = extent_of(ties, moving);
  const Extent all = joined(own, extent_of(ties, rest));
  const double far = norm(all.high - all.low);
  for (const double share : {0.01, 0.03, 0.06, 0.12, 0.25, 0.5}) {
    const Vec3 move = along * (far * share);
    const Extent moved{own.low + move, own.high + move};
    std::vector<Body> scene;
    for (const int r : rest) {
      if (do_meet(moved, ties.boxes[static_cast<std::size_t>(r)]))
        scene.push_back(bodies[static_cast<std::size_t>(r)]);
    }
    const int still = static_cast<int>(scene.size());
    if (still == 0) continue;
    for (const int m : moving) {
      scene.push_back(bodies[static_cast<std::size_t>(m)]);
      scene.back().frame.origin += move;
    }
    for (const Clash& clash : clashes_in(scene)) {
      if (clash.a < still && clash.b >= still) return false;
    }
  }
  return true;
}

}  // namespace

Extent joined(const Extent& a, const Extent& b) {
  return {
      {std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y), std::min(a.low.z, b.low.z)},
      {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y), std::max(a.high.z, b.high.z)}};
}

Extent extent_of(const Body& body) {
  Extent box;
  const Vec3& l = body.shape->low;
  const Vec3& h = body.shape->high;
  for (int corner = 0; corner < 8; ++corner) {
    const Vec3 p =
        body.frame.to_world(Vec3{(corner & 1) != 0 ? h.x : l.x, (corner & 2) != 0 ? h.y : l.y,
                                 (corner & 4) != 0 ? h.z : l.z});
    box = joined(box, {p, p});
  }
  return box;
}

Extent extent_of(const Ties& ties, const std::vector<int>& bodies) {
  Extent all;
  for (const int b : bodies) all = joined(all, ties.boxes[static_cast<std::size_t>(b)]);
  return all;
}

std::optional<Vec3> way_off(const std::vector<Body>& bodies, const Ties& ties,
                            const std::vector<int>& moving, const std::vector<int>& rest) {
  if (rest.empty()) return Vec3{0, 0, 1};
  std::vector<int> sorted = rest;
  std::sort(sorted.begin(), sorted.end());
  const auto ways = free_ways(touches_with(ties, moving, sorted));
  for (std::size_t i = 0; i < std::min(most_ways, ways.size()); ++i) {
    if (is_clear(bodies, ties, moving, sorted, ways[i].along)) return ways[i].along;
  }
  return std::nullopt;
}

}  // namespace kw
