#include "net.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "edges.h"
#include "islands.h"
#include "polygon.h"
#include "solid_sum.h"

namespace kw {
namespace {

constexpr double on_seam = 1.5e-4;  // mm: corners moved by up to one_point lie this near to an edge

// Finds the point that a corner falls together with, by cells of space. Cells are shifted by an odd
// fraction, so that round measures do not stand on their walls.
class Welder {
 public:
  Welder(std::vector<Vec3>& points, std::size_t corners) : points_(points) {
    std::size_t size = 16;
    while (size < 2 * corners) size *= 2;
    heads_.assign(size, -1);
  }

  std::uint32_t number_of(Vec3 p) {
    const auto low = [](double v) { return std::floor((v - one_point) * per_mm + shift); };
    const auto high = [](double v) { return std::floor((v + one_point) * per_mm + shift); };
    for (double x = low(p.x); x <= high(p.x); ++x) {
      for (double y = low(p.y); y <= high(p.y); ++y) {
        for (double z = low(p.z); z <= high(p.z); ++z) {
          for (int i = heads_[slot(x, y, z)]; i >= 0; i = next_[static_cast<std::size_t>(i)]) {
            const Vec3 apart = points_[static_cast<std::size_t>(i)] - p;
            if (dot(apart, apart) <= one_point * one_point) return static_cast<std::uint32_t>(i);
          }
        }
      }
    }
    return add(p);
  }

 private:
  static constexpr double per_mm = 5, shift = 0.3819660112501051;

  std::uint32_t add(Vec3 p) {
    const auto cell = [](double v) { return std::floor(v * per_mm + shift); };
    const std::size_t at = slot(cell(p.x), cell(p.y), cell(p.z));
    const auto number = static_cast<std::uint32_t>(points_.size());
    points_.push_back(p);
    next_.push_back(heads_[at]);
    heads_[at] = static_cast<int>(number);
    return number;
  }

  [[nodiscard]] std::size_t slot(double x, double y, double z) const {
    const auto whole = [](double v) {
      return static_cast<std::uint64_t>(static_cast<std::int64_t>(v));
    };
    std::uint64_t h = whole(x) * 0x9E3779B97F4A7C15u + whole(y) * 0xC2B2AE3D27D4EB4Fu +
                      whole(z) * 0x165667B19E3779F9u;
    h ^= h >> 29;
    return static_cast<std::size_t>((h * 0xBF58476D1CE4E5B9u) >> 20) & (heads_.size() - 1);
  }

