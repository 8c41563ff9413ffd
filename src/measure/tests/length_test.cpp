#include "kerfwright/measure/length.h"

#include <cmath>
#include <gtest/gtest.h>
#include <limits>
#include <rapidcheck/gtest.h>

namespace kw {
namespace {

__extension__ typedef __int128 Wide;

constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();

std::int64_t saturated(Wide ticks) {
  if (ticks > most) return most;
  if (ticks < least) return least;
  return static_cast<std::int64_t>(ticks);
}

Wide size_of(Wide a) {
  return a < 0 ? -a : a;
}

TEST(Length, IsWholeTicksForTheInchAndTheMillimetre) {
  // The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  EXPECT_EQ(Length::ticks_per_inch * 10, Length::ticks_per_mm * 254);
  EXPECT_EQ(Length::ticks_per_inch % 256, 0);
  EXPECT_EQ(Length::ticks_per_mm % 1000, 0);
  EXPECT_EQ(Length::inches(1.0), Length::mm(25.4));
}

TEST(Length, TakesTheNearestTickAndSaturates) {
  EXPECT_EQ(Length::mm(0.5 / 20e6).in_ticks(), 1);
  EXPECT_EQ(Length::mm(-0.5 / 20e6).in_ticks(), -1);
  EXPECT_EQ(Length::mm(0.25 / 20e6).in_ticks(), 0);
  EXPECT_EQ(Length::mm(std::nan("")).in_ticks(), 0);
  EXPECT_EQ(Length::mm(1e300).in_ticks(), most);
  EXPECT_EQ(Length::inches(-1e300).in_ticks(), least);
}

TEST(Length, RoundsToAMultipleEachWay) {
  const Length step = Length::inches(1.0 / 16);
  const Length x = Length::inches(2.0 + 1.0 / 32);
  EXPECT_EQ(round_to(x, step), Length::inches(2.0 + 1.0 / 16));
  EXPECT_EQ(round_to(-x, step), Length::inches(-2.0 - 1.0 / 16));
  EXPECT_EQ(round_to(x, step, Rounding::down), Length::inches(2.0));
  EXPECT_EQ(round_to(-x, step, Rounding::up), Length::inches(-2.0));
  EXPECT_EQ(round_to(x, Length()), x);
}

TEST(Length, DividesToTheNearestTick) {
  EXPECT_EQ(divide(Length::ticks(7), 2).in_ticks(), 4);
  EXPECT_EQ(divide(Length::ticks(-7), 2).in_ticks(), -4);
  EXPECT_EQ(divide(Length::ticks(7), -3).in_ticks(), -2);
  EXPECT_EQ(divide(Length::ticks(8), 3).in_ticks(), 3);
}

RC_GTEST_PROP(LengthProperty, SumsAndMultiplesSaturateNeverWrap, ()) {
  const auto a = *rc::gen::oneOf(rc::gen::arbitrary<std::int64_t>(), rc::gen::element(most, least));
  const auto b = *rc::gen::oneOf(rc::gen::arbitrary<std::int64_t>(), rc::gen::element(most, least));
  const Length x = Length::ticks(a), y = Length::ticks(b);
  RC_ASSERT((x + y).in_ticks() == saturated(Wide(a) + b));
  RC_ASSERT((x - y).in_ticks() == saturated(Wide(a) - b));
  RC_ASSERT((x * b).in_ticks() == saturated(Wide(a) * b));
}

RC_GTEST_PROP(LengthProperty, RoundingGivesTheNearestMultiple, (std::int64_t ticks)) {
  const auto step = *rc::gen::inRange<std::int64_t>(1, 2 * Length::ticks_per_inch);
  const Length x = Length::ticks(ticks / 4);
  const auto rounded = [&](Rounding how) {
    return round_to(x, Length::ticks(step), how).in_ticks();
  };
  const std::int64_t near = rounded(Rounding::nearest);
  const std::int64_t up = rounded(Rounding::up), down = rounded(Rounding::down);
  RC_ASSERT(near % step == 0);
  RC_ASSERT(up % step == 0);
  RC_ASSERT(down % step == 0);
  RC_ASSERT(2 * size_of(Wide(near) - x.in_ticks()) <= step);
  RC_ASSERT(down <= x.in_ticks());
  RC_ASSERT(x.in_ticks() <= up);
  RC_ASSERT(up - down == (x.in_ticks() % step == 0 ? 0 : step));
  RC_ASSERT(round_to(Length::ticks(near), Length::ticks(step)).in_ticks() == near);
  RC_ASSERT(round_to(-x, Length::ticks(step)).in_ticks() == -near);
}

RC_GTEST_PROP(LengthProperty, DivisionIsWithinHalfATick, (std::int64_t ticks)) {
  const auto parts = *rc::gen::nonZero<std::int32_t>();
  const Wide quotient = divide(Length::ticks(ticks / 2), parts).in_ticks();
  RC_ASSERT(2 * size_of(quotient * parts - ticks / 2) <= size_of(parts));
}

}  // namespace
}  // namespace kw
