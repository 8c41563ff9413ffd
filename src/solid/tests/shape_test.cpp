// Shapes whose measures are known in closed form, what their faces are called, and faults.
#include <cmath>
#include <gtest/gtest.h>
#include <limits>
#include <numbers>

#include "bore.h"
#include "recipe.h"

namespace kw {
namespace {

constexpr double pi = std::numbers::pi;

Recipe stick(double length, double width, double thickness) {
  Recipe recipe{.to_x = length, .half_width = width / 2, .half_thickness = thickness / 2};
  recipe.features.push_back({.kind = FeatureKind::stick});
  return recipe;
}

void hollow(Recipe& recipe, std::vector<Plane> planes) {
  recipe.features.push_back({.kind = FeatureKind::notch, .planes = planes, .cutter_begin = {0}});
  recipe.cutters.push_back(
      {.feature = static_cast<int>(recipe.features.size()) - 1, .planes = planes});
}

// A hollow between two x, from z up.
std::vector<Plane> lap(double from, double to, double z) {
  return {{{-1, 0, 0}, -from}, {{1, 0, 0}, to}, {{0, 0, -1}, -z}};
}

Shape made(const Recipe& recipe) {
  auto shape = shape_of(recipe);
  EXPECT_TRUE(shape) << (shape ? "" : shape.diagnostics()[0].message);
  return shape ? *std::move(shape) : Shape{};
}

std::string_view fault_of(const Recipe& recipe) {
  const auto shape = shape_of(recipe);
  return shape ? "" : shape.diagnostics()[0].code;
}

void expect_at(Vec3 is, Vec3 wanted, double within = 1e-9) {
  EXPECT_NEAR(is.x, wanted.x, within);
  EXPECT_NEAR(is.y, wanted.y, within);
  EXPECT_NEAR(is.z, wanted.z, within);
}

TEST(Shape, OfABareStickIsABox) {
  const Shape shape = made(stick(100, 40, 20));
  EXPECT_DOUBLE_EQ(shape.volume.value, 80'000);
  EXPECT_DOUBLE_EQ(shape.area.value, 2 * (4000 + 2000 + 800));
  expect_at(shape.centroid, {50, 0, 0});
  expect_at(shape.low, {0, -20, -10});
  expect_at(shape.high, {100, 20, 10});
  ASSERT_EQ(shape.faces.size(), 6u);
  for (const Face& face : shape.faces) {
    EXPECT_EQ(face.feature, 0);
    ASSERT_EQ(face.loops.size(), 1u);
    EXPECT_EQ(face.loops[0].size(), 4u);
  }
}

TEST(Shape, NamesTheSidesOfTheStick) {
  const Shape shape = made(stick(100, 40, 20));
  const Vec3 normals[] = {{-1, 0, 0}, {1, 0, 0}, {0, -1, 0}, {0, 1, 0}, {0, 0, -1}, {0, 0, 1}};
  for (const Face& face : shape.faces) EXPECT_EQ(face.plane.normal, normals[face.side]);
}

TEST(Shape, WithMitredEndsIsTheMeanLengthLong) {
  Recipe recipe = stick(500, 60, 25);
  const double h = std::sqrt(0.5);
  recipe.trims = {{{{-h, h, 0}, -h * 50}, 1, 0, -1}, {{{h, h, 0}, h * 450}, 2, 0, -1}};
  recipe.features.resize(3);
  const Shape shape = made(recipe);
  EXPECT_NEAR(shape.volume.value, 400 * 60 * 25, 1e-6);
  // Broad faces, edges of 460 and 340, and the slanting ends.
  EXPECT_NEAR(shape.area.value, 2 * 400 * 60 + (340 + 460) * 25 + 2 * 60 / h * 25, 1e-6);
  // Of a trapezium with sides 460 and 340, 60 apart: h/3 (a + 2b)/(a + b) from a.
  expect_at(shape.centroid, {250, -30 + 20.0 * (460 + 2 * 340) / 800, 0}, 1e-9);
}

TEST(Shape, WithALapLosesABlockAndGainsWalls) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, lap(100, 150, 2));
  const Shape shape = made(recipe);
  EXPECT_NEAR(shape.volume.value, 300 * 50 * 20 - 50 * 50 * 8, 1e-9);
  EXPECT_NEAR(shape.area.value, 2 * (300 * 50 + 300 * 20 + 50 * 20) - 2 * 50 * 8 + 2 * 50 * 8,
              1e-9);
  int walls = 0;
  for (const Face& face : shape.faces) {
    if (face.feature != 1) continue;
    ++walls;
    const Plane& out_of_hollow = recipe.cutters[0].planes[static_cast<std::size_t>(face.side)];
    EXPECT_EQ(face.plane.normal, -out_of_hollow.normal);
  }
  EXPECT_EQ(walls, 3);
}

TEST(Shape, WithABlindMortiseHasAHoleInItsFace) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe,
         {{{-1, 0, 0}, -100}, {{1, 0, 0}, 140}, {{0, -1, 0}, 5}, {{0, 1, 0}, 5}, {{0, 0, -1}, 5}});
  const Shape shape = made(recipe);
  EXPECT_NEAR(shape.volume.value, 300 * 50 * 20 - 40 * 10 * 15, 1e-9);
  EXPECT_NEAR(shape.area.value, 2 * (300 * 50 + 300 * 20 + 50 * 20) + 2 * (40 + 10) * 15, 1e-9);
  for (const Face& face : shape.faces) {
    const bool is_front = face.feature == 0 && face.side == static_cast<int>(Side::front);
    EXPECT_EQ(face.loops.size(), is_front ? 2u : 1u);
  }
}

