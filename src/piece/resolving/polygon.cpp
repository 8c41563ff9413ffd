#include "polygon.h"

#include <algorithm>
#include <cmath>

namespace kw::resolving {
namespace {

constexpr double straight = 1e-12;  // of the product of the sides: no turn

std::size_t after(std::size_t i, std::size_t n) {
  return i + 1 == n ? 0 : i + 1;
}
std::size_t before(std::size_t i, std::size_t n) {
  return i == 0 ? n - 1 : i - 1;
}

double turn_at(Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, c - b);
}

bool turns_right(Vec2 a, Vec2 b, Vec2 c) {
  return turn_at(a, b, c) < -straight * norm(b - a) * norm(c - b);
}

bool is_within(Vec2 a, Vec2 b, Vec2 c, Vec2 p) {
  return turn_at(a, b, p) >= 0 && turn_at(b, c, p) >= 0 && turn_at(c, a, p) >= 0;
}

bool is_ear(const Polygon& polygon, std::size_t i) {
  const std::size_t n = polygon.points.size();
  const Vec2 a = polygon.points[before(i, n)], b = polygon.points[i],
             c = polygon.points[after(i, n)];
  if (turn_at(a, b, c) <= 0) return false;
  for (std::size_t k = 0; k < n; ++k) {
    if (k == i || k == before(i, n) || k == after(i, n)) continue;
    if (is_within(a, b, c, polygon.points[k])) return false;
  }
  return true;
}

// The ear whose triangle is the least slender would be nicer; the first keeps the order of the
// file.
std::size_t ear_of(const Polygon& polygon) {
  for (std::size_t i = 0; i < polygon.points.size(); ++i)
    if (is_ear(polygon, i)) return i;
  // Rounding may leave none: then the corner that turns left the most.
  std::size_t best = 0;
  double most = -1;
  const std::size_t n = polygon.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double turn =
        turn_at(polygon.points[before(i, n)], polygon.points[i], polygon.points[after(i, n)]);
    if (turn > most) {
      most = turn;
      best = i;
    }
  }
  return best;
}

std::vector<Polygon> triangles_of(Polygon polygon, int shared) {
  std::vector<Polygon> triangles;
  while (polygon.points.size() > 3) {
    const std::size_t n = polygon.points.size(), i = ear_of(polygon);
    const std::size_t a = before(i, n), c = after(i, n);
    triangles.push_back({{polygon.points[a], polygon.points[i], polygon.points[c]},
                         {polygon.marks[a], polygon.marks[i], shared}});
    polygon.marks[a] = shared;
    polygon.points.erase(polygon.points.begin() + static_cast<std::ptrdiff_t>(i));
    polygon.marks.erase(polygon.marks.begin() + static_cast<std::ptrdiff_t>(i));
  }
  triangles.push_back(std::move(polygon));
  return triangles;
}

// Two polygons joined along side i of one and side j of the other.
Polygon joined(const Polygon& one, std::size_t i, const Polygon& other, std::size_t j) {
  Polygon out;
  const std::size_t n = one.points.size(), m = other.points.size();
  for (std::size_t k = 0, at = after(i, n); k + 1 < n; ++k, at = after(at, n)) {
    out.points.push_back(one.points[at]);
    out.marks.push_back(one.marks[at]);
  }
  for (std::size_t k = 0, at = after(j, m); k + 1 < m; ++k, at = after(at, m)) {
    out.points.push_back(other.points[at]);
    out.marks.push_back(other.marks[at]);
  }
  return out;
}

// Joins `other` to `one` where they share a side and what comes of it is convex.
bool join(Polygon& one, const Polygon& other, int shared) {
  const std::size_t n = one.points.size(), m = other.points.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; one.marks[i] == shared && j < m; ++j) {
      if (other.marks[j] != shared || !(one.points[i] == other.points[after(j, m)]) ||
          !(one.points[after(i, n)] == other.points[j]))
        continue;
      Polygon whole = joined(one, i, other, j);
      if (!is_convex(whole)) return false;
      one = std::move(whole);
      return true;
    }
  return false;
}

}  // namespace

bool is_convex(const Polygon& polygon) {
  const std::size_t n = polygon.points.size();
  for (std::size_t i = 0; i < n; ++i)
    if (turns_right(polygon.points[before(i, n)], polygon.points[i], polygon.points[after(i, n)]))
      return false;
  return true;
}

std::vector<Polygon> convex_parts_of(const Polygon& polygon, int shared) {
  if (is_convex(polygon)) return {polygon};
  std::vector<Polygon> parts;
  for (Polygon& triangle : triangles_of(polygon, shared)) {
    const bool is_joined = std::any_of(parts.rbegin(), parts.rend(),
                                       [&](Polygon& part) { return join(part, triangle, shared); });
    if (!is_joined) parts.push_back(std::move(triangle));
  }
  return parts;
}

Polygon left_of(const Polygon& polygon, Vec2 a, Vec2 b, int cut) {
  Polygon out;
  const std::size_t n = polygon.points.size();
  const auto side = [&](Vec2 p) { return cross(b - a, p - a); };
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 from = polygon.points[i], to = polygon.points[after(i, n)];
    const double here = side(from), there = side(to);
    const Vec2 crossing = here == there ? from : from + (to - from) * (here / (here - there));
    if (here >= 0) {
      out.points.push_back(from);
      out.marks.push_back(polygon.marks[i]);
      if (there < 0 && here > 0) {
        out.points.push_back(crossing);
        out.marks.push_back(cut);
      } else if (there < 0) {
        out.marks.back() = cut;
      }
    } else if (there > 0) {
      out.points.push_back(crossing);
      out.marks.push_back(polygon.marks[i]);
    }
  }
  return out;
}

}  // namespace kw::resolving
