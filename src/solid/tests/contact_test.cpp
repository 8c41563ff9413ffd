// Contacts of faces whose patches are known in closed form, or by the judge of half-spaces.
#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

#include "bore.h"
#include "half_space_judge.h"
#include "planar/polygon.h"
#include "random_recipe.h"
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

// Turned about z.
Frame turned(Vec3 origin, double angle) {
  return {origin,
          {std::cos(angle), std::sin(angle), 0},
          {-std::sin(angle), std::cos(angle), 0},
          {0, 0, 1}};
}

// The one contact of a block 100 x 40 x 20 with another above it.
Contact only_contact(const Recipe& below, const Recipe& above, const Frame& frame) {
  const auto contacts = contacts_in({body_of(below), body_of(above, frame)});
  EXPECT_EQ(contacts.size(), 1u);
  return contacts.empty() ? Contact{} : contacts[0];
}

TEST(Contact, OfBlocksIsTheirCommonPatch) {
  const Recipe block = stick(100, 40, 20);
  const Contact contact = only_contact(block, block, {{60, 10, 20}});
  EXPECT_EQ(contact.a, 0);
  EXPECT_EQ(contact.b, 1);
  EXPECT_EQ(contact.gap, 0);
  EXPECT_NEAR(contact.area.value, 40 * 30, 1e-9);
  EXPECT_LT(norm(contact.centre - Vec3{80, 5, 10}), 1e-9);
  const Shape shape = *shape_of(block);
  EXPECT_EQ(shape.faces[static_cast<std::size_t>(contact.face_a)].side,
            static_cast<int>(Side::front));
  EXPECT_EQ(shape.faces[static_cast<std::size_t>(contact.face_b)].side,
            static_cast<int>(Side::back));
  ASSERT_EQ(contact.patch.size(), 1u);
  EXPECT_NEAR(area_vector_of(contact.patch[0]).z, 40 * 30, 1e-9);  // seen from outside a
}

TEST(Contact, TellsTheGapUpToTheWidest) {
  const Recipe block = stick(100, 40, 20);
  EXPECT_NEAR(only_contact(block, block, {{0, 0, 22}}).gap, 2, 1e-9);
  EXPECT_NEAR(only_contact(block, block, {{0, 0, 23}}).gap, 3, 1e-9);
  EXPECT_EQ(only_contact(block, block, {{0, 0, 20.009}}).gap, 0);
  EXPECT_EQ(only_contact(block, block, {{0, 0, 19.991}}).gap, 0);
  for (const double z : {23.001, 19.98}) {
    EXPECT_TRUE(contacts_in({body_of(block), body_of(block, {{0, 0, z}})}).empty()) << z;
  }
  EXPECT_EQ(contacts_in({body_of(block), body_of(block, {{0, 0, 30}})}, 11).size(), 1u);
}

TEST(Contact, NeedsMoreThanASquareMillimetre) {
  const Recipe block = stick(100, 40, 20);
  EXPECT_TRUE(contacts_in({body_of(block), body_of(block, {{99.98, 0, 20}})}).empty());
  EXPECT_EQ(contacts_in({body_of(block), body_of(block, {{99.97, 0, 20}})}).size(), 1u);
}

TEST(Contact, LeavesOutTheRoundHolesOfBoth) {
  Recipe below = stick(100, 40, 20), above = below;
  add_bore(below,
           {.mouth = {30, 0, 10}, .direction = {0, 0, -1}, .diameter = 10, .depth = endless});
  add_bore(above, {.mouth = {70, 5, 10}, .direction = {0, 0, -1}, .diameter = 8, .depth = endless});
  const Contact contact = only_contact(below, above, {{0, 0, 20}});
  EXPECT_NEAR(contact.area.value, 4000 - std::numbers::pi * (25 + 16), 1e-3);
  EXPECT_EQ(contact.patch.size(), 3u);
}

