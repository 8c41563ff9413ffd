// The exact search for angled parts, against exhaustive search and against itself.
#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>
#include <optional>
#include <random>
#include <rapidcheck/gtest.h>

#include "kerfwright/cutting/problem.h"

#include "draw.h"
#include "exhaustive.h"

namespace kw {
namespace {

const Effort enough{.seconds = 60, .work = 40'000'000};

std::string codes_of(const Diagnostics& faults) {
  std::string codes;
  for (const Diagnostic& d : faults) codes += std::string(d.code) + ": " + d.message + "\n";
  return codes;
}

Draw by(std::mt19937_64& random) {
  return [&random](int from, int below) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(below - from));
  };
}

int parts_of(const Problem& p) {
  int parts = 0;
  for (const Demand& d : p.demands) parts += d.count;
  return parts;
}

// Small parts on stock of a few lengths, so that a stick holds several.
void shorten(const Draw& draw, Problem& p) {
  for (Demand& d : p.demands) {
    d.length = Length::ticks(draw(4 * 16, 20 * 16) * (Length::ticks_per_inch / 16));
    const double lean = std::abs(d.right_slope - d.left_slope) / 2;
    const Length least = Length::ticks(
        static_cast<std::int64_t>(std::ceil(lean * static_cast<double>(p.width.in_ticks()))));
    d.length = std::max(d.length, least);
  }
}

// With a triangle now and then, and no more than 12 parts in all.
Problem small_problem(std::mt19937_64& random) {
  const Draw draw = by(random);
  for (;;) {
    Problem p = draw_problem(draw, {.most_kinds = 8, .most_count = 3, .is_angled = true});
    if (draw(0, 3) != 0) shorten(draw, p);
    if (draw(0, 4) == 0) {
      Demand& d = p.demands.front();
      d.length = p.width;  // slopes 1 and -1: an edge of nothing
      d.left_slope = draw(0, 2) == 0 ? 1 : -1;
      d.right_slope = -d.left_slope;
    }
    if (parts_of(p) >= 5 && parts_of(p) <= 12) return p;
  }
}

TEST(Angled, IsProvedCheapestOnTwoHundredSmallProblems) {
  std::mt19937_64 random(7);
  int solvable = 0, largest = 0;
  for (int i = 0; solvable < 200; ++i) {
    const Problem p = small_problem(random);
    const auto least = cheapest(p);
    const auto plan = optimise(p, enough);
    if (!least) {
      EXPECT_FALSE(plan) << "problem " << i;
      continue;
    }
    ++solvable;
    largest = std::max(largest, parts_of(p));
    ASSERT_TRUE(plan) << "problem " << i;
    EXPECT_EQ(codes_of(verify(p, *plan)), "") << "problem " << i;
    EXPECT_EQ(plan->cost.coins, *least) << "problem " << i;
    EXPECT_TRUE(plan->is_proved) << "problem " << i << " bound " << plan->bound.coins;
  }
  EXPECT_EQ(largest, 12);
}

Draw by_rapidcheck() {
  return [](int from, int below) { return *rc::gen::inRange(from, below); };
}

Problem drawn() {
  return draw_problem(by_rapidcheck(), {.most_count = 4, .is_angled = true});
}

// Coins, or none where nothing was found.
std::optional<std::int64_t> proved_cost(const Problem& p) {
  const auto plan = optimise(p, enough);
  if (!plan) return std::nullopt;
  RC_PRE(plan->is_proved);
  return plan->cost.coins;
}

RC_GTEST_PROP(Angled, FlippingTheWholeProblemChangesNothing, ()) {
  const Problem p = drawn();
  Problem flipped = p, turned = p;
  for (Demand& d : flipped.demands) d.left_slope = -d.left_slope, d.right_slope = -d.right_slope;
  for (Demand& d : turned.demands) std::swap(d.left_slope, d.right_slope);
  RC_ASSERT(proved_cost(flipped) == proved_cost(p));
  RC_ASSERT(proved_cost(turned) == proved_cost(p));
}

