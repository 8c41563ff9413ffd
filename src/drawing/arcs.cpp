#include "arcs.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace kw {
namespace {

constexpr double whole_turn = 2 * std::numbers::pi;
constexpr double off_circle = 0.15;  // mm: corners of the mesh's polygons stand no further off
constexpr double same_angle = 1e-3;

double angle_of(Vec2 p) {
  return std::atan2(p.y, p.x);
}

Vec2 point_on(const Arc& arc, double angle) {
  return arc.centre + Vec2{std::cos(angle), std::sin(angle)} * arc.radius;
}

// The chord of a facet: both ends about on the circle, and square to the radius in its middle.
bool is_chord(const ViewLine& line, Vec2 centre, double radius) {
  const Vec2 from = line.from - centre, to = line.to - centre;
  if (std::abs(norm(from) - radius) > off_circle || std::abs(norm(to) - radius) > off_circle)
    return false;
  const double turn = std::abs(std::atan2(cross(from, to), dot(from, to)));
  const double sagitta = radius * (1 - std::cos(turn / 2));
  return turn > 1e-6 && sagitta < 2 * off_circle + 0.02 * radius &&
         std::abs(norm(from) - norm(to)) < off_circle;
}

// Stretches of angle that follow on one another, joined; all counter-clockwise.
std::vector<Arc> joined(std::vector<Arc> arcs) {
  std::sort(arcs.begin(), arcs.end(), [](const Arc& a, const Arc& b) { return a.from < b.from; });
  std::vector<Arc> out;
  for (const Arc& arc : arcs) {
    if (!out.empty() && arc.from <= out.back().from + out.back().sweep + same_angle) {
      const double end = std::max(out.back().from + out.back().sweep, arc.from + arc.sweep);
      out.back().sweep = end - out.back().from;
    } else {
      out.push_back(arc);
    }
  }
  const bool meets_itself = out.size() > 1 && out.back().from + out.back().sweep >=
                                                  out.front().from + whole_turn - same_angle;
  if (meets_itself) {
    out.front().sweep += out.front().from + whole_turn - out.back().from;
    out.front().from = out.back().from;
    out.pop_back();
  }
  for (Arc& arc : out) {
    if (arc.sweep >= whole_turn - same_angle) arc.sweep = whole_turn;
  }
  return out;
}

}  // namespace

std::vector<Vec2> sampled(const Arc& arc, double off) {
  const double step = 2 * std::acos(std::max(0.0, 1 - off / std::max(arc.radius, off)));
  const int steps = std::max(2, static_cast<int>(std::ceil(std::abs(arc.sweep) / step)));
  std::vector<Vec2> points;
  for (int i = 0; i <= steps; ++i)
    points.push_back(point_on(arc, arc.from + arc.sweep * i / steps));
  return points;
}

std::vector<Arc> clipped(const Arc& arc, const Rect& window) {
  std::vector<double> stops = {0, 1};
  const auto add = [&](double angle) {
    const double turned = std::remainder(angle - arc.from, whole_turn);
    for (const double way : {turned, turned + whole_turn, turned - whole_turn}) {
      const double t = way / arc.sweep;
      if (t > 0 && t < 1) stops.push_back(t);
    }
  };
  for (const double x : {window.low.x, window.high.x}) {
    const double c = (x - arc.centre.x) / arc.radius;
    if (std::abs(c) >= 1) continue;
    add(std::acos(c));
    add(-std::acos(c));
  }
  for (const double y : {window.low.y, window.high.y}) {
    const double s = (y - arc.centre.y) / arc.radius;
    if (std::abs(s) >= 1) continue;
    add(std::asin(s));
    add(std::numbers::pi - std::asin(s));
  }
  std::sort(stops.begin(), stops.end());
  std::vector<Arc> inside;
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    if (stops[i + 1] - stops[i] < 1e-12) continue;
    const Vec2 p = point_on(arc, arc.from + arc.sweep * (stops[i] + stops[i + 1]) / 2);
    if (p.x < window.low.x || p.x > window.high.x || p.y < window.low.y || p.y > window.high.y)
      continue;
    Arc part = arc;
    part.from = arc.from + arc.sweep * stops[i];
    part.sweep = arc.sweep * (stops[i + 1] - stops[i]);
    const bool runs_on =
        !inside.empty() && std::abs(inside.back().from + inside.back().sweep - part.from) < 1e-12;
    runs_on ? static_cast<void>(inside.back().sweep += part.sweep) : inside.push_back(part);
  }
  return inside;
}

std::vector<Arc> take_arcs(View& view, const Shape& shape, const Frame& lie, const Look& look) {
  std::vector<Arc> arcs;
  for (const Cylinder& c : shape.cylinders) {
    const Vec3 axis = unit(lie.direction_to_world(c.axis));
    if (std::abs(dot(axis, unit(look.towards))) < 1 - 1e-9) continue;
    const Vec2 centre = projected(look, lie.to_world(c.point));
    std::map<Pen, std::vector<Arc>> found;
    std::erase_if(view.lines, [&](const ViewLine& line) {
      if (!is_chord(line, centre, c.radius)) return false;
      Arc arc{line.pen, centre, c.radius, angle_of(line.from - centre), 0};
      const Vec2 from = line.from - centre, to = line.to - centre;
      arc.sweep = std::atan2(cross(from, to), dot(from, to));
      if (arc.sweep < 0) {
        arc.from += arc.sweep;
        arc.sweep = -arc.sweep;
      }
      arc.from = std::remainder(arc.from, whole_turn);
      found[line.pen].push_back(arc);
      return true;
    });
    for (auto& [pen, pieces] : found) {
      for (const Arc& arc : joined(std::move(pieces))) arcs.push_back(arc);
    }
  }
  return arcs;
}

}  // namespace kw
