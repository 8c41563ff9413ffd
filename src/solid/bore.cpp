#include "bore.h"

#include <cmath>
#include <numbers>
#include <utility>

namespace kw {
namespace {

int sides_for(double diameter) {
  if (diameter < 12) return 24;
  if (diameter < 40) return 32;
  return diameter < 100 ? 48 : 64;
}

// A unit vector square to `axis`, as near as can be to a board's axis so that copies get equal
// facets.
Vec3 square_to(Vec3 axis) {
  const Vec3 away = std::abs(axis.x) < 0.9 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  return unit(away - axis * dot(away, axis));
}

// Distance from the axis to the sides of a regular polygon with the area of the circle:
// n a^2 tan(pi / n) = pi r^2.
double apothem_of(double radius, int sides) {
  const double half = std::numbers::pi / sides;
  return radius * std::sqrt(half / std::tan(half));
}

}  // namespace

void add_bore(Recipe& recipe, Feature hole) {
  const int sides = sides_for(hole.diameter);
  const double apothem = apothem_of(hole.diameter / 2, sides);
  const Vec3 u = square_to(hole.direction), v = cross(hole.direction, u);
  const auto cylinder = static_cast<int>(recipe.cylinders.size());
  Cutter cutter{.feature = static_cast<int>(recipe.features.size())};
  for (int i = 0; i < sides; ++i) {
    const double turn = 2 * std::numbers::pi * (i + 0.5) / sides;
    const Vec3 out = u * std::cos(turn) + v * std::sin(turn);
    cutter.planes.push_back({out, dot(out, hole.mouth) + apothem});
    cutter.cylinders.push_back(cylinder);
  }
  if (hole.depth < right_through) {
    cutter.planes.push_back({hole.direction, dot(hole.direction, hole.mouth) + hole.depth});
    cutter.cylinders.push_back(-1);
  }
  recipe.cylinders.push_back({hole.mouth, hole.direction, hole.diameter / 2, true});
  hole.planes = cutter.planes;
  hole.cutter_begin = {0};
  recipe.features.push_back(std::move(hole));
  recipe.cutters.push_back(std::move(cutter));
}

}  // namespace kw
