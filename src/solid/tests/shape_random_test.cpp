// Thousands of random boards against a judge that knows only half-spaces.
#include <cmath>
#include <gtest/gtest.h>

#include "half_space_judge.h"
#include "hard_recipe.h"
#include "planar/polygon.h"
#include "recipe.h"

namespace kw {
namespace {

using test::Dice;
using test::Trouble;

#ifdef KW_MANY_BOARDS
constexpr std::uint64_t boards = 20'000;
#else
constexpr std::uint64_t boards = 400;
#endif

template <class Check>
void for_boards(Trouble trouble, std::uint64_t count, Check check) {
  for (std::uint64_t seed = 0; seed < count && !testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(seed);
    const Recipe recipe = test::hard_recipe(dice, trouble);
    const auto shape = shape_of(recipe);
    if (shape) check(recipe, *shape, dice);
    if (!shape) {
      EXPECT_EQ(shape.diagnostics()[0].code, "solid.nothing-left");
    }
  }
}

// Corners from Clipper's grid are off by up to 3e-6 mm; moved planes may be made one with others up
// to 2.5e-4 mm away.
void expect_volume(const Recipe& recipe, const Shape& shape, double off) {
  const double judge = test::volume_less(test::stick_planes(recipe), test::cutter_planes(recipe));
  EXPECT_NEAR(shape.volume.value, judge, off * shape.area.value);
}

TEST(RandomShape, VolumeIsThatOfItsHalfSpaces) {
  for_boards(Trouble::none, boards, [](const Recipe& recipe, const Shape& shape, Dice&) {
    expect_volume(recipe, shape, 3e-6);
  });
}

TEST(RandomShape, VolumeStaysWithPlanesAHairApart) {
  for_boards(Trouble::moved, boards, [](const Recipe& recipe, const Shape& shape, Dice&) {
    expect_volume(recipe, shape, 2.5e-4);
  });
}

// The surface closes: its area vectors cancel.
TEST(RandomShape, SurfaceIsClosed) {
  for (const auto trouble : {Trouble::none, Trouble::moved, Trouble::doubled}) {
    for_boards(trouble, boards, [](const Recipe&, const Shape& shape, Dice&) {
      Vec3 sum;
      for (const Face& face : shape.faces) {
        for (const auto& loop : face.loops) sum += area_vector_of(loop);
      }
      EXPECT_LT(norm(sum), 1e-6 * shape.area.value);
    });
  }
}

TEST(RandomShape, FacesLieInTheirPlanes) {
  for_boards(Trouble::moved, boards, [](const Recipe&, const Shape& shape, Dice&) {
    for (const Face& face : shape.faces) {
      double area = 0;
      for (const auto& loop : face.loops) {
        for (const Vec3& p : loop) EXPECT_LT(std::abs(face.plane.distance(p)), 5e-4);
        area += dot(area_vector_of(loop), face.plane.normal);
      }
      EXPECT_GT(area, 0);
    }
  });
}

// Whether p is inside the faces, by counting along a line how often it comes out less how often it
// goes in.
bool is_inside(const Shape& shape, Vec3 p, Vec3 way) {
  int out = 0;
  for (const Face& face : shape.faces) {
    const double slope = dot(face.plane.normal, way);
    const double t = -face.plane.distance(p) / slope;
    if (!(t > 0)) continue;
    const FlatView view(face.plane.normal, face.loops[0][0]);
    const Vec2 hit = view.flat(p + way * t);
    int winding = 0;
    for (const auto& loop : face.loops) {
      Vec2 a = view.flat(loop.back());
      for (const Vec3& corner : loop) {
        const Vec2 b = view.flat(corner);
        const double side = cross(b - a, hit - a);
        if (a.y <= hit.y && b.y > hit.y && side > 0) ++winding;
        if (a.y > hit.y && b.y <= hit.y && side < 0) --winding;
        a = b;
      }
    }
    out += slope > 0 ? winding : -winding;
  }
  return out > 0;
}

TEST(RandomShape, HoldsThePointsOfItsRecipe) {
  int wood = 0, air = 0;
  for_boards(Trouble::none, boards, [&](const Recipe& recipe, const Shape& shape, Dice& dice) {
    for (int i = 0; i < 20; ++i) {
      const double x = dice.between(shape.low.x - 5, shape.high.x + 5);
      const double y = dice.between(shape.low.y - 5, shape.high.y + 5);
      const Vec3 p = {x, y, dice.between(shape.low.z - 5, shape.high.z + 5)};
      const auto judge = test::membership_of(recipe, p);
      if (judge.margin < 1e-3) continue;
      (judge.is_wood ? wood : air) += 1;
      EXPECT_EQ(is_inside(shape, p, dice.direction()), judge.is_wood);
    }
  });
  EXPECT_GT(wood, static_cast<int>(boards));
  EXPECT_GT(air, static_cast<int>(boards));
}

TEST(RandomShape, IsTheSameEachTime) {
  for_boards(Trouble::doubled, boards / 4, [](const Recipe& recipe, const Shape& shape, Dice&) {
    const auto again = shape_of(recipe);
    ASSERT_EQ(again->faces.size(), shape.faces.size());
    for (std::size_t f = 0; f < shape.faces.size(); ++f) {
      EXPECT_EQ(again->faces[f].loops, shape.faces[f].loops);
    }
  });
}

}  // namespace
}  // namespace kw
