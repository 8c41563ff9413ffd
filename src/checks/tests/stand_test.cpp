#include <cmath>
#include <gtest/gtest.h>
#include <numbers>

#include "kerfwright/checks/handling.h"
#include "kerfwright/checks/shop.h"
#include "kerfwright/checks/stability.h"

namespace kw {
namespace {

TEST(Hull, LeavesOutWhatLiesWithin) {
  const auto hull = hull_of({{0, 0}, {2, 0}, {1, 0}, {2, 2}, {0, 2}, {1, 1}});
  ASSERT_EQ(hull.size(), 4u);
  EXPECT_TRUE((hull_of({{0, 0}, {1, 1}, {2, 2}}).size() < 3));
}

// A box 400 x 300, its centre 500 up and in the middle: tips over the long side at atan(150 / 500).
TEST(Tipping, OfABoxFollowsItsClosedForm) {
  const Standing box{{{0, 0}, {400, 0}, {400, 300}, {0, 300}}, {200, 150, 500}, 100, 1000};
  const Tip first = first_tip(tips_of(box));
  EXPECT_NEAR(first.lever, 150, 1e-9);
  EXPECT_NEAR(first.angle, std::atan(0.3) * 180 / std::numbers::pi, 1e-9);
  EXPECT_NEAR(first.force, 100 * 150 / 1000.0, 1e-9);  // F h = W x
}

TEST(Tipping, IsNegativeWhenTheWeightLiesOutside) {
  const Standing box{{{0, 0}, {400, 0}, {400, 300}, {0, 300}}, {200, -10, 500}, 100, 1000};
  EXPECT_LT(first_tip(tips_of(box)).force, 0);
  EXPECT_TRUE(tips_of({{{0, 0}, {1, 1}}, {}, 1, 1}).empty());
}

TEST(Rocking, IsTheFourthFootsDistance) {
  const std::vector<Vec3> feet = {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 2}};
  // On the low three, the fourth stands 2 off; no other three with the centre inside does better.
  EXPECT_NEAR(rocking_gap(feet, {60, 40}), 2, 1e-9);
  EXPECT_EQ(rocking_gap({{0, 0, 0}, {100, 0, 0}, {50, 80, 0}}, {50, 30}), 0);
}

// NIOSH 94-110: 23 kg with the hands close, at 75 cm, seldom, without a twist.
TEST(Lifting, IsTwentyThreeKilogramsAtBest) {
  const Lift best{25, 75, 25, 0, 0.2, 1, Lift::Grip::good};
  EXPECT_NEAR(lifting_limit(best), 23, 1e-9);
  EXPECT_NEAR(lifting_index(46, best), 2, 1e-9);
  Lift far = best;
  far.horizontal = 50;
  EXPECT_NEAR(lifting_limit(far), 11.5, 1e-9);
  far.horizontal = 70;
  EXPECT_EQ(lifting_limit(far), 0);
  Lift low = best;
  low.height = 0;
  EXPECT_NEAR(lifting_limit(low), 23 * 0.775, 1e-9);
}

TEST(Doors, LetThroughWhatIsNarrowTwoWays) {
  EXPECT_TRUE(goes_through(700, 1900, 2500, 762, 2032));
  EXPECT_FALSE(goes_through(800, 1900, 2500, 762, 2032));
}

TEST(Noise, HalvesTheTime) {
  EXPECT_NEAR(hours_allowed_osha(95), 4, 1e-9);
  EXPECT_NEAR(hours_allowed_osha(100), 2, 1e-9);
  EXPECT_NEAR(hours_allowed_niosh(94), 1, 1e-9);
  EXPECT_NEAR(hours_allowed_niosh(100), 0.25, 1e-9);
}

}  // namespace
}  // namespace kw
