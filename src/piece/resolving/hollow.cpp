// From an outline to planes and hollows.
//
// A side of the outline on its convex hull becomes a plane. Between hull corners a and b that no
// side joins lies a pocket; it is divided into convex hollows. The line from a to b gets no plane:
// what of the rectangle lies beyond it is one more hollow, and the pocket's own hollow at that line
// reaches across it, so that the two overlap and leave no skin between them.
#include <algorithm>
#include <cmath>

#include "outline.h"
#include "polygon.h"

namespace kw::resolving {
namespace {

constexpr double on_line = 1e-6;  // mm
constexpr double beyond = 10;     // mm: how far hollows reach past the rectangle and the hull
constexpr int no_side = -2;       // the mark of a side that is no edge of the outline
constexpr int bridge = -3;        // the mark of the side from a to b, while at work

using Corners = std::vector<Corner>;

double distance(Vec2 a, Vec2 b, Vec2 p) {
  return cross(b - a, p - a) / norm(b - a);
}

// Indices of the hull's corners, counter-clockwise from the lowest x (Andrew's monotone chain).
std::vector<std::size_t> hull_of(const Corners& corners) {
  std::vector<std::size_t> order(corners.size()), hull;
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const Vec2 p = corners[a].at, q = corners[b].at;
    return p.x != q.x ? p.x < q.x : p.y != q.y ? p.y < q.y : a < b;
  });
  const auto add_chain = [&](auto begin, auto end) {
    const std::size_t least = hull.size() + 1;
    for (auto i = begin; i != end; ++i) {
      while (hull.size() > least &&
             cross(corners[hull.back()].at - corners[hull[hull.size() - 2]].at,
                   corners[*i].at - corners[hull.back()].at) <= 0)
        hull.pop_back();
      hull.push_back(*i);
    }
    hull.pop_back();
  };
  add_chain(order.begin(), order.end());
  add_chain(order.rbegin(), order.rend());
  return hull;
}

// The corners from hull corner `a` to the next, `b`, that lie on the line between them, with both.
std::vector<std::size_t> on_bridge(const Corners& corners, std::size_t a, std::size_t b) {
  std::vector<std::size_t> on;
  for (std::size_t i = a; i != b; i = (i + 1) % corners.size())
    if (i == a || std::abs(distance(corners[a].at, corners[b].at, corners[i].at)) <= on_line)
      on.push_back(i);
  on.push_back(b);
  return on;
}

bool is_on_rectangle(Vec2 a, Vec2 b, const Rectangle& r) {
  const auto both = [](double p, double q, double at) {
    return std::abs(p - at) <= on_line && std::abs(q - at) <= on_line;
  };
  return both(a.x, b.x, r.low.x) || both(a.x, b.x, r.high.x) || both(a.y, b.y, r.low.y) ||
         both(a.y, b.y, r.high.y);
}

void add_plane(const Corner& from, Vec2 to, Features& into) {
  const Vec2 along = (to - from.at) * (1 / norm(to - from.at));
  const Vec3 out = {along.y, -along.x, 0};
  const Plane plane = {out, out.x * from.at.x + out.y * from.at.y};
  // Sides that follow one another on one line are one saw cut.
  if (!into.cuts.empty() && from.curve < 0 && into.cuts.back().curve < 0) {
    const Plane& last = into.cuts.back().plane;
    if (norm(last.normal - plane.normal) < 1e-9 && std::abs(last.offset - plane.offset) < on_line)
      return;
  }
  into.cuts.push_back(
      {.plane = plane, .source = CutSource::outline, .curve = from.curve, .at = from.span});
}

// Between a and b, counter-clockwise: first along the bridge, then back along the outline.
Polygon pocket_of(const Corners& corners, std::size_t a, std::size_t b) {
  Polygon pocket{{corners[a].at}, {bridge}};
  const std::size_t n = corners.size();
  for (std::size_t i = b; i != a; i = (i + n - 1) % n) {
    pocket.points.push_back(corners[i].at);
    pocket.marks.push_back(corners[(i + n - 1) % n].curve);
  }
  return pocket;
}

