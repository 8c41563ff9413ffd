// A fixed set of instances of our own that is proved: a change that loses one is noticed. Where the
// least cost is known, it is so because the parts were sawn out of whole sticks.
#include <algorithm>
#include <gtest/gtest.h>

#include "kerfwright/cutting/problem.h"

#include "numbers.h"

namespace kw {
namespace {

using cutting::Numbers;

void want(Problem& p, int length, int count = 1) {
  p.demands.push_back({.name = "part", .length = Length::ticks(length), .count = count});
}

void expect_proved(const Problem& p, const std::string& what, std::int64_t known = -1) {
  const auto plan = optimise(p, {.seconds = 600, .work = 3'000'000'000});
  ASSERT_TRUE(plan) << what;
  EXPECT_TRUE(verify(p, *plan).empty()) << what;
  EXPECT_TRUE(plan->is_proved) << what << ": " << plan->bound.coins << " to " << plan->cost.coins;
  if (known >= 0) {
    EXPECT_EQ(plan->cost.coins, known) << what;
  }
}

// Three parts fill a stick to the tick.
TEST(Lengths, ProvesTriplets) {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    Numbers numbers(seed);
    Problem p{.stocks = {{.name = "stick", .length = Length::ticks(1000), .price = {1}}}};
    for (int i = 0; i < 20; ++i) {
      const int a = numbers.draw(380, 490), b = numbers.draw(251, 350);
      want(p, a), want(p, b), want(p, 1000 - a - b);
    }
    expect_proved(p, "triplets " + std::to_string(seed), 20);
  }
}

// The same with a kerf, an end trim and two to six parts a stick.
TEST(Lengths, ProvesSticksWithoutWaste) {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    Numbers numbers(seed);
    Problem p{.stocks = {{.name = "stick", .length = Length::ticks(4000), .price = {7}}},
              .saw = {.kerf = Length::ticks(3), .end_trim = Length::ticks(10)}};
    for (int i = 0; i < 24; ++i) {
      int left = 3980;
      for (int n = numbers.draw(1, 5); n > 0 && left > 400; --n) {
        const int length = numbers.draw(100, left - 150);
        want(p, length);
        left -= length + 3;
      }
      want(p, left);
    }
    expect_proved(p, "no waste " + std::to_string(seed), 24 * 7);
  }
}

TEST(Lengths, ProvesManyOfFewLengths) {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    Numbers numbers(seed);
    Problem p{.stocks = {{.name = "stick", .length = Length::ticks(9'600), .price = {598}}},
              .saw = {.kerf = Length::ticks(12)}};
    for (int i = 0; i < 15; ++i) want(p, numbers.draw(500, 6'000), numbers.draw(1, 40));
    expect_proved(p, "many of few " + std::to_string(seed));
  }
}

TEST(Lengths, ProvesSeveralStocksAndPrices) {
  for (const unsigned seed : {1U, 3U}) {
    Numbers numbers(seed);
    Problem p{.saw = {.kerf = Length::ticks(3)}};
    for (int s = 3; s <= 8; ++s) {
      p.stocks.push_back({.name = "stick",
                          .length = Length::ticks(600 * s),
                          .price = {100 * s + numbers.draw(-40, 40)}});
    }
    p.stocks.push_back({.name = "offcut", .length = Length::ticks(1350), .count = 3});
    p.stocks.push_back(
        {.name = "left over", .length = Length::ticks(2000), .price = {90}, .count = 2});
    for (int i = 0; i < 30; ++i) want(p, numbers.draw(200, 1700));
    expect_proved(p, "several " + std::to_string(seed));
  }
}

// No plan without waste exists although the lengths add up: only the search can tell.
TEST(Lengths, ProvesThatOneStickMoreIsNeeded) {
  for (unsigned seed = 1; seed <= 3; ++seed) {
    Numbers numbers(seed);
    Problem p{.stocks = {{.name = "stick", .length = Length::ticks(2000), .price = {1}}}};
    int sum = 0;
    for (int i = 0; i < 59; ++i) {
      const int length = 2 * numbers.draw(251, 420) + (i < 4 ? 1 : 0);
      want(p, length);
      sum += length;
    }
    const int last = (2000 - sum % 2000) % 2000;
    if (last > 0) want(p, last);
    expect_proved(p, "one more " + std::to_string(seed));
  }
}

TEST(Lengths, SamePlanForTheSameWork) {
  Numbers numbers(9);
  Problem p{.stocks = {{.name = "stick", .length = Length::ticks(3000), .price = {1}}}};
  for (int i = 0; i < 60; ++i) want(p, numbers.draw(300, 1900));
  for (const std::int64_t work : {1'000'000, 60'000'000}) {
    const Effort effort{.seconds = 600, .work = work};
    const auto first = optimise(p, effort), second = optimise(p, effort);
    ASSERT_TRUE(first && second);
    ASSERT_EQ(first->sticks.size(), second->sticks.size());
    EXPECT_EQ(first->bound, second->bound);
    for (std::size_t s = 0; s < first->sticks.size(); ++s) {
      const auto &a = first->sticks[s].parts, &b = second->sticks[s].parts;
      EXPECT_TRUE(std::equal(a.begin(), a.end(), b.begin(), b.end(), [](auto& x, auto& y) {
        return x.demand == y.demand && x.from == y.from;
      }));
    }
  }
}

}  // namespace
}  // namespace kw
