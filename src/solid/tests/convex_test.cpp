#include "planar/convex.h"

#include <gtest/gtest.h>
#include <map>

#include "half_space_judge.h"
#include "planar/polygon.h"
#include "random_recipe.h"

namespace kw {
namespace {

using test::Dice;

// Each edge runs once each way, and all points lie behind all sides.
void expect_sound(const Convex& solid) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> uses;
  for (const Convex::Side& side : solid.sides) {
    for (std::uint32_t k = side.begin; k < side.end; ++k) {
      const std::uint32_t to = solid.corners[k + 1 == side.end ? side.begin : k + 1];
      ++uses[{solid.corners[k], to}];
    }
    for (const Vec3& p : solid.points) EXPECT_LT(side.plane.distance(p), 1e-7);
  }
  for (const auto& [edge, count] : uses) {
    EXPECT_EQ(count, 1);
    EXPECT_TRUE(uses.contains({edge.second, edge.first}));
  }
}

TEST(Knife, CutsABoxInTwo) {
  Convex left = convex_box({0, 0, 0}, {10, 4, 2}), right = left;
  Knife knife;
  const Plane plane = {unit({1, 1, 0}), 7 / std::sqrt(2.0)};
  EXPECT_EQ(knife.cut(left, plane, 9), Cut::through);
  EXPECT_EQ(knife.cut(right, {-plane.normal, -plane.offset}, 9), Cut::through);
  EXPECT_NEAR(volume_of(left), (7 + 3) / 2.0 * 4 * 2, 1e-12);
  EXPECT_NEAR(volume_of(left) + volume_of(right), 80, 1e-12);
  EXPECT_EQ(left.sides.back().source, 9);
}

TEST(Knife, LeavesWhatItOnlyTouches) {
  Convex box = convex_box({0, 0, 0}, {10, 4, 2});
  Knife knife;
  EXPECT_EQ(knife.cut(box, {{1, 0, 0}, 10}, 9), Cut::missed);
  EXPECT_EQ(knife.cut(box, {{1, 0, 0}, 10 - 1e-10}, 9), Cut::missed);
  EXPECT_EQ(box.sides.size(), 6u);
  EXPECT_EQ(knife.cut(box, {{1, 0, 0}, 1e-10}, 9), Cut::gone);
  EXPECT_TRUE(box.is_empty());
  EXPECT_EQ(knife.cut(box, {{1, 0, 0}, 5}, 9), Cut::gone);
}

TEST(Knife, CutsThroughCornersAndEdges) {
  Convex box = convex_box({0, 0, 0}, {2, 2, 2});
  Knife knife;
  EXPECT_EQ(knife.cut(box, {unit({1, 1, 1}), 2 / std::sqrt(3.0)}, 9),
            Cut::through);  // three corners
  expect_sound(box);
  EXPECT_NEAR(volume_of(box), 8.0 / 6, 1e-12);
  box = convex_box({0, 0, 0}, {2, 2, 2});
  EXPECT_EQ(knife.cut(box, {unit({1, -1, 0}), 0}, 9), Cut::through);  // two edges
  expect_sound(box);
  EXPECT_NEAR(volume_of(box), 4, 1e-12);
}

TEST(Knife, RandomCutsKeepAClosedSolidOfTheRightVolume) {
  Knife knife;
  int left = 0;
  for (std::uint64_t seed = 0; seed < 2000; ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    Convex solid = convex_box({-50, -20, -10}, {50, 20, 10});
    std::vector<Plane> planes;
    for (const Convex::Side& side : solid.sides) planes.push_back(side.plane);
    const int cuts = 1 + dice.below(30);
    for (int i = 0; i < cuts; ++i) {
      const Vec3 n = dice.direction();
      planes.push_back({n, dice.between(-2, 25)});
      knife.cut(solid, planes.back(), 6 + i);
    }
    expect_sound(solid);
    EXPECT_NEAR(volume_of(solid), test::volume_of_half_spaces(planes), 1e-6);
    left += solid.is_empty() ? 0 : 1;
  }
  EXPECT_GT(left, 500);
}

TEST(Clip, ToldApartWhatAPlaneDoesToAPolygon) {
  const Loop square = {{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}};
  ClipMemory memory;
  Loop loop = square;
  EXPECT_EQ(clip(loop, {{1, 0, 0}, 4}, memory), Cut::missed);
  EXPECT_EQ(clip(loop, {{1, 0, 0}, 0}, memory), Cut::gone);
  EXPECT_EQ(clip(loop, {{0, 0, 1}, 0}, memory), Cut::flush);
  EXPECT_EQ(loop, square);
  EXPECT_EQ(clip(loop, {{1, 0, 0}, 1}, memory), Cut::through);
  EXPECT_DOUBLE_EQ(area_vector_of(loop).z, 4);
}

TEST(Tidy, TakesOutWhatIsNoCorner) {
  Loop loop = {{0, 0, 0}, {2, 0, 0}, {4, 0, 0}, {4, 0, 0},
               {4, 4, 0}, {4, 9, 0}, {4, 4, 0}, {0, 4, 0}};
  tidy(loop);
  EXPECT_EQ(loop, (Loop{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}}));
  Loop sliver = {{0, 0, 0}, {100, 0, 0}, {100, 5e-6, 0}, {0, 5e-6, 0}};
  tidy(sliver);
  EXPECT_TRUE(sliver.empty());
}

TEST(FlatView, RaisesWhatItFlattens) {
  Dice dice(1);
  for (int i = 0; i < 200; ++i) {
    const Vec3 normal = dice.direction(), on = dice.direction() * 100;
    const Vec3 u = unit(cross(normal, dice.direction())), v = cross(normal, u);
    const FlatView view(normal, on);
    const Vec3 p = on + u * 7 - v * 3;
    EXPECT_LT(norm(view.raised(view.flat(p)) - p), 1e-9);
    EXPECT_GT(cross(view.flat(on + u) - view.flat(on), view.flat(on + v) - view.flat(on)), 0);
  }
}

}  // namespace
}  // namespace kw