  std::vector<Vec3>& points_;
  std::vector<int> heads_ = {}, next_ = {};
};

// Adds a closed walk as rings that meet no point twice; ways out and back vanish.
void add_simple(std::vector<Ring>& rings, int face, const std::vector<std::uint32_t>& walk) {
  std::vector<std::uint32_t> way;
  for (const std::uint32_t point : walk) {
    const auto met = std::find(way.begin(), way.end(), point);
    if (way.end() - met > 2) rings.push_back({face, {met, way.end()}});
    way.erase(met, way.end());
    way.push_back(point);
  }
  if (way.size() > 2) rings.push_back({face, std::move(way)});
}

std::uint64_t undirected(std::uint32_t a, std::uint32_t b) {
  return (static_cast<std::uint64_t>(std::min(a, b)) << 32) | std::max(a, b);
}

// For each edge to be split the points on it, in order from its lower to its higher number.
using Splits = std::map<std::uint64_t, std::vector<std::uint32_t>>;

std::vector<std::uint32_t> points_between(const Net& net, std::uint32_t a, std::uint32_t b,
                                          const std::vector<std::uint32_t>& among) {
  const Vec3 start = net.points[a];
  const Vec3 way = net.points[b] - start;
  const double length = norm(way);
  const Vec3 along = way * (1 / length);
  std::vector<std::pair<double, std::uint32_t>> found;
  for (const std::uint32_t p : among) {
    if (p == a || p == b) continue;
    const Vec3 to = net.points[p] - start;
    const double t = dot(to, along);
    if (t <= 0 || t >= length || norm(to - along * t) > on_seam) continue;
    found.emplace_back(t, p);
  }
  std::sort(found.begin(), found.end());
  std::vector<std::uint32_t> points;
  for (const auto& [t, p] : found) points.push_back(p);
  return points;
}

// The edges that are wanting: one for each time that an edge is used oftener the other way.
std::vector<NetEdge> missing_in(const Net& net) {
  const EdgeTable edges(net);
  std::vector<NetEdge> missing;
  for (const NetEdge& e : edges.all()) {
    const int forth = edges.use_of(e.from, e.to).count, back = edges.use_of(e.to, e.from).count;
    const NetEdge wanted = {e.to, e.from, e.ring};
    const auto is_same = [&](const NetEdge& m) { return m.from == e.to && m.to == e.from; };
    if (forth <= back) continue;
    if (forth > 1 && std::any_of(missing.begin(), missing.end(), is_same)) continue;
    missing.insert(missing.end(), static_cast<std::size_t>(forth - back), wanted);
  }
  return missing;
}

Splits splits_of(const Net& net, const std::vector<NetEdge>& open) {
  std::vector<std::uint32_t> ends;
  for (const NetEdge& e : open) {
    ends.push_back(e.from);
    ends.push_back(e.to);
  }
  std::sort(ends.begin(), ends.end());
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  Splits splits;
  for (const NetEdge& e : open) {
    auto between = points_between(net, std::min(e.from, e.to), std::max(e.from, e.to), ends);
    if (!between.empty()) splits.emplace(undirected(e.from, e.to), std::move(between));
  }
  return splits;
}

// As many edges are missing to a point as from it, so they make closed walks.
void fill(Net& net, std::vector<NetEdge> missing) {
  while (!missing.empty()) {
    const int face = net.rings[static_cast<std::size_t>(missing.back().ring)].face;
    std::vector<std::uint32_t> walk;
    auto next = missing.end() - 1;
    while (next != missing.end()) {
      const std::uint32_t to = next->to;
      walk.push_back(next->from);
      missing.erase(next);
      next = std::find_if(missing.begin(), missing.end(),
                          [&](const NetEdge& e) { return e.from == to; });
    }
    add_simple(net.rings, face, walk);
  }
}

void split(Net& net, const Splits& splits) {
  std::vector<Ring> rings;
  std::vector<std::uint32_t> walk;
  for (const Ring& ring : net.rings) {
    walk.clear();
    for (std::size_t k = 0; k < ring.points.size(); ++k) {
      const std::uint32_t from = ring.points[k], to = ring.points[(k + 1) % ring.points.size()];
      walk.push_back(from);
      const auto found = splits.find(undirected(from, to));
      if (found == splits.end()) continue;
      if (from < to) walk.insert(walk.end(), found->second.begin(), found->second.end());
      if (from > to) walk.insert(walk.end(), found->second.rbegin(), found->second.rend());
    }
    add_simple(rings, ring.face, walk);
  }
  net.rings = std::move(rings);
}

}  // namespace

Net net_of(const std::vector<Face>& faces) {
  std::size_t corners = 0;
  for (const Face& face : faces) {
    for (const auto& loop : face.loops) corners += loop.size();
  }
  Net net;
  Welder welder(net.points, corners);
  std::vector<std::uint32_t> walk;
  for (std::size_t f = 0; f < faces.size(); ++f) {
    for (const auto& loop : faces[f].loops) {
      walk.clear();
      for (const Vec3& p : loop) walk.push_back(welder.number_of(p));
      add_simple(net.rings, static_cast<int>(f), walk);
    }
  }
  return net;
}

bool split_at_corners(Net& net) {
  std::vector<std::uint32_t> corners;
  for (const Ring& ring : net.rings) {
    corners.insert(corners.end(), ring.points.begin(), ring.points.end());
  }
  const std::size_t count = corners.size();
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
  Splits splits;
  for (const Ring& ring : net.rings) {
    std::uint32_t from = ring.points.back();
    for (const std::uint32_t to : ring.points) {
      auto between = points_between(net, std::min(from, to), std::max(from, to), corners);
      if (!between.empty()) splits.emplace(undirected(from, to), std::move(between));
      from = to;
    }
  }
  if (!splits.empty()) split(net, splits);
  return !splits.empty() || corners.size() < count;
}

void close_seams(Net& net) {
  constexpr int most_rounds = 3;  // two are enough but for corners that were moved
  std::vector<NetEdge> missing = missing_in(net);
  for (int round = 0; round < most_rounds && !missing.empty(); ++round) {
    const Splits splits = splits_of(net, missing);
    if (splits.empty()) break;
    split(net, splits);
    missing = missing_in(net);
  }
  fill(net, std::move(missing));
}

int pieces_in(const Net& net, const std::vector<Face>& faces) {
  std::vector<int> parent(net.rings.size());
  std::iota(parent.begin(), parent.end(), 0);
  const auto root = [&](int r) {
    while (parent[static_cast<std::size_t>(r)] != r) {
      int& up = parent[static_cast<std::size_t>(r)];
      r = up = parent[static_cast<std::size_t>(up)];
    }
    return r;
  };
  const EdgeTable edges(net);
  for (const NetEdge& e : edges.all()) {
    const auto back = edges.use_of(e.to, e.from);
    if (back.count != 1 || edges.use_of(e.from, e.to).count != 1) continue;
    parent[static_cast<std::size_t>(root(e.ring))] = root(back.ring);
  }
  for (const auto& island : islands_in(net, faces)) {
    for (const int ring : island) parent[static_cast<std::size_t>(root(ring))] = root(island[0]);
  }
  std::map<int, SolidSum> pieces;
  const Vec3 apex = net.points.empty() ? Vec3{} : net.points[0];
  Loop loop;
  for (std::size_t r = 0; r < net.rings.size(); ++r) {
    loop.clear();
    for (const std::uint32_t p : net.rings[r].points) loop.push_back(net.points[p]);
    pieces.try_emplace(root(static_cast<int>(r)), apex).first->second.add(loop);
  }
  // A hollow closed all round is bounded by faces of its own, and has a negative volume.
  return static_cast<int>(std::count_if(pieces.begin(), pieces.end(), [](const auto& piece) {
    return piece.second.volume() > 1e-3;
  }));
}

}  // namespace kw
