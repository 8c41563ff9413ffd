// Several kinds of stick in the exact search for square parts, driven from a bound of nothing, so
// that all of the proof is its own: against the exhaustive search, and its reckoning of whole bins
// against trying all numbers of them.
#include <algorithm>
#include <gtest/gtest.h>

#include "exhaustive.h"
#include "heuristic.h"
#include "lengths/engine.h"
#include "lengths/reach.h"
#include "numbers.h"

namespace kw::cutting {
namespace {

// The longest stick is without end, the others may be scarce; prices of all shapes.
Problem several_stocks(Numbers& numbers) {
  Problem p{.saw = {.kerf = Length::ticks(numbers.draw(0, 3))}};
  for (int s = 0, stocks = numbers.draw(2, 4); s < stocks; ++s) {
    const int length = numbers.draw(40, 160);
    Stock stock{.name = "stick",
                .length = Length::ticks(length),
                .price = {numbers.draw(length / 2, length)}};
    if (numbers.draw(0, 2) == 0) stock.count = numbers.draw(1, 2);
    p.stocks.push_back(stock);
  }
  p.stocks.push_back({.name = "long", .length = Length::ticks(170), .price = {150}});
  for (int i = 0, parts = numbers.draw(4, 8); i < parts; ++i)
    p.demands.push_back({.name = "part", .length = Length::ticks(numbers.draw(15, 110))});
  return p;
}

TEST(Stocks, TheExactSearchAloneMeetsTheExhaustiveOne) {
  for (unsigned seed = 1; seed <= 300; ++seed) {
    Numbers numbers(seed);
    const Problem p = several_stocks(numbers);
    const auto least = cheapest(p);
    ASSERT_TRUE(least) << seed;
    const Model model = model_of(p);
    const Effort effort{.seconds = 60, .work = 500'000'000};
    Work work(effort);
    work.leave(1);
    Solution solution = heuristic(model, 0, 1, work);
    work.allow(effort.work.value());
    ASSERT_TRUE(std::all_of(solution.left.kinds.begin(), solution.left.kinds.end(),
                            [](int n) { return n == 0; }));
    std::int64_t bound = 0, cost = 0;
    lengths::improve_to_proof(model, work, solution, bound);
    for (const Stick& stick : solution.sticks) cost += bar_of(model, stick).price;
    EXPECT_EQ(cost, *least) << seed;
    EXPECT_EQ(bound, *least) << seed;
  }
}

struct Reach {
  lengths::Instance instance = {};
  lengths::Rest rest = {};
  std::vector<std::int64_t> held = {};
  std::int64_t worth = 0, target = 0;
};

Reach draw_reach(Numbers& numbers) {
  Reach r{.worth = numbers.draw(1, 60), .target = numbers.draw(0, 40)};
  for (int b = 0; b < 3; ++b) {
    const int least = numbers.draw(0, 3) == 0 ? numbers.draw(0, 2) : 0;
    r.instance.bins.push_back({.cost = numbers.draw(0, 4) == 0 ? 0 : 2 * numbers.draw(1, 6)});
    r.rest.least.push_back(least);
    r.rest.copies.push_back(least + numbers.draw(0, 4));
    r.rest.is_limited.push_back(numbers.draw(0, 1) == 0);
    r.held.push_back(numbers.draw(0, 9));
  }
  r.instance.step = 2;
  return r;
}

// 60 bins of a kind are as good as endless here.
std::int64_t tried(const Reach& r, std::size_t b, std::int64_t worth, std::int64_t cost) {
  if (b == r.held.size()) return worth >= r.worth ? cost : r.target + 1;
  const int most = r.rest.is_limited[b] ? r.rest.copies[b] : 60;
  std::int64_t best = r.target + 1;
  for (int n = r.rest.least[b]; n <= most; ++n) {
    if (cost + n * r.instance.bins[b].cost > r.target) break;
    best =
        std::min(best, tried(r, b + 1, worth + n * r.held[b], cost + n * r.instance.bins[b].cost));
  }
  return best;
}

TEST(Stocks, WholeBinsThatHoldTheWorthAgainstTryingAllNumbers) {
  int within = 0;
  for (unsigned seed = 1; seed <= 1000; ++seed) {
    Numbers numbers(seed);
    const Reach r = draw_reach(numbers);
    const std::int64_t least = tried(r, 0, 0, 0);
    const std::int64_t found = lengths::least_reach(r.instance, r.rest, r.held, r.worth, r.target,
                                                    [](std::int64_t) { return true; });
    if (least > r.target) {
      EXPECT_GT(found, r.target) << seed;
    } else {
      EXPECT_EQ(found, least) << seed;
      ++within;
    }
  }
  EXPECT_GT(within, 200);
  EXPECT_LT(within, 800);
}

}  // namespace
}  // namespace kw::cutting
