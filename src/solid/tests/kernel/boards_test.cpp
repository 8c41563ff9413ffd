// The core against the geometry kernel, which builds the same boards from true planes and cylinders
// by its own way.
#include <cmath>
#include <gtest/gtest.h>

#include "kernel/kernel.h"
#include "recipe.h"
#include "tests/random_recipe.h"

namespace kw {
namespace {

using test::Dice;

#ifdef KW_MANY_BOARDS
constexpr int flat_boards = 2'500, round_boards = 400;
#else
constexpr int flat_boards = 200, round_boards = 40;
#endif

double size_of(const Recipe& recipe) {
  return recipe.to_x - recipe.from_x + 2 * recipe.half_width + 2 * recipe.half_thickness;
}

// Volume, area and centroid agree to a millionth; `more` is what facets measure more than true
// arcs.
void expect_same(const Recipe& recipe, double more_volume, double more_area) {
  const kernel::Measured judge = kernel::measure(recipe);
  ASSERT_EQ(judge.failure, "");
  const auto shape = shape_of(recipe);
  if (judge.solids == 0) {
    EXPECT_FALSE(shape);
    return;
  }
  ASSERT_TRUE(shape) << shape.diagnostics()[0].code;
  EXPECT_NEAR(shape->volume.value, judge.volume + more_volume, 1e-6 * judge.volume + 1e-3);
  EXPECT_NEAR(shape->area.value, judge.area + more_area, 1e-6 * judge.area + 1e-3);
  if (more_volume != 0) return;
  EXPECT_LT(norm(shape->centroid - judge.centroid), 1e-6 * size_of(recipe));
}

TEST(Kernel, AgreesOnBoardsWithFlatCuts) {
  for (int seed = 0; seed < flat_boards && !testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(static_cast<std::uint64_t>(seed));
    expect_same(random_flat_recipe(dice), 0, 0);
  }
}

TEST(Kernel, AgreesOnBoardsWithRoundHolesAndCorners) {
  for (int seed = 0; seed < round_boards && !testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(static_cast<std::uint64_t>(seed));
    const test::RoundRecipe made = random_round_recipe(dice);
    expect_same(made.recipe, made.more_volume, made.more_area);
  }
}

}  // namespace
}  // namespace kw