TEST(Contact, OfAFaceWithANotchFollowsTheNotch) {
  Recipe below = stick(100, 40, 20);
  below.cutters.push_back({.planes = {{{-1, 0, 0}, -40}, {{1, 0, 0}, 60}, {{0, -1, 0}, 0}}});
  EXPECT_NEAR(only_contact(below, stick(100, 40, 20), {{0, 0, 20}}).area.value, 4000 - 400, 1e-3);
}

TEST(Contact, IsForFacesWithinATenthOfADegree) {
  const Recipe block = stick(100, 40, 20);
  const auto leaning = [&](double degrees) {
    const double a = degrees * std::numbers::pi / 180;
    const Frame frame = {
        {0, 0, 20.2}, {std::cos(a), 0, std::sin(a)}, {0, 1, 0}, {-std::sin(a), 0, std::cos(a)}};
    return contacts_in({body_of(block), body_of(block, frame)});
  };
  ASSERT_EQ(leaning(0.09).size(), 1u);
  EXPECT_NEAR(leaning(0.09)[0].gap, 0.2 + 50 * std::tan(0.09 * std::numbers::pi / 180), 1e-3);
  EXPECT_TRUE(leaning(0.11).empty());
}

TEST(Contact, BackToBackAndCurvedFacesAreNone) {
  const Recipe block = stick(100, 40, 20);
  EXPECT_TRUE(contacts_in({body_of(block), body_of(block, {{0, 0, 5}})}).empty());
  Recipe bored = block;
  add_bore(bored,
           {.mouth = {50, 0, 10}, .direction = {0, 0, -1}, .diameter = 12, .depth = endless});
  const Frame pin = {{50, 0, -10}, {0, 0, 1}, {0, 1, 0}, {-1, 0, 0}};
  EXPECT_TRUE(contacts_in({body_of(bored), body_of(stick(20, 8, 8), pin)}).empty());
}

// As thick as 1 mm, the patch's prism has its area as volume.
TEST(Contact, OfTurnedBlocksHasTheAreaOfTheirHalfSpaces) {
  int found = 0;
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const Recipe a = stick(dice.between(20, 200), dice.between(10, 80), 20);
    const Recipe b = stick(dice.between(20, 200), dice.between(10, 80), 20);
    const double x = dice.between(-50, 50), y = dice.between(-50, 50);
    const Frame frame = turned({x, y, 20}, dice.between(0, 6.28));
    std::vector<Plane> prism = {{{0, 0, 1}, 1}, {{0, 0, -1}, 0}};
    const auto of_a = test::stick_planes(a), of_b = test::stick_planes(b);
    for (std::size_t i = 0; i < 4; ++i) {
      prism.push_back(of_a[i]);
      prism.push_back(frame.to_world(of_b[i]));
    }
    const double judge = test::volume_of_half_spaces(prism);
    const auto contacts = contacts_in({body_of(a), body_of(b, frame)});
    if (std::abs(judge - 1) < 1e-3) continue;
    ASSERT_EQ(contacts.size(), judge > 1 ? 1u : 0u);
    if (judge > 1) {
      EXPECT_NEAR(contacts[0].area.value, judge, 1e-6);
    }
    found += judge > 1 ? 1 : 0;
  }
  EXPECT_GT(found, 100);
}

// Whether the patch of one pair or of all, where a face is in many parts, is the same.
TEST(Contact, AFaceInTwoPartsIsOneContactWithTwoLoops) {
  Recipe below = stick(300, 40, 20);
  below.cutters.push_back({.planes = {{{-1, 0, 0}, -100}, {{1, 0, 0}, 200}, {{0, 0, -1}, 0}}});
  const auto contacts = contacts_in({body_of(below), body_of(stick(300, 40, 20), {{0, 0, 20}})});
  ASSERT_EQ(contacts.size(), 1u);
  EXPECT_EQ(contacts[0].patch.size(), 2u);
  EXPECT_NEAR(contacts[0].area.value, 200 * 40, 1e-3);
}

}  // namespace
}  // namespace kw
