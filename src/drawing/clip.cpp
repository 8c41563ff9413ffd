#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "tiles.h"

namespace kw {
namespace {

// The stretch of a segment inside a window (Liang and Barsky 1984).
std::optional<std::pair<double, double>> stretch_inside(Vec2 from, Vec2 to, const Rect& w) {
  double a = 0, b = 1;
  const Vec2 d = to - from;
  const auto cut = [&](double p, double q) {  // keeps p * t <= q
    if (p == 0) return q >= 0;
    const double t = q / p;
    if (p < 0) {
      a = std::max(a, t);
    } else {
      b = std::min(b, t);
    }
    return a <= b;
  };
  if (!cut(-d.x, from.x - w.low.x) || !cut(d.x, w.high.x - from.x) ||
      !cut(-d.y, from.y - w.low.y) || !cut(d.y, w.high.y - from.y)) {
    return std::nullopt;
  }
  return std::pair{a, b};
}

// One side of the window: the part of a polygon where distance(p) >= 0.
template <class Distance>
std::vector<Vec2> half_of(const std::vector<Vec2>& points, Distance distance) {
  std::vector<Vec2> kept;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 p = points[i];
    const Vec2 q = points[(i + 1) % points.size()];
    const double at_p = distance(p);
    const double at_q = distance(q);
    if (at_p >= 0) kept.push_back(p);
    if ((at_p >= 0) != (at_q >= 0)) kept.push_back(p + (q - p) * (at_p / (at_p - at_q)));
  }
  return kept;
}

}  // namespace

std::vector<Stroke> clipped(const Stroke& stroke, const Rect& window) {
  Rect rect;
  for (const Vec2& p : stroke.points) rect.add(p);
  if (stroke.points.empty() || !window.is_near(rect, 0)) return {};
  if (window.holds(rect)) return {stroke};
  std::vector<Stroke> pieces;
  const std::size_t sides = stroke.points.size() - (stroke.is_closed ? 0 : 1);
  bool is_on = false;
  for (std::size_t i = 0; i < sides; ++i) {
    const Vec2 from = stroke.points[i];
    const Vec2 to = stroke.points[(i + 1) % stroke.points.size()];
    const auto inside = stretch_inside(from, to, window);
    if (!inside) {
      is_on = false;
      continue;
    }
    if (!is_on || inside->first > 0)
      pieces.push_back({stroke.pen, {from + (to - from) * inside->first}, false});
    pieces.back().points.push_back(from + (to - from) * inside->second);
    is_on = inside->second >= 1;
  }
  return pieces;
}

Fill clipped(const Fill& fill, const Rect& window) {
  Fill inside = fill;
  const auto keep = [&](auto distance) { inside.points = half_of(inside.points, distance); };
  keep([&](Vec2 p) { return p.x - window.low.x; });
  keep([&](Vec2 p) { return window.high.x - p.x; });
  keep([&](Vec2 p) { return p.y - window.low.y; });
  keep([&](Vec2 p) { return window.high.y - p.y; });
  return inside;
}

Sheet quarter_turned(const Sheet& sheet) {
  Sheet turned = sheet;
  const auto turn = [&](Vec2& p) { p = {sheet.height - p.y, p.x}; };
  for (Fill& fill : turned.fills) std::for_each(fill.points.begin(), fill.points.end(), turn);
  for (Stroke& s : turned.strokes) std::for_each(s.points.begin(), s.points.end(), turn);
  for (Arc& arc : turned.arcs) {
    turn(arc.centre);
    arc.from += std::numbers::pi / 2;
  }
  for (Label& label : turned.labels) {
    turn(label.at);
    label.turn -= 90;
  }
  std::swap(turned.width, turned.height);
  return turned;
}

}  // namespace kw
