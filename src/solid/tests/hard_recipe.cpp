#include "hard_recipe.h"

#include <array>
#include <cmath>

#include "bore.h"

namespace kw::test {
namespace {

constexpr double far = 1e4;  // mm: past the wood

// Draws sizes, rounded to a grid when there is one.
class Sizes {
 public:
  Sizes(Dice& dice, double grid) : dice_(dice), grid_(grid) {}
  double between(double low, double high) {
    const double size = dice_.between(low, high);
    return grid_ > 0 ? std::round(size / grid_) * grid_ : size;
  }

 private:
  Dice& dice_;
  double grid_ = 0;
};

Plane through(Vec3 normal, Vec3 point) {
  const Vec3 n = unit(normal);
  return {n, dot(n, point)};
}

void add_box(Recipe& recipe, Vec3 low, Vec3 high) {
  recipe.cutters.push_back({.planes = {{{-1, 0, 0}, -low.x},
                                       {{1, 0, 0}, high.x},
                                       {{0, -1, 0}, -low.y},
                                       {{0, 1, 0}, high.y},
                                       {{0, 0, -1}, -low.z},
                                       {{0, 0, 1}, high.z}}});
}

void add_trim(Dice& dice, Sizes& sizes, Recipe& recipe) {
  const double length = recipe.to_x;
  const double swing = dice.between(-0.7, 0.7), tilt = dice.between(-0.5, 0.5);
  Plane plane;
  switch (dice.below(3)) {
    case 0:
      plane = through({1, swing, 0}, {sizes.between(0.7 * length, length), 0, 0});
      break;
    case 1:
      plane = through({-1, swing, tilt}, {sizes.between(0, 0.3 * length), 0, 0});
      break;
    default:
      plane = through({swing / 4, 1, dice.one_in(2) ? tilt : 0},
                      {length / 2, recipe.half_width * dice.between(0.4, 0.95), 0});
  }
  recipe.trims.push_back({plane, 0, 0, -1});
}

void add_lap(Dice& dice, Recipe& recipe, Vec3 at, double half) {
  const bool is_above = dice.one_in(2);
  add_box(recipe, {at.x - half, -far, is_above ? at.z : -far},
          {at.x + half, far, is_above ? far : at.z});
}

void add_rabbet(Dice& dice, Recipe& recipe, Vec3 at, double half) {
  const double top = dice.one_in(2) ? at.z : far;
  add_box(recipe, {at.x - half, at.y, -far},
          {at.x + half, dice.one_in(2) ? far : recipe.half_width, top});
}

void add_mortise(Dice& dice, Recipe& recipe, Vec3 at, double half, double y) {
  const double bottom = dice.one_in(2) ? at.z : -far;
  const double top = recipe.half_thickness + (dice.one_in(2) ? 5 : 0);
  add_box(recipe, {at.x - half, std::min(at.y, y), bottom}, {at.x + half, std::max(at.y, y), top});
}

void add_hole(Dice& dice, Recipe& recipe, Vec3 at) {
  const double a = dice.between(-0.5, 0.5), b = dice.between(-0.5, 0.5);
  const Vec3 lean = dice.one_in(2) ? Vec3{0, 0, -1} : unit({a, b, -1});
  const double depth = dice.between(3, 2.5 * recipe.half_thickness);
  add_bore(recipe, {.kind = FeatureKind::hole,
                    .mouth = {at.x, at.y, recipe.half_thickness},
                    .direction = lean,
                    .diameter = dice.between(2, 40),
                    .depth = dice.one_in(2) ? endless : depth});
}

void add_leaning_housing(Dice& dice, Recipe& recipe, Vec3 at) {
  const double turn = dice.between(0, 3.14), half = dice.between(5, 60);
  const Vec3 n = {std::cos(turn), std::sin(turn), 0};
  const double middle = dot(n, {at.x, at.y, 0});
  recipe.cutters.push_back(
      {.planes = {{n, middle + half}, {-n, half - middle}, {{0, 0, -1}, -at.z}}});
}

void add_cutter(Dice& dice, Sizes& sizes, Recipe& recipe) {
  const double x = sizes.between(0, recipe.to_x);
  const double y = sizes.between(-recipe.half_width, recipe.half_width);
  const Vec3 at = {x, y, sizes.between(-recipe.half_thickness, recipe.half_thickness)};
  const double half = sizes.between(5, 100);
  switch (dice.below(5)) {
    case 0:
      return add_lap(dice, recipe, at, half);
    case 1:
      return add_rabbet(dice, recipe, at, half / 2);
    case 2:
      return add_mortise(dice, recipe, at, half / 2,
                         sizes.between(-recipe.half_width, recipe.half_width));
    case 3:
      return add_hole(dice, recipe, at);
    default:
      return add_leaning_housing(dice, recipe, at);
  }
}

double hair(Dice& dice) {
  static constexpr std::array<double, 8> hairs = {0, 1e-12, 1e-11, 1e-7, 5e-6, 2e-5, 1e-4, 1e-3};
  const double size = hairs[static_cast<std::size_t>(dice.below(8))];
  return dice.one_in(2) ? size : -size;
}

void move_planes(Dice& dice, Recipe& recipe) {
  for (Cutter& cutter : recipe.cutters) {
    for (Plane& plane : cutter.planes) plane.offset += dice.one_in(2) ? hair(dice) : 0;
  }
}

void double_cutters(Dice& dice, Recipe& recipe) {
  const auto cutters = recipe.cutters;
  for (Cutter again : cutters) {
    const double x = hair(dice), y = hair(dice), z = hair(dice);
    for (Plane& plane : again.planes) plane.offset += dot(plane.normal, {x, y, z});
    recipe.cutters.push_back(again);
  }
  for (const Recipe::Trim& trim : recipe.trims) {
    recipe.cutters.push_back({.planes = {{-trim.plane.normal, hair(dice) - trim.plane.offset}}});
  }
}

void turn_planes(Dice& dice, Recipe& recipe) {
  for (Cutter& cutter : recipe.cutters) {
    for (Plane& plane : cutter.planes) {
      const double angle = hair(dice) * 1e-2;
      plane.normal = unit(plane.normal + dice.direction() * angle);
    }
  }
}

}  // namespace

Recipe hard_recipe(Dice& dice, Trouble trouble) {
  static constexpr std::array<double, 4> grids = {0, 0, 1, 5};
  Sizes sizes(dice, grids[static_cast<std::size_t>(dice.below(4))]);
  Recipe recipe{.from_x = 0};
  recipe.to_x = sizes.between(100, 1500);
  recipe.half_width = sizes.between(10, 100);
  recipe.half_thickness = sizes.between(5, 40);
  recipe.features.push_back({.kind = FeatureKind::stick});
  const int trims = dice.below(4), cutters = dice.below(6);
  for (int i = 0; i < trims; ++i) add_trim(dice, sizes, recipe);
  for (int i = 0; i < cutters; ++i) add_cutter(dice, sizes, recipe);
  if (trouble >= Trouble::moved) move_planes(dice, recipe);
  if (trouble >= Trouble::doubled) double_cutters(dice, recipe);
  if (trouble >= Trouble::doubled_askew) turn_planes(dice, recipe);
  return recipe;
}

}  // namespace kw::test
