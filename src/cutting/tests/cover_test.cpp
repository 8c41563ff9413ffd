// Covers against exhaustive search: every choice of copies tried.
#include "program/cover.h"

#include <gtest/gtest.h>
#include <limits>
#include <random>

#include "program/master.h"

namespace kw::cutting::program {
namespace {

constexpr std::int64_t none = std::numeric_limits<std::int64_t>::max();

class Exhaustive {
 public:
  explicit Exhaustive(const Pool& pool) : pool_(pool), sums_(pool.rows.size()) {}

  std::int64_t cheapest() {
    go(0, 0);
    return best_;
  }

 private:
  void go(std::size_t j, std::int64_t cost) {
    if (cost >= best_) return;
    if (j == pool_.columns.size()) {
      for (std::size_t i = 0; i < sums_.size(); ++i) {
        const PoolRow& row = pool_.rows[i];
        if (sums_[i] < row.lower || (row.upper && sums_[i] > *row.upper)) return;
      }
      best_ = cost;
      return;
    }
    const PoolColumn& c = pool_.columns[j];
    const std::int64_t most = c.most.value_or(4);  // rows ask for no more than 4
    for (std::int64_t n = 0; n <= most; ++n) {
      go(j + 1, cost + n * c.cost);
      for (const Part& p : c.parts) sums_[static_cast<std::size_t>(p.row)] += p.count;
    }
    for (const Part& p : c.parts) sums_[static_cast<std::size_t>(p.row)] -= (most + 1) * p.count;
  }

  const Pool& pool_;
  std::vector<std::int64_t> sums_ = {};
  std::int64_t best_ = none;
};

Pool drawn(std::mt19937& random) {
  const auto draw = [&](int from, int to) {
    return from + static_cast<int>(random() % static_cast<unsigned>(to - from + 1));
  };
  Pool pool;
  const int wanted = draw(2, 6), copies = draw(0, 2);
  for (int i = 0; i < wanted; ++i) pool.rows.push_back({.lower = draw(1, 4)});
  for (int i = 0; i < copies; ++i) pool.rows.push_back({.upper = draw(0, 4)});
  const int columns = draw(1, 7);
  for (int j = 0; j < columns; ++j) {
    PoolColumn c{.cost = 2 * draw(0, 6)};
    for (int i = 0; i < wanted; ++i) {
      if (draw(0, 1) == 1) c.parts.push_back({i, draw(1, 2)});
    }
    if (copies > 0 && draw(0, 2) > 0) c.parts.push_back({wanted + draw(0, copies - 1), 1});
    if (draw(0, 4) == 0) c.most = draw(0, 2);
    pool.columns.push_back(c);
  }
  return pool;
}

TEST(Cover, IsAsCheapAsExhaustiveSearch) {
  std::mt19937 random(3);
  for (int round = 0; round < 1500; ++round) {
    const Pool pool = drawn(random);
    const std::int64_t best = Exhaustive(pool).cheapest();
    const Cover found = cover(pool);
    ASSERT_TRUE(found.is_complete) << round;
    ASSERT_EQ(found.counts.has_value(), best != none) << round;
    ASSERT_EQ(found.bound, best) << round;
    if (found.counts) {
      ASSERT_EQ(found.cost, best) << round;
    }
  }
}

TEST(Cover, ProvesThatNothingIsBelowTheBest) {
  std::mt19937 random(4);
  for (int round = 0; round < 500; ++round) {
    const Pool pool = drawn(random);
    const std::int64_t best = Exhaustive(pool).cheapest();
    if (best == none || best == 0) continue;
    const Cover found = cover(pool, {.below = best});
    ASSERT_TRUE(found.is_complete) << round;
    ASSERT_FALSE(found.counts.has_value()) << round;
    ASSERT_EQ(found.bound, best) << round;
  }
}

TEST(Cover, StopsWhenTheCallerSaysSo) {
  std::mt19937 random(5);
  for (int round = 0; round < 50; ++round) {
    const Pool pool = drawn(random);
    const std::int64_t best = Exhaustive(pool).cheapest();
    const Cover found = cover(pool, {.spend = [](std::int64_t) { return false; }});
    ASSERT_LE(found.bound, best) << round;
    if (found.counts) {
      ASSERT_GE(found.cost, best) << round;
    }
  }
}

TEST(Master, GivesDualsAndReducedCostsOfAWarmResolve) {
  Master master;
  const int a = master.add_row({.lower = 3}), b = master.add_row({.lower = 2});
  master.add_column({4, {{a, 1}}});
  master.add_column({3, {{b, 1}}});
  ASSERT_EQ(master.solve(), Status::optimal);
  EXPECT_NEAR(master.value(), 18, 1e-9);
  const int both = master.add_column({5, {{a, 1}, {b, 1}}});
  ASSERT_EQ(master.solve(), Status::optimal);
  EXPECT_NEAR(master.value(), 14, 1e-9);
  EXPECT_NEAR(master.primal()[static_cast<std::size_t>(both)], 2, 1e-9);
  EXPECT_NEAR(master.duals()[0] * 3 + master.duals()[1] * 2, 14, 1e-9);
  const int few = master.add_row({.upper = 1}, {{both, 1}});
  ASSERT_EQ(master.solve(), Status::optimal);
  EXPECT_NEAR(master.value(), 16, 1e-9);
  EXPECT_NEAR(master.duals()[static_cast<std::size_t>(few)], -2, 1e-9);
  master.remove_columns({0});
  EXPECT_EQ(master.columns(), 2);
  EXPECT_EQ(master.solve(), Status::infeasible);
}

}  // namespace
}  // namespace kw::cutting::program
