#include "triangulate.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

constexpr double near_line = 1e-6;  // mm: nearer than this to a cut, a corner is in its way

double turn(Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, c - a);
}

// How far b stands out from the line a-c; positive where the ring turns left at b.
double height_of(Vec2 a, Vec2 b, Vec2 c) {
  const double base = norm(c - a);
  return base > 0 ? turn(a, b, c) / base : 0;
}

class EarCutter {
 public:
  using Triangles = std::vector<std::array<std::uint32_t, 3>>;

  explicit EarCutter(const std::vector<FlatRing>& rings) {
    std::vector<int> holes;
    for (std::size_t r = 0; r < rings.size(); ++r) {
      const int last = add(rings[r]);
      if (r > 0) holes.push_back(last);
      if (r == 0) start_ = last;
    }
    std::sort(holes.begin(), holes.end(),
              [&](int a, int b) { return at(a).x != at(b).x ? at(a).x > at(b).x : a < b; });
    find_touching(rings);
    for (const int hole : holes) {
      if (!join_where_it_touches(hole)) join(hole);
    }
  }

  Triangles cut() {
    prepare();
    Triangles triangles;
    int here = start_, tried = 0;
    // Each step asks less: a good ear; any ear; one that touches others; the least corner, whatever
    // it is.
    for (int step = 0; left_ > 3;) {
      if (step == 3) here = least_corner();
      if (step == 3 || is_ear(here, step)) {
        here = cut_off(here, triangles);
        tried = step = 0;
      } else {
        here = nodes_[index(here)].next;
        if (++tried < left_) continue;
        ++step;
        tried = 0;
      }
    }
    if (left_ == 3) put(triangle(here), triangles);
    return triangles;
  }

 private:
  struct Node {
    FlatCorner corner = {};
    int before = -1, next = -1;
    bool is_blunt = false;  // no ear may have it, and it may be in the way of one
    bool is_gone = false;
  };

  static std::size_t index(int node) { return static_cast<std::size_t>(node); }
  [[nodiscard]] Vec2 at(int node) const { return nodes_[index(node)].corner.at; }
  [[nodiscard]] std::uint32_t point(int node) const { return nodes_[index(node)].corner.point; }

  void link(int a, int b) {
    nodes_[index(a)].next = b;
    nodes_[index(b)].before = a;
  }

  // Adds a closed ring; answers its corner furthest to the right.
  int add(const FlatRing& ring) {
    const int begin = static_cast<int>(nodes_.size());
    int furthest = begin;
    for (const FlatCorner& corner : ring) {
      nodes_.push_back({.corner = corner});
      const int node = static_cast<int>(nodes_.size()) - 1;
      if (node > begin) link(node - 1, node);
      if (corner.at.x > at(furthest).x) furthest = node;
    }
    link(static_cast<int>(nodes_.size()) - 1, begin);
    return furthest;
  }

  // Whether from a corner of the outer ring the way to `to` starts inside.
  [[nodiscard]] bool looks_inside(int from, Vec2 to) const {
    const Vec2 a = at(nodes_[index(from)].before), b = at(from), c = at(nodes_[index(from)].next);
    if (turn(a, b, c) > 0) return turn(b, to, a) > 0 && turn(to, b, c) > 0;
    return !(turn(b, to, c) >= 0 && turn(to, b, a) >= 0);
  }

  // Whether no edge or corner of the outer ring stands between a hole's corner and one of the ring.
  [[nodiscard]] bool sees(int hole, int outer) const {
    const Vec2 from = at(hole), to = at(outer);
    const double length = norm(to - from);
    int node = start_;
    do {
      const int next = nodes_[index(node)].next;
      const double s = turn(from, to, at(node)), t = turn(from, to, at(next));
      if (std::abs(s) <= near_line * length && point(node) != point(outer)) {
        const double along = dot(at(node) - from, to - from);
        if (along >= 0 && along <= length * length) return false;
      }
      if ((s > 0) != (t > 0) && point(node) != point(outer) && point(next) != point(outer) &&
          (turn(at(node), at(next), from) > 0) != (turn(at(node), at(next), to) > 0)) {
        return false;
      }
      node = next;
    } while (node != start_);
    return true;
  }

  // The nearest corner of the outer ring, to the right of a hole's rightmost corner, that it sees.
  // Other holes cannot stand between, as they are joined from right to left.
  [[nodiscard]] int bridge_from(int hole) const {
    std::vector<std::pair<double, int>> corners;
    int node = start_;
    do {
      const Vec2 way = at(node) - at(hole);
      if (way.x > 0) corners.emplace_back(-dot(way, way), node);
      node = nodes_[index(node)].next;
    } while (node != start_);
    std::make_heap(corners.begin(), corners.end());
    for (auto end = corners.end(); end != corners.begin(); --end) {
      std::pop_heap(corners.begin(), end);
      const int outer = (end - 1)->second;
      if (looks_inside(outer, at(hole)) && sees(hole, outer)) return outer;
    }
    return corners.empty() ? start_ : corners.back().second;
  }