RC_GTEST_PROP(Angled, AWiderKerfNeverCostsLess, ()) {
  Problem p = drawn();
  const auto before = proved_cost(p);
  p.saw.kerf += Length::ticks(Length::ticks_per_inch / 16);
  const auto after = proved_cost(p);
  if (after) RC_ASSERT((before && *before <= *after));
}

// One triangle that nobody wants makes the ends angled in name only.
RC_GTEST_PROP(Angled, ASquareProblemCostsTheSame, ()) {
  Problem p = draw_problem(by_rapidcheck(), {.most_kinds = 5, .most_count = 3});
  const auto square = optimise(p, enough);
  RC_PRE((static_cast<bool>(square) && square->is_proved));
  p.width = Length::inches(2);
  p.demands.push_back(
      {.name = "wedge", .length = Length::inches(4), .left_slope = 0.5, .right_slope = -0.5});
  p.stocks.push_back(
      {.name = "for the wedge", .length = Length::inches(6) + 2 * p.saw.end_trim, .count = 1});
  const auto with_wedge = optimise(p, enough);
  RC_ASSERT(static_cast<bool>(with_wedge));
  RC_ASSERT(with_wedge->cost <= square->cost);
  RC_ASSERT(with_wedge->bound <= square->cost);
  const bool has_other_use =
      std::any_of(p.demands.begin(), p.demands.end() - 1,
                  [](const Demand& d) { return d.length <= Length::inches(6); });
  if (!has_other_use) RC_ASSERT(with_wedge->cost == square->cost);
}

RC_GTEST_PROP(Angled, TheBoundOfMoreWorkNeverPassesThePlanOfLess, ()) {
  const Problem p = draw_problem(
      by_rapidcheck(), {.most_kinds = 20, .most_count = 4, .most_stocks = 3, .is_angled = true});
  const auto quick = optimise(p, {.seconds = 60, .work = 2'000'000});
  const auto slow = optimise(p, {.seconds = 60, .work = 60'000'000});
  RC_PRE((quick && slow));
  RC_ASSERT(slow->bound <= quick->cost);
  RC_ASSERT(quick->bound <= slow->cost);
}

// Kerf nothing and slopes of one: everything is whole, and a row that fits to the tick does fit.
TEST(Angled, ARowThatFitsToTheTickFits) {
  Problem p{.demands = {{.name = "brace",
                         .length = Length::inches(20),
                         .count = 4,
                         .left_slope = 1,
                         .right_slope = -1}},
            .stocks = {{.name = "stick", .length = Length::inches(84), .price = {500}}},
            .width = Length::inches(4)};
  const auto plan = optimise(p, enough);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost, Money{500});
  EXPECT_TRUE(plan->is_proved);
  p.stocks.front().length -= Length::ticks(1);
  EXPECT_EQ(optimise(p, enough)->cost, Money{1'000});
}

TEST(Angled, StopsWhenToldToAndStillHasAPlan) {
  std::mt19937_64 random(3);
  Problem p = draw_problem(by(random), {.most_kinds = 1, .is_angled = true});
  p.stocks = {{.name = "stick", .length = Length::inches(96), .price = {598}}};
  p.demands.clear();
  for (int k = 0; k < 20; ++k) {
    p.demands.push_back({.name = "part",
                         .length = Length::inches(18 + 0.37 * k),
                         .left_slope = 0.1 * (k % 7),
                         .right_slope = -0.07 * (k % 5)});
  }
  int calls = 0;
  const auto plan =
      optimise(p, {.seconds = 60, .on_progress = [&](const Progress&) { return ++calls < 12; }});
  ASSERT_TRUE(plan);
  EXPECT_LE(calls, 24);
  EXPECT_EQ(codes_of(verify(p, *plan)), "");
}

}  // namespace
}  // namespace kw