// The direction in which a side may go on past the bridge with the polygon staying convex: straight
// out, or on along the side where straight out would bend it the other way.
Vec2 onwards(Vec2 side, Vec2 out, bool is_before) {
  const double turn = is_before ? cross(side, out) : cross(out, side);
  return turn >= 0 ? out : side * (1 / norm(side));
}

// The polygon with its bridge moved outward, at most so far that the sides beside it do not meet.
Polygon across_bridge(const Polygon& polygon, std::size_t i) {
  const std::size_t n = polygon.points.size();
  const Vec2 a = polygon.points[i], b = polygon.points[(i + 1) % n];
  const Vec2 along = (b - a) * (1 / norm(b - a)), out = {along.y, -along.x};
  const Vec2 from_a = onwards(a - polygon.points[(i + n - 1) % n], out, true);
  const Vec2 from_b = onwards(b - polygon.points[(i + 2) % n], out, false);
  const Vec2 step_a = from_a * (1 / dot(from_a, out)), step_b = from_b * (1 / dot(from_b, out));
  const double closing = dot(step_a - step_b, along);  // how fast they near one another
  const double height = closing <= 0 ? beyond : std::min(beyond, norm(b - a) / closing / 2);
  Polygon wider;
  for (std::size_t k = 0; k < n; ++k) {
    wider.points.push_back(polygon.points[k]);
    wider.marks.push_back(k == i ? no_side : polygon.marks[k]);
    if (k != i) continue;
    wider.points.push_back(a + step_a * height);
    wider.points.push_back(b + step_b * height);
    wider.marks.push_back(no_side);
    wider.marks.push_back(no_side);
  }
  return wider;
}

void add_hollow(const Polygon& polygon, Features& into) {
  into.hollows.push_back({polygon.points, polygon.marks});
}

// What of the rectangle lies beyond the line from a to b.
void add_beyond(Vec2 a, Vec2 b, const Rectangle& r, Features& into) {
  const Vec2 corners[] = {r.low, {r.high.x, r.low.y}, r.high, {r.low.x, r.high.y}};
  const bool is_bare = std::all_of(std::begin(corners), std::end(corners),
                                   [&](Vec2 corner) { return distance(a, b, corner) >= -on_line; });
  if (is_bare) return;
  const Vec2 low = r.low - Vec2{beyond, beyond}, high = r.high + Vec2{beyond, beyond};
  const Polygon grown{{low, {high.x, low.y}, high, {low.x, high.y}}, std::vector<int>(4, no_side)};
  add_hollow(left_of(grown, b, a, no_side), into);
}

void add_pocket(const Corners& corners, std::size_t a, std::size_t b, const Rectangle& rectangle,
                Features& into) {
  for (const Polygon& part : convex_parts_of(pocket_of(corners, a, b), no_side)) {
    const auto found = std::find(part.marks.begin(), part.marks.end(), bridge);
    if (found == part.marks.end())
      add_hollow(part, into);
    else
      add_hollow(across_bridge(part, static_cast<std::size_t>(found - part.marks.begin())), into);
  }
  add_beyond(corners[a].at, corners[b].at, rectangle, into);
}

}  // namespace

Features cut_to(const Outline& outline, const Rectangle& rectangle) {
  Features features{.curves = outline.curves};
  const Corners& corners = outline.corners;
  const std::vector<std::size_t> hull = hull_of(corners);
  for (std::size_t h = 0; h < hull.size(); ++h) {
    const auto stops = on_bridge(corners, hull[h], hull[(h + 1) % hull.size()]);
    for (std::size_t k = 0; k + 1 < stops.size(); ++k) {
      const std::size_t a = stops[k], b = stops[k + 1];
      const bool is_side = (a + 1) % corners.size() == b;
      if (!is_side)
        add_pocket(corners, a, b, rectangle, features);
      else if (!is_on_rectangle(corners[a].at, corners[b].at, rectangle))
        add_plane(corners[a], corners[b].at, features);
    }
  }
  return features;
}

}  // namespace kw::resolving
