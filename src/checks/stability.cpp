#include "kerfwright/checks/stability.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace kw {
namespace {

double turn(Vec2 a, Vec2 b, Vec2 c) {
  return cross(b - a, c - a);
}

bool holds(const Vec3& a, const Vec3& b, const Vec3& c, Vec2 p) {
  const Vec2 u{a.x, a.y}, v{b.x, b.y}, w{c.x, c.y};
  const double whole = turn(u, v, w);
  if (std::abs(whole) < 1e-6) return false;
  const double s = whole > 0 ? 1 : -1;
  return s * turn(u, v, p) >= -1e-9 && s * turn(v, w, p) >= -1e-9 && s * turn(w, u, p) >= -1e-9;
}

double worst_above(const std::vector<Vec3>& feet, const Vec3& a, const Vec3& b, const Vec3& c) {
  Vec3 n = unit(cross(b - a, c - a));
  if (n.z < 0) n = -n;
  double worst = 0, lowest = 0;
  for (const Vec3& foot : feet) {
    const double above = dot(n, foot - a) / n.z;
    worst = std::max(worst, above);
    lowest = std::min(lowest, above);
  }
  return lowest < -1e-6 ? std::numeric_limits<double>::infinity() : worst;
}

}  // namespace

std::vector<Vec2> hull_of(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(),
            [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  std::vector<Vec2> hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t begin = hull.size();
    for (const Vec2& p : points) {
      while (hull.size() >= begin + 2 && turn(hull[hull.size() - 2], hull.back(), p) <= 1e-9)
        hull.pop_back();
      hull.push_back(p);
    }
    hull.pop_back();
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

std::vector<Tip> tips_of(const Standing& s) {
  std::vector<Tip> tips;
  if (s.support.size() < 3) return tips;
  for (std::size_t i = 0; i < s.support.size(); ++i) {
    Tip tip{.from = s.support[i], .to = s.support[(i + 1) % s.support.size()]};
    const Vec2 along = (tip.to - tip.from) * (1 / norm(tip.to - tip.from));
    tip.outward = {along.y, -along.x};
    tip.lever = dot(tip.outward, tip.from - Vec2{s.centre.x, s.centre.y});
    tip.angle = std::atan2(tip.lever, s.centre.z) * 180 / std::numbers::pi;
    tip.force = s.pushed_at > 0 ? s.weight * tip.lever / s.pushed_at
                                : std::numeric_limits<double>::infinity();
    tips.push_back(tip);
  }
  return tips;
}

Tip first_tip(const std::vector<Tip>& tips) {
  const auto least = std::min_element(tips.begin(), tips.end(),
                                      [](const Tip& a, const Tip& b) { return a.lever < b.lever; });
  return least == tips.end() ? Tip{} : *least;
}

double sliding_force(double weight, double friction) {
  return weight * friction;
}

double rocking_gap(const std::vector<Vec3>& all, Vec2 centre) {
  constexpr std::size_t most_feet = 40;  // time grows with the fourth power
  std::vector<Vec3> feet = all;
  std::stable_sort(feet.begin(), feet.end(), [](Vec3 a, Vec3 b) { return a.z < b.z; });
  if (feet.size() > most_feet) feet.resize(most_feet);
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < feet.size(); ++i)
    for (std::size_t j = i + 1; j < feet.size(); ++j)
      for (std::size_t k = j + 1; k < feet.size(); ++k)
        if (holds(feet[i], feet[j], feet[k], centre))
          best = std::min(best, worst_above(feet, feet[i], feet[j], feet[k]));
  return std::isfinite(best) ? best : 0;
}

}  // namespace kw
