#include "arc.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kw::resolving {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;
constexpr double quarter_turn = std::numbers::pi / 2;
constexpr double chord_error = 0.05;  // mm
constexpr double fewest_a_turn = 32, most_an_arc = 96;
constexpr double shortest_part = 0.01;  // mm: a division nearer to an end is left out

double angle_of(Vec2 v) {
  return std::atan2(v.y, v.x);
}
Vec2 on_circle(const Arc& arc, double radius, double angle) {
  return arc.centre + Vec2{std::cos(angle), std::sin(angle)} * radius;
}

double facets_a_turn(const Arc& arc) {
  const double cosine = std::max(-1.0, 1 - chord_error / arc.radius);
  const double wanted = full_turn / (2 * std::acos(cosine));
  const double most = most_an_arc * full_turn / std::abs(arc.sweep);
  return std::clamp(wanted, fewest_a_turn, most);
}

// The angles, measured along the sweep, that divide the arc: 0, where it turns back along an axis,
// all.
std::vector<double> divisions_of(const Arc& arc) {
  const double all = std::abs(arc.sweep), sign = arc.sweep < 0 ? -1 : 1;
  const double least = shortest_part / arc.radius;
  std::vector<double> divisions = {0};
  const double to_first = sign > 0 ? std::ceil(arc.from / quarter_turn) * quarter_turn - arc.from
                                   : arc.from - std::floor(arc.from / quarter_turn) * quarter_turn;
  for (double turn = to_first; turn < all - least; turn += quarter_turn)
    if (turn > least) divisions.push_back(turn);
  divisions.push_back(all);
  return divisions;
}

// Of the corners between the ends: n facets of angle d over a sweep s are as large as the sector
// when (n - 2) r'^2 sin d + 2 R r' sin d = R^2 s.
double radius_between(double radius, double sweep, int n) {
  const double sine = std::sin(sweep / n);
  const double a = (n - 2) * sine, b = 2 * radius * sine, c = radius * radius * sweep;
  return 2 * c / (b + std::sqrt(b * b + 4 * a * c));
}

}  // namespace

std::optional<Arc> arc_through(Vec2 from, Vec2 through, Vec2 to) {
  const Vec2 u = through - from, v = to - from;
  const double area = cross(u, v);
  if (std::abs(area) <= 1e-9 * std::max(norm(u) * norm(v), 1e-300) || norm(to - through) == 0)
    return std::nullopt;
  const Vec2 sum = {v.y * dot(u, u) - u.y * dot(v, v), u.x * dot(v, v) - v.x * dot(u, u)};
  const Vec2 centre = from + sum * (1 / (2 * area));
  Arc arc{centre, norm(from - centre), angle_of(from - centre), 0};
  arc.sweep = angle_of(to - centre) - arc.from;
  // `through` lies to the right of the chord on a counter-clockwise arc.
  const bool is_left = area > 0;
  if (is_left && arc.sweep <= 0) arc.sweep += full_turn;
  if (!is_left && arc.sweep >= 0) arc.sweep -= full_turn;
  return arc;
}

std::optional<Arc> arc_of_radius(Vec2 from, Vec2 to, double radius, bool is_left) {
  const Vec2 chord = to - from;
  const double half = norm(chord) / 2;
  if (half == 0 || radius < half - 1e-6) return std::nullopt;
  const double to_centre = std::sqrt(std::max(0.0, radius * radius - half * half));
  const double side = is_left ? 1 : -1;
  const Vec2 left = {-chord.y / (2 * half), chord.x / (2 * half)};
  const Vec2 centre = from + chord * 0.5 + left * (side * to_centre);
  const double sweep = 2 * std::asin(std::min(1.0, half / radius));
  return Arc{centre, std::max(radius, half), angle_of(from - centre), side * sweep};
}

double segment_area(const Arc& arc) {
  return arc.radius * arc.radius * (arc.sweep - std::sin(arc.sweep)) / 2;
}

std::vector<Vec2> facets_of(const Arc& arc) {
  const double sign = arc.sweep < 0 ? -1 : 1;
  const double a_turn = facets_a_turn(arc);
  const std::vector<double> divisions = divisions_of(arc);
  std::vector<Vec2> corners;
  for (std::size_t i = 0; i + 1 < divisions.size(); ++i) {
    const double from = divisions[i], sweep = divisions[i + 1] - from;
    if (i > 0) corners.push_back(on_circle(arc, arc.radius, arc.from + sign * from));
    const int n = std::max(2, static_cast<int>(std::ceil(sweep * a_turn / full_turn - 1e-9)));
    const double radius = radius_between(arc.radius, sweep, n);
    for (int k = 1; k < n; ++k)
      corners.push_back(on_circle(arc, radius, arc.from + sign * (from + sweep * k / n)));
  }
  return corners;
}

}  // namespace kw::resolving