  // The points that several rings have.
  void find_touching(const std::vector<FlatRing>& rings) {
    if (rings.size() == 1) return;
    std::vector<std::uint32_t> points;
    for (const Node& node : nodes_) points.push_back(node.corner.point);
    std::sort(points.begin(), points.end());
    for (std::size_t i = 1; i < points.size(); ++i) {
      if (points[i] == points[i - 1]) touching_.push_back(points[i]);
    }
  }

  // Makes a hole that touches the outer ring part of it, without a bridge.
  bool join_where_it_touches(int hole) {
    int of_hole = hole;
    do {
      const int hole_next = nodes_[index(of_hole)].next;
      int outer = start_;
      const bool may_touch = std::binary_search(touching_.begin(), touching_.end(), point(of_hole));
      do {
        if (!may_touch) break;
        const int outer_next = nodes_[index(outer)].next;
        if (point(outer) == point(of_hole) && looks_inside(outer, at(hole_next))) {
          link(outer, hole_next);
          link(of_hole, outer_next);
          return true;
        }
        outer = outer_next;
      } while (outer != start_);
      of_hole = hole_next;
    } while (of_hole != hole);
    return false;
  }

  // Makes a hole part of the outer ring, by a bridge walked there and back.
  void join(int hole) {
    const int outer = bridge_from(hole);
    const int after = nodes_[index(outer)].next, hole_last = nodes_[index(hole)].before;
    nodes_.push_back({.corner = nodes_[index(hole)].corner});
    nodes_.push_back({.corner = nodes_[index(outer)].corner});
    const int hole_end = static_cast<int>(nodes_.size()) - 2, outer_end = hole_end + 1;
    link(outer, hole);
    link(hole_last, hole_end);
    link(hole_end, outer_end);
    link(outer_end, after);
  }

  void judge(int node) {
    Node& n = nodes_[index(node)];
    n.is_blunt = height_of(at(n.before), n.corner.at, at(n.next)) <= near_line;
  }

  // Corners that may be in the way, from left to right.
  void prepare() {
    left_ = static_cast<int>(nodes_.size());
    int node = start_;
    do {
      judge(node);
      if (nodes_[index(node)].is_blunt) blunt_.emplace_back(at(node).x, node);
      node = nodes_[index(node)].next;
    } while (node != start_);
    std::sort(blunt_.begin(), blunt_.end());
  }

  [[nodiscard]] std::array<std::uint32_t, 3> triangle(int node) const {
    return {point(nodes_[index(node)].before), point(node), point(nodes_[index(node)].next)};
  }

  [[nodiscard]] bool is_ear(int node, int step) const {
    constexpr double good_height = 1e-4;  // mm
    const Node& n = nodes_[index(node)];
    if (n.is_blunt) return false;
    const Vec2 a = at(n.before), b = n.corner.at, c = at(n.next);
    if (step == 0 && height_of(a, b, c) < good_height) return false;
    const double slack = step < 2 ? -near_line : near_line;
    const double ab = slack * norm(b - a), bc = slack * norm(c - b), ca = slack * norm(a - c);
    const auto [low, high] = std::minmax({a.x, b.x, c.x});
    const auto ids = triangle(node);
    for (auto it = std::lower_bound(blunt_.begin(), blunt_.end(), std::pair(low - near_line, -1));
         it != blunt_.end() && it->first <= high + near_line; ++it) {
      const Node& other = nodes_[index(it->second)];
      if (!other.is_blunt || other.is_gone) continue;
      const Vec2 p = other.corner.at;
      if (turn(a, b, p) < ab || turn(b, c, p) < bc || turn(c, a, p) < ca) continue;
      const std::uint32_t id = other.corner.point;
      if (id != ids[0] && id != ids[1] && id != ids[2]) return false;
    }
    return true;
  }

  [[nodiscard]] int least_corner() const {
    int node = start_, best = start_;
    double least = -1;
    do {
      const Node& n = nodes_[index(node)];
      const double size = std::abs(turn(at(n.before), n.corner.at, at(n.next)));
      if (least < 0 || size < least) {
        least = size;
        best = node;
      }
      node = n.next;
    } while (node != start_);
    return best;
  }

  // A triangle that comes back to a point has no area, and no edge that is not walked both ways.
  static void put(const std::array<std::uint32_t, 3>& t, Triangles& triangles) {
    if (t[0] != t[1] && t[1] != t[2] && t[2] != t[0]) triangles.push_back(t);
  }

  // Takes a corner off; answers where to look next.
  int cut_off(int node, Triangles& triangles) {
    put(triangle(node), triangles);
    Node& n = nodes_[index(node)];
    n.is_gone = true;
    --left_;
    start_ = n.next;
    link(n.before, n.next);
    judge(n.before);
    judge(n.next);
    return n.next;
  }

  std::vector<Node> nodes_ = {};
  std::vector<std::uint32_t> touching_ = {};
  std::vector<std::pair<double, int>> blunt_ = {};
  int start_ = 0;
  int left_ = 0;
};

}  // namespace

std::vector<std::array<std::uint32_t, 3>> triangulate(const std::vector<FlatRing>& rings) {
  return EarCutter(rings).cut();
}

}  // namespace kw
