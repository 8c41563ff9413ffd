// Clashes of random boards against the geometry kernel's own common part.
#include <algorithm>
#include <gtest/gtest.h>
#include <memory>

#include "kernel/kernel.h"
#include "recipe.h"
#include "tests/random_recipe.h"

namespace kw {
namespace {

using test::Dice;

#ifdef KW_MANY_BOARDS
constexpr int groups = 100;
#else
constexpr int groups = 20;
#endif

struct Group {
  std::vector<kernel::Placed> boards = {};
  std::vector<Body> bodies = {};
};

// Four boards thrown on a heap.
Group random_group(Dice& dice) {
  Group group;
  while (group.bodies.size() < 4) {
    const Recipe recipe = random_flat_recipe(dice);
    const Frame frame = random_frame(dice, 100);
    auto shape = shape_of(recipe);
    if (!shape) continue;
    const auto number = static_cast<int>(group.bodies.size());
    group.bodies.push_back({number, frame, std::make_shared<Shape>(*std::move(shape))});
    group.boards.push_back({"board", recipe, frame});
  }
  return group;
}

double clash_of(const std::vector<Clash>& clashes, int a, int b) {
  const auto found = std::find_if(clashes.begin(), clashes.end(),
                                  [&](const Clash& clash) { return clash.a == a && clash.b == b; });
  return found == clashes.end() ? 0 : found->volume.value;
}

TEST(KernelClash, CommonWoodOfRandomBoardsIsTheSame) {
  int clashing = 0;
  for (int seed = 0; seed < groups && !testing::Test::HasFailure(); ++seed) {
    SCOPED_TRACE(seed);
    Dice dice(static_cast<std::uint64_t>(seed));
    const Group group = random_group(dice);
    const auto clashes = clashes_in(group.bodies);
    for (int a = 0; a < 4; ++a)
      for (int b = a + 1; b < 4; ++b) {
        const double judge = kernel::common_volume(group.boards[static_cast<std::size_t>(a)],
                                                   group.boards[static_cast<std::size_t>(b)]);
        ASSERT_GE(judge, 0);
        EXPECT_NEAR(clash_of(clashes, a, b), judge, 1e-6 * judge + 1e-2) << a << " " << b;
        clashing += judge > 1 ? 1 : 0;
      }
  }
  EXPECT_GT(clashing, groups / 2);  // of six pairs in each group
}

}  // namespace
}  // namespace kw
