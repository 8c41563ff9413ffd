#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>
#include <limits>
#include <rapidcheck/gtest.h>

#include "kerfwright/cutting/problem.h"

#include "draw.h"

namespace kw {
namespace {

// Counted, so that a slow machine or a sanitizer changes nothing.
Effort little() {
  return {.seconds = 60, .work = 10'000'000};
}

Draw by_rapidcheck() {
  return [](int from, int below) { return *rc::gen::inRange(from, below); };
}

std::string codes_of(const Diagnostics& faults) {
  std::string codes;
  for (const Diagnostic& d : faults) codes += std::string(d.code) + ": " + d.message + "\n";
  return codes;
}

bool has_endless_stock_for_all(const Problem& p) {
  Length longest;
  for (const Stock& s : p.stocks) longest = std::max(longest, s.length);
  const auto is_it = [&](const Stock& s) { return !s.count && s.length == longest; };
  return std::any_of(p.stocks.begin(), p.stocks.end(), is_it);
}

// The corners of a part as it lies, worked out by turning the part itself about its axes.
struct Corners {
  double low_left = 0, high_left = 0, low_right = 0, high_right = 0;
};

Corners corners_of(const Problem& p, const Placed& placed) {
  const Demand& d = p.demands[static_cast<std::size_t>(placed.demand)];
  const double half = static_cast<double>(p.width.in_ticks()) / 2;
  const double middle = static_cast<double>(d.length.in_ticks()) / 2;
  // x of the four corners about the part's middle.
  Corners c{-middle - half * d.left_slope, -middle + half * d.left_slope,
            middle - half * d.right_slope, middle + half * d.right_slope};
  if (placed.flipped) c = {c.high_left, c.low_left, c.high_right, c.low_right};
  if (placed.turned) c = {-c.high_right, -c.low_right, -c.high_left, -c.low_left};
  const double at = static_cast<double>(placed.from.in_ticks()) + middle;
  return {c.low_left + at, c.high_left + at, c.low_right + at, c.high_right + at};
}

// Parts, kerfs, offcut and trim make up the stick, by the corners of the parts.
void expect_stick_adds_up(const Problem& p, const SawnStick& stick) {
  const double kerf = static_cast<double>(p.saw.kerf.in_ticks());
  const double width = static_cast<double>(p.width.in_ticks());
  const double trim = static_cast<double>(p.saw.end_trim.in_ticks());
  const double length =
      static_cast<double>(p.stocks[static_cast<std::size_t>(stick.stock)].length.in_ticks());
  double low = trim, high = trim;
  for (const Placed& placed : stick.parts) {
    const Corners c = corners_of(p, placed);
    EXPECT_GE(c.low_left, low - 0.1);
    EXPECT_GE(c.high_left, high - 0.1);
    const double lean = width > 0 ? (c.high_right - c.low_right) / width : 0;
    low = c.low_right + kerf * std::hypot(1, lean);
    high = c.high_right + kerf * std::hypot(1, lean);
  }
  const double rest = length - trim - std::max(low, high);
  EXPECT_NEAR(static_cast<double>(stick.offcut.in_ticks()), std::max(rest, 0.0), 2.1);
  EXPECT_GE(length - trim - std::max(low, high) + kerf * std::hypot(1, 10), -0.1);
}

void expect_sound(const Problem& p, const Effort& effort) {
  const auto plan = optimise(p, effort);
  if (!plan) {
    EXPECT_EQ(plan.diagnostics().front().code, "cutting.cannot");
    EXPECT_FALSE(has_endless_stock_for_all(p));
    return;
  }
  EXPECT_EQ(codes_of(verify(p, *plan)), "");
  EXPECT_GE(plan->bound, lower_bound(p));
  for (const SawnStick& stick : plan->sticks) expect_stick_adds_up(p, stick);
}

// The search for the cheapest is the same; only what comes after it is left out.
RC_GTEST_PROP(Optimise, MoneyOnlyIsAsCheapAndHasNoAims, ()) {
  const Problem p = draw_problem(by_rapidcheck(), {.is_angled = *rc::gen::arbitrary<bool>()});
  Effort effort = little();
  const auto full = optimise(p, effort);
  effort.money_only = true;
  const auto plan = optimise(p, effort);
  RC_ASSERT(static_cast<bool>(full) == static_cast<bool>(plan));
  RC_PRE(static_cast<bool>(plan));
  RC_ASSERT(codes_of(verify(p, *plan)) == "");
  RC_ASSERT(!plan->aims);
  RC_ASSERT(plan->alternatives.empty());
  RC_ASSERT(full->cost <= plan->cost);
  RC_ASSERT(plan->bound <= full->cost);
  if (plan->is_proved) {
    RC_ASSERT(full->cost == plan->cost);
  }
}

RC_GTEST_PROP(Optimise, MakesPlansThatVerifyAccepts, ()) {
  expect_sound(draw_problem(by_rapidcheck(), {}), little());
}

RC_GTEST_PROP(Optimise, MakesPlansOfAngledPartsThatVerifyAccepts, ()) {
  expect_sound(draw_problem(by_rapidcheck(), {.is_angled = true}), little());
}

RC_GTEST_PROP(Optimise, MakesPlansOfManyPartsThatVerifyAccepts, ()) {
  expect_sound(draw_problem(by_rapidcheck(), {.most_kinds = 60, .most_count = 30}), little());
}

// On square parts every tick is accounted for: exactly, and with no gap wider than the kerf.
RC_GTEST_PROP(Optimise, LeavesNoTickUnaccountedFor, ()) {
  const Problem p = draw_problem(by_rapidcheck(), {});
  const auto plan = optimise(p, little());
  RC_PRE(static_cast<bool>(plan));
  for (const SawnStick& stick : plan->sticks) {
    Length sum = 2 * p.saw.end_trim;
    for (const Placed& part : stick.parts) {
      sum += p.demands[static_cast<std::size_t>(part.demand)].length;
    }
    sum += p.saw.kerf * (static_cast<std::int64_t>(stick.parts.size()) - 1);
    const Length rest = p.stocks[static_cast<std::size_t>(stick.stock)].length - sum;
    RC_ASSERT(stick.offcut == (rest > p.saw.kerf ? rest - p.saw.kerf : Length()));
    RC_ASSERT(rest >= Length());
  }
}

bool is_same(const Plan& a, const Plan& b) {
  if (a.cost != b.cost || a.bound != b.bound || a.sticks.size() != b.sticks.size()) return false;
  for (std::size_t i = 0; i < a.sticks.size(); ++i) {
    const SawnStick &x = a.sticks[i], &y = b.sticks[i];
    if (x.stock != y.stock || x.offcut != y.offcut || x.parts.size() != y.parts.size())
      return false;
    for (std::size_t k = 0; k < x.parts.size(); ++k) {
      const Placed &m = x.parts[k], &n = y.parts[k];
      if (m.demand != n.demand || m.from != n.from) return false;
      if (m.flipped != n.flipped || m.turned != n.turned) return false;
    }
  }
  return true;
}

RC_GTEST_PROP(Optimise, MakesTheSamePlanTwice, ()) {
  const Problem p = draw_problem(by_rapidcheck(), {.is_angled = *rc::gen::arbitrary<bool>()});
  const auto once = optimise(p, little()), again = optimise(p, little());
  RC_ASSERT(static_cast<bool>(once) == static_cast<bool>(again));
  if (once) RC_ASSERT(is_same(*once, *again));
}

RC_GTEST_PROP(Optimise, DoesNotMindTheOrderOfTheInput, ()) {
  const Problem p = draw_problem(by_rapidcheck(), {.is_angled = *rc::gen::arbitrary<bool>()});
  Problem turned = p;
  std::reverse(turned.demands.begin(), turned.demands.end());
  std::rotate(turned.stocks.begin(), turned.stocks.begin() + 1, turned.stocks.end());
  RC_ASSERT(lower_bound(p) == lower_bound(turned));
  const auto plan = optimise(turned, little());
  if (plan) RC_ASSERT(codes_of(verify(turned, *plan)) == "");
}

RC_GTEST_PROP(LowerBound, IsNotRaisedByMoreOfTheSameStock, ()) {
  Problem p = draw_problem(by_rapidcheck(), {.is_angled = *rc::gen::arbitrary<bool>()});
  const Money before = lower_bound(p);
  for (Stock& s : p.stocks) {
    if (s.count) *s.count += *rc::gen::inRange(0, 4);
  }
  RC_ASSERT(lower_bound(p) <= before);
}

// With another kind of stock the plan of before still stands, so the bound may not pass its cost.
RC_GTEST_PROP(LowerBound, IsNotRaisedAboveAPlanByMoreKindsOfStock, ()) {
  Problem p = draw_problem(by_rapidcheck(), {.is_angled = *rc::gen::arbitrary<bool>()});
  const auto plan = optimise(p, little());
  RC_PRE(static_cast<bool>(plan));
  p.stocks.push_back({.name = "more",
                      .length = Length::inches(*rc::gen::inRange(1, 200)),
                      .price = {*rc::gen::inRange(0, 3'000)}});
  RC_ASSERT(lower_bound(p) <= plan->cost);
}

Problem nested(double left, double right, Length stick) {
  return {.demands = {{.name = "rail",
                       .length = Length::inches(20),
                       .count = 2,
                       .left_slope = left,
                       .right_slope = right}},
          .stocks = {{.name = "stock", .length = stick, .price = {100}}},
          .saw = {.kerf = Length::inches(0.125)},
          .width = Length::inches(4)};
}

std::size_t sticks_for(Problem p, bool may_flip, bool may_turn) {
  p.demands.front().may_flip = may_flip;
  p.demands.front().may_turn = may_turn;
  const auto plan = optimise(p, little());
  return plan ? plan->sticks.size() : 0;
}

// Two trapezoids with ends at 45 degrees, one lying upside down: 2 + 20 + 1/8 sqrt 2 + 20 + 2 in
// along the stick. Either way of turning one over will do.
TEST(Optimise, NestsTrapezoidsByTurningOne) {
  const Length enough = Length::inches(44.1768), short_of = Length::inches(44.1767);
  EXPECT_EQ(sticks_for(nested(1, -1, enough), true, false), 1u);
  EXPECT_EQ(sticks_for(nested(1, -1, enough), false, true), 1u);
  EXPECT_EQ(sticks_for(nested(1, -1, enough), false, false), 2u);
  EXPECT_EQ(sticks_for(nested(1, -1, short_of), true, true), 2u);
}

// Parallel ends fit one another as they lie; half round they are the same, flipped they are not.
TEST(Optimise, NestsParallelEndsAsTheyLie) {
  EXPECT_EQ(sticks_for(nested(1, 1, Length::inches(44.1768)), false, false), 1u);
}

// A part with one square end meets the square end of its fellow: turned half round, its slope keeps
// its sign. 20 + 1/8 + 20 + 2 + 2 with the square ends inside, or the angled ends inside with 1/8
// sqrt 2.
TEST(Optimise, TurnsAPartToSawTwoMitresWithOneCut) {
  EXPECT_EQ(sticks_for(nested(0, 1, Length::inches(40.1768)), false, true), 1u);
  EXPECT_EQ(sticks_for(nested(0, 1, Length::inches(42.2)), true, false), 2u);
  EXPECT_EQ(sticks_for(nested(0, 1, Length::inches(44.1768)), true, false), 1u);
}

TEST(Optimise, UsesWhatIsOnHandBeforeItBuys) {
  Problem p{.demands = {{.name = "slat", .length = Length::inches(20), .count = 5}},
            .stocks = {{.name = "yard", .length = Length::inches(96), .price = {598}},
                       {.name = "offcut", .length = Length::inches(22), .count = 1}},
            .saw = {.kerf = Length::inches(0.125)}};
  const auto plan = optimise(p, little());
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost, Money{598});
  EXPECT_TRUE(plan->is_proved);
  EXPECT_EQ(plan->sticks.size(), 2u);
}

// 96 = 47 7/8 + 1/8 + 48: the last kerf falls off the end, and 1/8 less of stock does not do.
TEST(Optimise, LetsTheLastKerfFallOffTheEnd) {
  Problem p{.demands = {{.name = "a", .length = Length::inches(48)},
                        {.name = "b", .length = Length::inches(47.875)}},
            .stocks = {{.name = "stock", .length = Length::inches(96), .price = {598}}},
            .saw = {.kerf = Length::inches(0.125)}};
  EXPECT_EQ(optimise(p, little())->sticks.size(), 1u);
  p.demands.front().length += Length::ticks(1);
  EXPECT_EQ(optimise(p, little())->sticks.size(), 2u);
}

// Both plans cost the same; only one leaves an offcut worth keeping.
TEST(Optimise, KeepsALongOffcutWhereMoneyIsEqual) {
  Problem p{.demands = {{.name = "a", .length = Length::inches(40), .count = 2},
                        {.name = "b", .length = Length::inches(20), .count = 2}},
            .stocks = {{.name = "stock", .length = Length::inches(80), .price = {500}}},
            .shortest_offcut = Length::inches(30)};
  const auto plan = optimise(p, little());
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost, Money{1'000});
  Length longest;
  for (const SawnStick& stick : plan->sticks) longest = std::max(longest, stick.offcut);
  EXPECT_EQ(longest, Length::inches(40));
}

TEST(Optimise, SaysWhenTheStockIsProvedNotToSuffice) {
  Problem p{.demands = {{.name = "a", .length = Length::inches(50), .count = 3}},
            .stocks = {{.name = "stock", .length = Length::inches(96), .price = {5}, .count = 2}}};
  const auto plan = optimise(p, little());
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.diagnostics().front().code, "cutting.cannot");
  EXPECT_EQ(plan.diagnostics().front().message, "the stock does not suffice for all parts");
  EXPECT_EQ(lower_bound(p).coins, std::numeric_limits<std::int64_t>::max());
}

TEST(Optimise, PassesOnWhatIsWrongWithTheProblem) {
  const auto plan = optimise({.demands = {{.name = "a", .length = Length::inches(5)}}});
  ASSERT_FALSE(plan);
  EXPECT_EQ(plan.diagnostics().front().code, "cutting.no-stock");
  EXPECT_EQ(lower_bound({.demands = {{.name = "a", .length = Length::inches(5)}}}), Money{});
}

TEST(Optimise, MakesAnEmptyPlanOfNothing) {
  const auto plan = optimise({});
  ASSERT_TRUE(plan);
  EXPECT_TRUE(plan->sticks.empty());
  EXPECT_TRUE(plan->is_proved);
}

TEST(Optimise, MakesAnEmptyPlanOfAngledPartsThatNobodyWants) {
  const Problem p{.demands = {{.name = "brace",
                               .length = Length::inches(20),
                               .count = 0,
                               .left_slope = 0.5,
                               .right_slope = -0.5}},
                  .stocks = {{.name = "stick", .length = Length::inches(96), .price = {1}}},
                  .width = Length::inches(3.5)};
  const auto plan = optimise(p);
  ASSERT_TRUE(plan);
  EXPECT_TRUE(plan->sticks.empty());
  EXPECT_EQ(lower_bound(p), Money{});
}

Problem long_work() {
  Problem p{.stocks = {{.name = "stock", .length = Length::ticks(100'003), .price = {1}}}};
  for (int k = 0; k < 200; ++k) {
    p.demands.push_back({.name = "p", .length = Length::ticks(15'000 + 211 * k), .count = 5});
  }
  return p;
}

TEST(Optimise, StopsWhenToldToAndStillHasAPlan) {
  const Problem p = long_work();
  int calls = 0;
  const auto plan = optimise(p, {.seconds = 60, .on_progress = [&](const Progress&) {
                                   ++calls;
                                   return false;
                                 }});
  ASSERT_TRUE(plan);
  EXPECT_GE(calls, 1);
  EXPECT_LE(calls, 8);
  EXPECT_EQ(codes_of(verify(p, *plan)), "");
}

TEST(Optimise, HasAPlanEvenWithoutAnyTime) {
  const Problem p = long_work();
  for (const double seconds : {0.0, -1.0, std::nan("")}) {
    const auto plan = optimise(p, {.seconds = seconds});
    ASSERT_TRUE(plan);
    EXPECT_EQ(codes_of(verify(p, *plan)), "");
  }
}

// A hundred thousand parts, square and angled: a sound plan all the same, in seconds at most.
TEST(Optimise, TakesOnAsMuchAsValidateAllows) {
  for (const double steepness : {0.0, 1e-3}) {
    Problem p{.stocks = {{.name = "stock", .length = Length::inches(96), .price = {598}}},
              .width = Length::inches(3.5)};
    for (int k = 0; k < 1'000; ++k) {
      p.demands.push_back({.name = "p",
                           .length = Length::inches(12) + Length::ticks(7'654'321LL * k),
                           .count = 100,
                           .left_slope = steepness * (k % 500),
                           .right_slope = -steepness * (k % 77)});
    }
    const auto plan = optimise(p, little());
    ASSERT_TRUE(plan);
    EXPECT_EQ(codes_of(verify(p, *plan)), "");
  }
}

TEST(Optimise, TellsOfPlansThatNeverGetWorse) {
  std::int64_t last = std::numeric_limits<std::int64_t>::max(), bound = 0;
  const auto plan = optimise(long_work(), {.seconds = 0.3, .on_progress = [&](const Progress& now) {
                                             if (now.best) {
                                               EXPECT_LE(now.best->coins, last);
                                               last = now.best->coins;
                                             }
                                             bound = now.bound.coins;
                                             return true;
                                           }});
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost.coins, last);
  EXPECT_EQ(plan->bound.coins, bound);
}

}  // namespace
}  // namespace kw
