// Clashes against closed forms and the judge of half-spaces.
#include <cmath>
#include <gtest/gtest.h>

#include "half_space_judge.h"
#include "hard_recipe.h"
#include "recipe.h"

namespace kw {
namespace {

using test::Dice;

Recipe stick(double length, double width, double thickness) {
  Recipe recipe{.to_x = length, .half_width = width / 2, .half_thickness = thickness / 2};
  recipe.features.push_back({.kind = FeatureKind::stick});
  return recipe;
}

Body body_of(const Recipe& recipe, const Frame& frame = {}) {
  return {.frame = frame, .shape = std::make_shared<Shape>(*shape_of(recipe))};
}

Frame moved(const Frame& by, const Frame& frame) {
  return {by.to_world(frame.origin), by.direction_to_world(frame.x), by.direction_to_world(frame.y),
          by.direction_to_world(frame.z)};
}

const Frame upright = {{100, 0, -100}, {0, 0, 1}, {0, 1, 0}, {-1, 0, 0}};  // x up, through x = 100

TEST(Clash, CrossingSticksShareABlock) {
  const auto clashes =
      clashes_in({body_of(stick(200, 40, 20)), body_of(stick(200, 30, 10), upright)});
  ASSERT_EQ(clashes.size(), 1u);
  EXPECT_EQ(clashes[0].a, 0);
  EXPECT_EQ(clashes[0].b, 1);
  EXPECT_NEAR(clashes[0].volume.value, 10 * 30 * 20, 1e-9);
  EXPECT_LT(norm(clashes[0].low - Vec3{95, -15, -10}), 1e-9);
  EXPECT_LT(norm(clashes[0].high - Vec3{105, 15, 10}), 1e-9);
}

TEST(Clash, IsToldFromAHundredthOfAMillimetre) {
  const Recipe block = stick(100, 40, 20);
  const auto at = [](double z) { return Frame{{0, 0, z}}; };
  for (const double overlap : {-1.0, 0.0, 1e-9, 0.005, 0.0099}) {
    EXPECT_TRUE(clashes_in({body_of(block), body_of(block, at(20 - overlap))}).empty()) << overlap;
  }
  for (const double overlap : {0.0101, 0.02, 1.0}) {
    const auto clashes = clashes_in({body_of(block), body_of(block, at(20 - overlap))});
    ASSERT_EQ(clashes.size(), 1u) << overlap;
    EXPECT_NEAR(clashes[0].volume.value, 100 * 40 * overlap, 1e-6);
  }
}

TEST(Clash, AThinWedgeCountsWholeWhereItGrowsThick) {
  const double lean = 0.01;
  const Frame leaning = {{0, 0, 20},
                         {std::cos(lean), 0, -std::sin(lean)},
                         {0, 1, 0},
                         {std::sin(lean), 0, std::cos(lean)}};
  const Recipe block = stick(100, 40, 20);
  const auto clashes = clashes_in({body_of(block), body_of(block, leaning)});
  ASSERT_EQ(clashes.size(), 1u);
  std::vector<Plane> planes = test::stick_planes(block);
  for (const Plane& plane : test::stick_planes(block)) planes.push_back(leaning.to_world(plane));
  EXPECT_NEAR(clashes[0].volume.value, test::volume_of_half_spaces(planes), 1e-6);
}

TEST(Clash, ABoardInItsNotchIsNone) {
  Recipe notched = stick(200, 40, 20);
  notched.cutters.push_back(
      {.planes = {{{-1, 0, 0}, -95}, {{1, 0, 0}, 105}, {{0, -1, 0}, 15}, {{0, 1, 0}, 15}}});
  EXPECT_TRUE(clashes_in({body_of(notched), body_of(stick(200, 30, 10), upright)}).empty());
  const auto clashes = clashes_in({body_of(notched), body_of(stick(200, 34, 12), upright)});
  ASSERT_EQ(clashes.size(), 1u);
  EXPECT_NEAR(clashes[0].volume.value, (34 * 12 - 30 * 10) * 20, 1e-6);
}

TEST(Clash, BodiesFarApartOrAlmostTouchingAreNone) {
  std::vector<Body> bodies;
  for (int i = 0; i < 10; ++i) bodies.push_back(body_of(stick(100, 40, 20), {{0, 0, 20.0 * i}}));
  EXPECT_TRUE(clashes_in(bodies).empty());
  EXPECT_TRUE(clashes_in({}).empty());
}

TEST(Clash, TellsNoMoreThanTwoThousand) {
  const std::vector<Body> heap(100, body_of(stick(100, 40, 20)));  // 4,950 pairs
  const auto clashes = clashes_in(heap);
  ASSERT_EQ(clashes.size(), 2000u);
  EXPECT_EQ(clashes[0].b, 1);
  ShapeCache cache;
  for (int i = 0; i < 2; ++i) EXPECT_EQ(clashes_in(heap, cache).size(), 2000u);
}

// Sticks and cutters of both, in the world.
double common_volume(const Recipe& a, const Frame& at_a, const Recipe& b, const Frame& at_b) {
  std::vector<Plane> sticks;
  std::vector<std::vector<Plane>> cutters;
  for (const auto& [recipe, frame] : {std::pair(&a, &at_a), std::pair(&b, &at_b)}) {
    for (const Plane& plane : test::stick_planes(*recipe)) sticks.push_back(frame->to_world(plane));
    for (auto cutter : test::cutter_planes(*recipe)) {
      for (Plane& plane : cutter) plane = frame->to_world(plane);
      cutters.push_back(std::move(cutter));
    }
  }
  return test::volume_less(sticks, cutters);
}

TEST(Clash, OfRandomBoardsHasTheVolumeOfTheirHalfSpaces) {
  int found = 0;
  for (std::uint64_t seed = 0; seed < 600; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const Recipe a = test::hard_recipe(dice, test::Trouble::none);
    const Recipe b = test::hard_recipe(dice, test::Trouble::none);
    const Frame at_a = random_frame(dice, 100), at_b = random_frame(dice, 100);
    if (!shape_of(a) || !shape_of(b)) continue;
    const auto clashes = clashes_in({body_of(a, at_a), body_of(b, at_b)});
    const double judge = common_volume(a, at_a, b, at_b);
    const double volume = clashes.empty() ? 0 : clashes[0].volume.value;
    EXPECT_NEAR(volume, judge, 1e-6 * judge + 1e-2);
    found += clashes.empty() ? 0 : 1;
  }
  EXPECT_GT(found, 100);
}

TEST(Clash, StaysWhenThePieceIsMoved) {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    Dice dice(seed);
    std::vector<Body> bodies;
    while (bodies.size() < 4) {
      const Recipe recipe = test::hard_recipe(dice, test::Trouble::none);
      if (shape_of(recipe)) bodies.push_back(body_of(recipe, random_frame(dice, 150)));
    }
    const auto clashes = clashes_in(bodies);
    const Frame motion = random_frame(dice, 500);
    for (Body& body : bodies) body.frame = moved(motion, body.frame);
    const auto after = clashes_in(bodies);
    ASSERT_EQ(after.size(), clashes.size());
    for (std::size_t i = 0; i < after.size(); ++i) {
      EXPECT_EQ(after[i].a, clashes[i].a);
      EXPECT_EQ(after[i].b, clashes[i].b);
      EXPECT_NEAR(after[i].volume.value, clashes[i].volume.value,
                  1e-6 * clashes[i].volume.value + 1e-3);
    }
  }
}

}  // namespace
}  // namespace kw
