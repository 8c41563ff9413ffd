#include <cmath>
#include <gtest/gtest.h>

#include "kerfwright/cutting/problem.h"

namespace kw {
namespace {

Problem plain() {
  return {.demands = {{.name = "leg", .length = Length::inches(30), .count = 4}},
          .stocks = {{.name = "8 ft", .length = Length::inches(96), .price = {598}}},
          .saw = {.kerf = Length::inches(0.125)}};
}

std::string code_of(const Diagnostics& faults) {
  return faults.empty() ? "" : std::string(faults.front().code);
}

TEST(Validate, FindsNothingInAPlainProblem) {
  EXPECT_TRUE(validate(plain()).empty());
}

TEST(Validate, TakesAProblemThatWantsNothing) {
  EXPECT_TRUE(validate({}).empty());
}

TEST(Validate, NamesEveryBadNumber) {
  Problem p = plain();
  p.demands.front().length = Length();
  p.demands.front().count = -1;
  p.stocks.front().price = {-5};
  p.stocks.front().count = -2;
  p.saw.kerf = Length::inches(-0.125);
  p.shortest_offcut = Length::inches(-1);
  const Diagnostics faults = validate(p);
  ASSERT_EQ(faults.size(), 6u);
  for (const Diagnostic& d : faults) EXPECT_EQ(d.code, "cutting.bad-number");
}

TEST(Validate, SpeaksTheUnitOfTheProblem) {
  Problem p = plain();
  p.unit = LengthUnit::mm;
  p.saw.kerf = Length::mm(-3);
  const Diagnostics faults = validate(p);
  ASSERT_EQ(faults.size(), 1u);
  EXPECT_EQ(faults.front().message, "the saw's kerf is -3 mm");
}

TEST(Validate, RefusesSlopesThatAreNoCut) {
  for (const double slope : {std::nan(""), 1e9, -1e9}) {
    Problem p = plain();
    p.demands.front().left_slope = slope;
    EXPECT_EQ(code_of(validate(p)), "cutting.bad-number") << slope;
  }
}

TEST(Validate, TakesATriangleAndRefusesEndsThatCross) {
  Problem p = plain();
  p.width = Length::inches(4);
  p.demands.front() = {
      .name = "gusset", .length = Length::inches(4), .left_slope = 1, .right_slope = -1};
  EXPECT_TRUE(validate(p).empty());
  p.demands.front().length = Length::inches(3.75);
  EXPECT_EQ(code_of(validate(p)), "cutting.bad-number");
}

TEST(Validate, AsksForStock) {
  Problem p = plain();
  p.stocks.front().count = 0;
  EXPECT_EQ(code_of(validate(p)), "cutting.no-stock");
  p.stocks.clear();
  EXPECT_EQ(code_of(validate(p)), "cutting.no-stock");
}

TEST(Validate, KnowsToTheTickWhatIsTooLong) {
  Problem p = plain();
  p.saw.end_trim = Length::inches(0.5);
  p.demands.front().length = Length::inches(95);
  EXPECT_TRUE(validate(p).empty());
  p.demands.front().length += Length::ticks(1);
  EXPECT_EQ(code_of(validate(p)), "cutting.too-long");
}

TEST(Validate, LooksForAClearStretchToTheTick) {
  Problem p = plain();
  p.stocks.front().faults = {{Length::inches(30), Length::ticks(1)},
                             {Length::inches(60), Length::inches(10)}};
  EXPECT_TRUE(validate(p).empty());
  p.stocks.front().faults.front().from -= Length::ticks(1);
  p.demands.front().length += Length::ticks(1);
  EXPECT_EQ(code_of(validate(p)), "cutting.too-long");
}

TEST(Validate, RefusesFaultsBesideTheStick) {
  const Length inch = Length::inches(1);
  for (const FaultyZone& zone : {FaultyZone{-1 * inch, 2 * inch}, FaultyZone{95 * inch, 2 * inch},
                                 FaultyZone{inch, Length()}, FaultyZone{97 * inch, inch}}) {
    Problem p = plain();
    p.stocks.front().faults = {zone};
    EXPECT_EQ(code_of(validate(p)), "cutting.bad-number");
  }
  Problem p = plain();
  p.stocks.front().faults.resize(101, {inch, inch});
  EXPECT_EQ(code_of(validate(p)), "cutting.too-many");
}

TEST(Validate, CountsTheTipsOfAngledEnds) {
  Problem p = plain();
  p.width = Length::inches(4);
  p.demands.front() = {
      .name = "rail", .length = Length::inches(92), .left_slope = 1, .right_slope = 1};
  EXPECT_EQ(code_of(validate(p)), "cutting.too-long");  // 96 and the rounding of its tips
  p.demands.front().length -= Length::ticks(2);
  EXPECT_TRUE(validate(p).empty());
}

TEST(Validate, RefusesTooManyPartsAndKinds) {
  Problem p = plain();
  p.demands.front().count = 100'001;
  EXPECT_EQ(code_of(validate(p)), "cutting.too-many");
  p = plain();
  p.stocks.resize(1'001, p.stocks.front());
  EXPECT_EQ(code_of(validate(p)), "cutting.too-many");
}

}  // namespace
}  // namespace kw