TEST(Shape, RoundHolesHaveTheCirclesVolumeAndArea) {
  for (const double diameter : {3.0, 8.0, 25.0, 60.0}) {
    Recipe recipe = stick(300, 80, 20);
    add_bore(recipe, {.kind = FeatureKind::hole,
                      .mouth = {150, 3, 10},
                      .direction = {0, 0, -1},
                      .diameter = diameter,
                      .depth = endless});
    const Shape shape = made(recipe);
    const double r = diameter / 2;
    EXPECT_NEAR(shape.volume.value, 300 * 80 * 20 - pi * r * r * 20, 1e-6);
    EXPECT_NEAR(shape.area.value,
                2 * (300 * 80 + 300 * 20 + 80 * 20) - 2 * pi * r * r + 2 * pi * r * 20, 1e-6);
  }
}

TEST(Shape, ARoundedCornerHasTheAreaOfItsArc) {
  Recipe recipe = stick(300, 80, 20);
  recipe.cylinders.push_back({{270, 10, 0}, {0, 0, 1}, 30, false});
  const int facets = 12;
  for (int i = 0; i < facets; ++i) {
    const double turn = pi / 2 * (i + 0.5) / facets, apothem = 30 * std::cos(pi / 4 / facets);
    const Vec3 n = {std::cos(turn), std::sin(turn), 0};
    recipe.trims.push_back({{n, dot(n, {270, 10, 0}) + apothem}, 0, i, 0});
  }
  const Shape shape = made(recipe);
  const double corner = 900 - facets * 450 * std::sin(pi / 2 / facets);  // chords stand for the arc
  EXPECT_NEAR(shape.volume.value, (300 * 80 - corner) * 20, 1e-6);
  EXPECT_NEAR(shape.area.value, 2 * (300 * 80 - corner) + 20 * (2 * 300 + 2 * 80 - 60 + pi * 15),
              1e-6);
}

TEST(Shape, HollowsThatShareAWallLeaveNoFilmBetween) {
  Recipe recipe = stick(300, 50, 20), both = stick(300, 50, 20);
  hollow(recipe, lap(100, 140, 0));
  hollow(recipe, lap(140 - 1e-11, 170, 0));
  hollow(both, lap(100, 170, 0));
  EXPECT_NEAR(made(recipe).volume.value, made(both).volume.value, 1e-6);
  EXPECT_NEAR(made(recipe).area.value, made(both).area.value, 1e-6);
}

TEST(Shape, TheSameHollowTwiceIsTheHollow) {
  Recipe once = stick(300, 50, 20);
  hollow(once, lap(100, 140, 0));
  Recipe twice = once;
  hollow(twice, lap(100, 140, 0));
  EXPECT_DOUBLE_EQ(made(once).volume.value, made(twice).volume.value);
  EXPECT_EQ(made(once).faces.size(), made(twice).faces.size());
}

TEST(Shape, SaysWhenNothingIsLeft) {
  Recipe swallowed = stick(300, 50, 20);
  hollow(swallowed, lap(-10, 310, -30));
  EXPECT_EQ(fault_of(swallowed), "solid.nothing-left");
  Recipe by_two = stick(300, 50, 20);
  hollow(by_two, lap(-10, 200, -30));
  hollow(by_two, lap(150, 310, -30));
  EXPECT_EQ(fault_of(by_two), "solid.nothing-left");
  Recipe boundless = stick(300, 50, 20);
  hollow(boundless, {});
  EXPECT_EQ(fault_of(boundless), "solid.nothing-left");
  Recipe trimmed = stick(300, 50, 20);
  trimmed.trims = {{{{1, 0, 0}, -5}, 0, 0, -1}};
  EXPECT_EQ(fault_of(trimmed), "solid.nothing-left");
  EXPECT_EQ(fault_of(stick(300, 0, 20)), "solid.nothing-left");
  EXPECT_EQ(fault_of(stick(-300, 50, 20)), "solid.nothing-left");
}

