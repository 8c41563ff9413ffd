// Small problems against the exhaustive search: the plan never beats it, the bound never passes it,
// and both meet it nearly always.
#include <cmath>
#include <gtest/gtest.h>
#include <random>

#include "draw.h"
#include "exhaustive.h"

namespace kw {
namespace {

constexpr int problems = 300;
const Effort effort{.seconds = 60, .work = 10'000'000};

struct Tally {
  int solvable = 0, found = 0, cheapest = 0, proved = 0, bound_met = 0, impossible_proved = 0;
};

Tally compare(const Shape& shape, unsigned seed) {
  std::mt19937_64 random(seed);
  const Draw draw = [&](int from, int below) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(below - from));
  };
  Tally tally;
  for (int i = 0; i < problems; ++i) {
    const Problem p = draw_problem(draw, shape);
    const auto least = cheapest(p);
    const auto plan = optimise(p, effort);
    if (!least) {
      EXPECT_FALSE(plan);
      tally.impossible_proved +=
          lower_bound(p).coins == std::numeric_limits<std::int64_t>::max() ? 1 : 0;
      continue;
    }
    ++tally.solvable;
    EXPECT_LE(lower_bound(p).coins, *least) << "problem " << i;
    tally.bound_met += lower_bound(p).coins == *least ? 1 : 0;
    if (!plan) continue;
    ++tally.found;
    for (const Diagnostic& d : verify(p, *plan))
      ADD_FAILURE() << "problem " << i << ": " << d.message << " [" << d.code << "]";
    EXPECT_GE(plan->cost.coins, *least) << "problem " << i;
    EXPECT_LE(plan->bound.coins, *least) << "problem " << i;
    tally.proved += plan->is_proved ? 1 : 0;
    tally.cheapest += plan->cost.coins == *least ? 1 : 0;
  }
  return tally;
}

void record(const Tally& t) {
  testing::Test::RecordProperty("solvable", t.solvable);
  testing::Test::RecordProperty("found", t.found);
  testing::Test::RecordProperty("cheapest", t.cheapest);
  testing::Test::RecordProperty("proved", t.proved);
  testing::Test::RecordProperty("bound_met", t.bound_met);
  testing::Test::RecordProperty("impossible_proved", t.impossible_proved);
}

TEST(Small, SquarePartsAgainstExhaustiveSearch) {
  const Tally t = compare({.most_kinds = 5, .most_count = 2, .most_stocks = 3}, 1);
  record(t);
  EXPECT_EQ(t.found, t.solvable);
  EXPECT_EQ(t.cheapest, t.solvable);
  EXPECT_EQ(t.proved, t.solvable);
}

TEST(Small, AngledPartsAgainstExhaustiveSearch) {
  const Tally t =
      compare({.most_kinds = 4, .most_count = 2, .most_stocks = 3, .is_angled = true}, 2);
  record(t);
  EXPECT_EQ(t.found, t.solvable);
  EXPECT_EQ(t.cheapest, t.solvable);
}

// The judge agrees, too; and the proof has to come wherever the parts are square.
TEST(Small, FaultySticksAgainstExhaustiveSearch) {
  const Tally t =
      compare({.most_kinds = 5, .most_count = 2, .most_stocks = 3, .has_faults = true}, 4);
  record(t);
  EXPECT_GT(t.solvable, problems / 2);
  EXPECT_EQ(t.found, t.solvable);
  EXPECT_EQ(t.cheapest, t.solvable);
  EXPECT_EQ(t.proved, t.solvable);
}

TEST(Small, AngledPartsOnFaultySticksAgainstExhaustiveSearch) {
  const Tally t = compare(
      {.most_kinds = 4, .most_count = 2, .most_stocks = 3, .is_angled = true, .has_faults = true},
      5);
  record(t);
  EXPECT_GT(t.solvable, problems / 2);
  EXPECT_EQ(t.found, t.solvable);
  EXPECT_EQ(t.cheapest, t.solvable);
}

// All parts on one stick that is just long enough, and on one that is too short by four ticks a
// part (each joint is rounded up to a tick, so one tick would be too fine a test).
TEST(Small, NestsAngledPartsInTheShortestRow) {
  std::mt19937_64 random(3);
  const Draw draw = [&](int from, int below) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(below - from));
  };
  for (int i = 0; i < 200; ++i) {
    Problem p = draw_problem(draw, {.most_kinds = 3, .most_count = 2, .is_angled = true});
    int parts = 0;
    for (const Demand& d : p.demands) parts += d.count;
    const auto least = static_cast<std::int64_t>(std::ceil(shortest_row(p)));
    const Length trims = 2 * p.saw.end_trim;
    p.stocks = {{.name = "one", .price = {1}, .count = 1}};
    p.stocks.front().length = Length::ticks(least + 2 * parts + 2) + trims;
    EXPECT_TRUE(optimise(p, effort)) << "problem " << i;
    p.stocks.front().length = Length::ticks(least - 1) + trims;
    EXPECT_FALSE(optimise(p, effort)) << "problem " << i;
  }
}

}  // namespace
}  // namespace kw
