#include "kerfwright/checks/tolerance.h"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace kw {
namespace {

std::vector<ErrorSource> two_sources() {
  return {{"marking", 0, 0.3, 0}, {"stock", 0, 0.4, 0}};
}

// The sum of two normal errors is normal: spread 0.5, so within 0.5 at 68.27 in a hundred.
TEST(Draws, GiveTheAnalyticChance) {
  const std::vector<Gap> gaps = {{"a", 0, {{0, 1}, {1, -1}}, -0.5, 0.5}};
  const ToleranceAnswer answer = draw_gaps(two_sources(), gaps, {.count = 200'000, .seed = 7});
  const double chance = std::erf(1 / std::sqrt(2.0));
  const double four_errors = 4 * std::sqrt(chance * (1 - chance) / 200'000);
  EXPECT_NEAR(answer.gaps[0].chance, chance, four_errors);
  EXPECT_NEAR(answer.gaps[0].spread, 0.5, 0.004);
  EXPECT_NEAR(answer.gaps[0].mean, 0, 0.005);
  EXPECT_NEAR(answer.gaps[0].high, 1.645 * 0.5, 0.01);
  EXPECT_NEAR(answer.chance_of_all, answer.gaps[0].chance, 1e-12);
}

TEST(Draws, AreTheSameForASeedAndOthersForAnother) {
  const std::vector<Gap> gaps = {{"a", 0, {{0, 1}, {1, 2}}, -0.5, 0.5}};
  const auto once = draw_gaps(two_sources(), gaps, {.count = 5000, .seed = 3});
  const auto again = draw_gaps(two_sources(), gaps, {.count = 5000, .seed = 3});
  const auto other = draw_gaps(two_sources(), gaps, {.count = 5000, .seed = 4});
  EXPECT_EQ(once.gaps[0].chance, again.gaps[0].chance);
  EXPECT_EQ(once.gaps[0].mean, again.gaps[0].mean);
  EXPECT_NE(once.gaps[0].mean, other.gaps[0].mean);
}

TEST(WorstCase, AddsEveryLimit) {
  const std::vector<ErrorSource> sources = {{"a", 0.1, 0.1, 0.5}, {"b", 0, 0.2, 0}};
  const std::vector<Gap> gaps = {{"g", 1, {{0, 2}, {1, -1}}, 0, 2}};
  const GapAnswer answer = draw_gaps(sources, gaps, {.count = 10}).gaps[0];
  EXPECT_NEAR(answer.worst_high, 1 + 0.2 + 1.0 + 0.6, 1e-12);
  EXPECT_NEAR(answer.worst_low, 1 + 0.2 - 1.6, 1e-12);
}

TEST(Care, GoesFirstToWhatSpreadsMost) {
  const std::vector<Gap> gaps = {{"a", 0, {{0, 1}, {1, 1}}, -1, 1}};
  const auto care = draw_gaps(two_sources(), gaps, {.count = 1}).care;
  EXPECT_EQ(care[0].source, 1);
  EXPECT_NEAR(care[0].share, 0.16 / 0.25, 1e-12);
}

TEST(Draws, StopWhenTold) {
  const std::vector<Gap> gaps = {{"a", 0, {{0, 1}}, -1, 1}};
  int told = 0;
  const auto answer = draw_gaps(two_sources(), gaps,
                                {.count = 10'000, .progress = [&](double) { return ++told < 3; }});
  EXPECT_EQ(answer.draws, 512);
}

TEST(Ease, IsWhatIsMissing) {
  EXPECT_EQ(ease_for({.high = 0.3, .chance = 0.99}, {.most = 0.2}, 0.95), 0);
  EXPECT_NEAR(
      ease_for({.low = -0.1, .high = 0.5, .chance = 0.6}, {.least = -0.2, .most = 0.2}, 0.95), 0.3,
      1e-12);
}

// More error never makes a joint surer; more ease never less sure.
RC_GTEST_PROP(Draws, FallWithTheErrors, ()) {
  const double spread = *rc::gen::inRange(5, 100) / 100.0, more = *rc::gen::inRange(1, 50) / 100.0;
  const double room = *rc::gen::inRange(10, 100) / 100.0;
  const auto seed = static_cast<std::uint64_t>(*rc::gen::inRange(1, 1000));
  const auto chance = [&](double with, double most) {
    return draw_gaps({{"a", 0, with, 0}, {"b", 0, 0.1, 0}},
                     {{"g", 0, {{0, 1}, {1, 1}}, -room, most}}, {.count = 500, .seed = seed});
  };
  const ToleranceAnswer less = chance(spread, room), worse = chance(spread + more, room),
                        eased = chance(spread, room + more);
  RC_ASSERT(eased.gaps[0].chance >= less.gaps[0].chance);
  RC_ASSERT(worse.gaps[0].worst_high >= less.gaps[0].worst_high);
  RC_ASSERT(worse.gaps[0].worst_low <= less.gaps[0].worst_low);
  // The same deviates, spread further: no chance that grows by more than the second error's doing.
  RC_ASSERT(worse.gaps[0].chance <= less.gaps[0].chance + 0.05);
}

}  // namespace
}  // namespace kw