TEST(Shape, SaysWhenANumberIsNone) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(fault_of(stick(none, 50, 20)), "solid.out-of-range");
  EXPECT_EQ(fault_of(stick(300, std::numeric_limits<double>::infinity(), 20)),
            "solid.out-of-range");
  EXPECT_EQ(fault_of(stick(2e6, 50, 20)), "solid.out-of-range");
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, {{{none, 0, 0}, 3}});
  EXPECT_EQ(fault_of(recipe), "solid.out-of-range");
  recipe = stick(300, 50, 20);
  recipe.trims = {{{{0, 0, 0}, 3}, 0, 0, -1}};
  EXPECT_EQ(fault_of(recipe), "solid.out-of-range");
}

TEST(Shape, ACutterBesideTheWoodDoesNothing) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, lap(400, 500, 0));
  hollow(recipe, lap(100, 200, 10));  // touches the front
  hollow(recipe, lap(100, 100, 0));   // has no width
  hollow(recipe, lap(200, 100, 0));   // is empty
  EXPECT_EQ(made(recipe).faces.size(), 6u);
}

TEST(Shape, StopsAtTooManyCuts) {
  Recipe many = stick(3000, 500, 20);
  for (int i = 0; i < 25'000; ++i) hollow(many, {{{1, 0, 0}, -5}});
  EXPECT_EQ(fault_of(many), "solid.too-many-faces");
  Recipe one = stick(3000, 500, 20);
  hollow(one, std::vector<Plane>(1500, Plane{{1, 0, 0}, 5}));
  EXPECT_EQ(fault_of(one), "solid.too-many-faces");
  Recipe tangled = stick(3000, 500, 20);
  for (int i = 0; i < 600; ++i) {
    add_bore(tangled, {.mouth = {1500 + 0.1 * i, 0.2 * i, 10},
                       .direction = unit({0.1, 0.001 * i, -1}),
                       .diameter = 400,
                       .depth = endless});
  }
  EXPECT_EQ(fault_of(tangled), "solid.too-many-faces");
}

TEST(Shape, TakesFiveHundredHoles) {
  Recipe recipe = stick(2440, 1220, 18);
  for (int i = 0; i < 500; ++i) {
    add_bore(recipe, {.kind = FeatureKind::hole,
                      .mouth = {50.0 + 90 * (i % 25), -550.0 + 55 * (i / 25), 9},
                      .direction = {0, 0, -1},
                      .diameter = 6,
                      .depth = endless});
  }
  EXPECT_NEAR(made(recipe).volume.value, (2440.0 * 1220 - 500 * pi * 9) * 18, 1e-3);
}

TEST(Shape, WarnsOfABoardInPieces) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, lap(100, 120, -20));
  const auto shape = shape_of(recipe);
  ASSERT_TRUE(shape);
  ASSERT_EQ(shape.diagnostics().size(), 1u);
  EXPECT_EQ(shape.diagnostics()[0].code, "solid.in-pieces");
  EXPECT_EQ(shape.diagnostics()[0].severity, Severity::warning);
  EXPECT_NE(shape.diagnostics()[0].message.find("2 pieces"), std::string::npos);
  EXPECT_NEAR(shape->volume.value, 280 * 50 * 20, 1e-9);
}

TEST(Shape, PiecesThatMeetInALineAreTwo) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, {{{1, 0, 0}, 100}, {{0, 1, 0}, 0}});
  hollow(recipe, {{{-1, 0, 0}, -100}, {{0, -1, 0}, 0}});
  const auto shape = shape_of(recipe);
  ASSERT_TRUE(shape);
  ASSERT_EQ(shape.diagnostics().size(), 1u);
  EXPECT_NE(shape.diagnostics()[0].message.find("2 pieces"), std::string::npos);
}

TEST(Shape, AClosedHollowIsNoPiece) {
  Recipe recipe = stick(300, 50, 20);
  hollow(recipe, {{{-1, 0, 0}, -100},
                  {{1, 0, 0}, 140},
                  {{0, -1, 0}, 5},
                  {{0, 1, 0}, 5},
                  {{0, 0, -1}, 5},
                  {{0, 0, 1}, 5}});
  const auto shape = shape_of(recipe);
  ASSERT_TRUE(shape);
  EXPECT_TRUE(shape.diagnostics().empty());
  EXPECT_NEAR(shape->volume.value, 300 * 50 * 20 - 40 * 10 * 10, 1e-9);
}

TEST(Shape, ARingOfAFrameIsOnePiece) {
  Recipe recipe = stick(300, 100, 20);
  hollow(recipe, {{{-1, 0, 0}, -20}, {{1, 0, 0}, 280}, {{0, -1, 0}, 30}, {{0, 1, 0}, 30}});
  hollow(recipe, lap(140, 160, 0));
  EXPECT_TRUE(shape_of(recipe).diagnostics().empty());
}

}  // namespace
}  // namespace kw
