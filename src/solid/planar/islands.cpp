#include "islands.h"

namespace kw {
namespace {

std::vector<Vec2> flattened(const Net& net, const Ring& ring, const FlatView& view) {
  std::vector<Vec2> corners;
  for (const std::uint32_t p : ring.points) corners.push_back(view.flat(net.points[p]));
  return corners;
}

double doubled_area(const std::vector<Vec2>& ring) {
  double sum = 0;
  for (std::size_t i = 2; i < ring.size(); ++i) {
    sum += cross(ring[i - 1] - ring[0], ring[i] - ring[0]);
  }
  return sum;
}

bool holds(const std::vector<Vec2>& ring, Vec2 p) {
  bool is_inside = false;
  Vec2 a = ring.back();
  for (const Vec2& b : ring) {
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y))) {
      is_inside = !is_inside;
    }
    a = b;
  }
  return is_inside;
}

// A hole may touch its outer ring: the ring that holds most of its corners is the one, of those
// that hold as many the smallest.
std::size_t home_of(const std::vector<Vec2>& hole, const std::vector<std::vector<Vec2>>& outers) {
  std::size_t best = 0, most = 0;
  double smallest = 0;
  for (std::size_t i = 0; i < outers.size(); ++i) {
    std::size_t held = 0;
    for (const Vec2& p : hole) held += holds(outers[i], p) ? 1 : 0;
    const double area = doubled_area(outers[i]);
    if (i == 0 || held > most || (held == most && area < smallest)) {
      best = i;
      most = held;
      smallest = area;
    }
  }
  return best;
}

void group(const Net& net, const std::vector<Face>& faces, const std::vector<int>& rings,
           std::vector<std::vector<int>>& islands) {
  const Ring& first = net.rings[static_cast<std::size_t>(rings[0])];
  if (rings.size() == 1) {
    islands.push_back(rings);
    return;
  }
  const Vec3 normal = faces[static_cast<std::size_t>(first.face)].plane.normal;
  const FlatView view(normal, net.points[first.points[0]]);
  const std::size_t begin = islands.size();
  std::vector<std::vector<Vec2>> outers, holes;
  std::vector<int> hole_rings;
  for (const int r : rings) {
    auto flat = flattened(net, net.rings[static_cast<std::size_t>(r)], view);
    const bool is_outer = doubled_area(flat) > 0;
    if (is_outer) islands.push_back({r});
    if (!is_outer) hole_rings.push_back(r);
    (is_outer ? outers : holes).push_back(std::move(flat));
  }
  for (std::size_t h = 0; h < holes.size(); ++h) {
    if (outers.empty()) {
      islands.push_back({hole_rings[h]});
    } else {
      const std::size_t home = outers.size() == 1 ? 0 : home_of(holes[h], outers);
      islands[begin + home].push_back(hole_rings[h]);
    }
  }
}

}  // namespace

std::vector<std::vector<int>> islands_in(const Net& net, const std::vector<Face>& faces) {
  std::vector<std::vector<int>> islands;
  std::vector<int> rings;
  for (std::size_t r = 0; r < net.rings.size(); ++r) {
    rings.push_back(static_cast<int>(r));
    if (r + 1 < net.rings.size() && net.rings[r + 1].face == net.rings[r].face) continue;
    group(net, faces, rings, islands);
    rings.clear();
  }
  return islands;
}

}  // namespace kw
