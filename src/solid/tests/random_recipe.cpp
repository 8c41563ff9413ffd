#include "random_recipe.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "bore.h"

namespace kw::test {
namespace {

constexpr double pi = std::numbers::pi;

int add_feature(Recipe& recipe, FeatureKind kind) {
  recipe.features.push_back({.kind = kind});
  return static_cast<int>(recipe.features.size()) - 1;
}

void trim(Recipe& recipe, FeatureKind kind, Vec3 normal, Vec3 through) {
  const Vec3 n = unit(normal);
  recipe.trims.push_back({{n, dot(n, through)}, add_feature(recipe, kind), 0, -1});
}

void hollow(Recipe& recipe, FeatureKind kind, std::vector<Plane> planes) {
  recipe.cutters.push_back({.feature = add_feature(recipe, kind), .planes = std::move(planes)});
}

Recipe random_stick(Dice& dice) {
  Recipe recipe{.from_x = 0,
                .to_x = dice.between(60, 1500),
                .half_width = dice.between(8, 150),
                .half_thickness = dice.between(4, 45)};
  recipe.features.push_back({.kind = FeatureKind::stick});
  return recipe;
}

void cut_end(Dice& dice, Recipe& recipe, bool at_end) {
  const double swing = dice.between(-50, 50) * pi / 180,
               tilt = dice.one_in(2) ? 0 : dice.between(-48, 48) * pi / 180;
  const double out = at_end ? 1 : -1;
  const double x =
      at_end ? recipe.to_x - dice.between(0, recipe.to_x / 4) : dice.between(0, recipe.to_x / 4);
  trim(recipe, at_end ? FeatureKind::end : FeatureKind::start,
       {out * std::cos(swing) * std::cos(tilt), std::sin(swing) * std::cos(tilt), std::sin(tilt)},
       {x, 0, 0});
}

void taper(Dice& dice, Recipe& recipe) {
  const double y = dice.one_in(2) ? 1 : -1;
  const Vec3 normal = {dice.between(-0.1, 0.1), y, 0};
  trim(recipe, FeatureKind::taper, normal,
       {dice.between(0, recipe.to_x), y * recipe.half_width * dice.between(0.4, 1), 0});
}

// A bound that is now and then flush with the board's own face.
double level(Dice& dice, double half) {
  return dice.one_in(5) ? half : dice.between(-half, half);
}

// Across the board from a broad face, its walls square or leaning, from wall to wall or over part
// of the width.
void notch(Dice& dice, Recipe& recipe) {
  const double x = dice.between(0, recipe.to_x), width = dice.between(2, 120);
  const double swing = dice.one_in(2) ? 0 : dice.between(-0.8, 0.8),
               tilt = dice.one_in(3) ? dice.between(-0.4, 0.4) : 0;
  const Vec3 along = {std::cos(swing) * std::cos(tilt), std::sin(swing) * std::cos(tilt),
                      std::sin(tilt)};
  const double middle = along.x * x, side = dice.one_in(2) ? 1 : -1;
  std::vector<Plane> planes = {{along, middle + width / 2},
                               {-along, width / 2 - middle},
                               {{0, 0, -side}, -side * level(dice, recipe.half_thickness)}};
  if (dice.one_in(3)) planes.push_back({{0, 1, 0}, level(dice, recipe.half_width)});
  hollow(recipe, FeatureKind::notch, std::move(planes));
}

void groove(Dice& dice, Recipe& recipe) {
  const double y = level(dice, recipe.half_width), width = dice.between(2, 30),
               side = dice.one_in(2) ? 1 : -1;
  std::vector<Plane> planes = {
      {{0, 1, 0}, y + width / 2},
      {{0, -1, 0}, width / 2 - y},
      {{0, 0, -side}, -side * dice.between(-1, 1) * recipe.half_thickness}};
  if (dice.one_in(2)) planes.push_back({{1, 0, 0}, dice.between(0, recipe.to_x)});
  hollow(recipe, FeatureKind::groove, std::move(planes));
}

// Four slabs that overlap in the corners.
void tenon(Dice& dice, Recipe& recipe) {
  const Vec3 lean = unit({-1, dice.one_in(2) ? 0 : dice.between(-0.5, 0.5), 0});
  const Plane shoulder = {lean, dot(lean, {recipe.to_x - dice.between(5, 40), 0, 0})};
  const double wide = recipe.half_width * dice.between(0.3, 1),
               thick = recipe.half_thickness * dice.between(0.2, 0.8);
  const int feature = add_feature(recipe, FeatureKind::tenon);
  for (const Plane& slab : {Plane{{0, -1, 0}, -wide}, Plane{{0, 1, 0}, -wide},
                            Plane{{0, 0, -1}, -thick}, Plane{{0, 0, 1}, -thick}})
    recipe.cutters.push_back({.feature = feature, .planes = {shoulder, slab}});
}

// Planes at random about a point in the wood; may be unbounded.
void odd_hollow(Dice& dice, Recipe& recipe) {
  const Vec3 middle = {dice.between(0, recipe.to_x), dice.between(-1, 1) * recipe.half_width,
                       dice.between(-1, 1) * recipe.half_thickness};
  std::vector<Plane> planes;
  const int count = 3 + dice.below(6);
  for (int i = 0; i < count; ++i) {
    const Vec3 n = dice.direction();
    planes.push_back({n, dot(n, middle) + dice.between(2, 60)});
  }
  hollow(recipe, FeatureKind::notch, std::move(planes));
}

// The last hollow again, moved by its own width: the two share a wall.
void neighbour(Recipe& recipe) {
  if (recipe.cutters.empty()) return;
  std::vector<Plane> planes = recipe.cutters.back().planes;
  const double width = planes[0].offset + planes[1].offset;
  planes[0].offset += width;
  planes[1].offset -= width;
  if (norm(planes[0].normal + planes[1].normal) < 1e-12 && width > 0)
    hollow(recipe, FeatureKind::notch, std::move(planes));
}

// A hole from the broad face in its own stretch of the board.
void bore(Dice& dice, RoundRecipe& made, double x) {
  Recipe& recipe = made.recipe;
  const double diameter = std::min(dice.between(3, 60), recipe.half_width);
  const bool is_through = dice.one_in(2);
  const double depth = recipe.half_thickness * dice.between(0.2, 1.8);
  const double y = dice.between(-1, 1) * (recipe.half_width - diameter / 2 - 1);
  const double up = dice.one_in(2) ? 1 : -1;
  add_bore(recipe, {.kind = FeatureKind::hole,
                    .mouth = {x, y, up * recipe.half_thickness},
                    .direction = {0, 0, -up},
                    .diameter = diameter,
                    .depth = is_through ? endless : depth});
}

// A corner at the end, `side` the edge: as many chords as asked, the corners of which lie on the
// circle.
void round_corner(Dice& dice, RoundRecipe& made, double side) {
  Recipe& recipe = made.recipe;
  const double radius = dice.between(3, std::min(recipe.half_width, 40.0));
  const int facets = 1 + dice.below(12), feature = add_feature(recipe, FeatureKind::corner);
  const auto cylinder = static_cast<int>(recipe.cylinders.size());
  const Vec3 centre = {recipe.to_x - radius, side * (recipe.half_width - radius), 0};
  recipe.cylinders.push_back({centre, {0, 0, 1}, radius, false});
  const double step = pi / 2 / facets;
  for (int i = 0; i < facets; ++i) {
    const double turn = (i + 0.5) * step;
    const Vec3 n = {std::cos(turn), side * std::sin(turn), 0};
    recipe.trims.push_back(
        {{n, dot(n, centre) + radius * std::cos(step / 2)}, feature, i, cylinder});
  }
  const double more = -facets * radius * radius / 2 * (step - std::sin(step));
  made.more_volume += more * 2 * recipe.half_thickness;
  made.more_area += 2 * more;
}

}  // namespace

Vec3 Dice::direction() {
  const double z = between(-1, 1), turn = between(0, 2 * pi), flat = std::sqrt(1 - z * z);
  return {flat * std::cos(turn), flat * std::sin(turn), z};
}

Recipe random_flat_recipe(Dice& dice) {
  Recipe recipe = random_stick(dice);
  if (dice.one_in(2)) cut_end(dice, recipe, false);
  if (dice.one_in(2)) cut_end(dice, recipe, true);
  if (dice.one_in(4)) taper(dice, recipe);
  if (dice.one_in(8)) trim(recipe, FeatureKind::cut, dice.direction(), {recipe.to_x / 2, 0, 0});
  const int count = dice.below(5);
  for (int i = 0; i < count; ++i) {
    const int kind = dice.below(8);
    if (kind < 3) notch(dice, recipe);
    if (kind == 3 || kind == 4) groove(dice, recipe);
    if (kind == 5) odd_hollow(dice, recipe);
    if (kind == 6) tenon(dice, recipe);
    if (kind == 7) neighbour(recipe);
  }
  return recipe;
}

RoundRecipe random_round_recipe(Dice& dice) {
  RoundRecipe made{.recipe = random_stick(dice)};
  if (dice.one_in(2)) round_corner(dice, made, 1);
  if (dice.one_in(2)) round_corner(dice, made, -1);
  const double last = made.recipe.to_x - 80;
  for (double x = 40; x < last && made.recipe.cutters.size() < 8; x += dice.between(70, 300))
    bore(dice, made, x);
  return made;
}

Frame random_frame(Dice& dice, double reach) {
  const Vec3 x = dice.direction(), z = unit(cross(x, dice.direction()));
  return {{dice.between(-1, 1) * reach, dice.between(-1, 1) * reach, dice.between(-1, 1) * reach},
          x,
          cross(z, x),
          z};
}

}  // namespace kw::test
