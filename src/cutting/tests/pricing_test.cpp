// Pricing with cuts, pairs and groups against every pattern there is, by table and by tree.
#include "lengths/pricing.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <set>
#include <string>

#include "numbers.h"

namespace kw::cutting::lengths {
namespace {

struct Case {
  Instance instance = {};
  Prices prices = {};
  Rest rest = {};
  std::vector<std::int64_t> waste = {};
  Groups groups = {};
};

bool keeps_groups(const Case& c, const Pattern& pattern) {
  return std::all_of(c.groups.begin(), c.groups.end(), [&](const std::vector<int>& group) {
    const auto is_held = [&](int type) { return holds(pattern, type); };
    return std::all_of(group.begin(), group.end(), is_held) ||
           std::none_of(group.begin(), group.end(), is_held);
  });
}

void put(const Case& c, int type, std::int64_t room, Pattern& pattern, std::vector<Pattern>& all) {
  if (type == static_cast<int>(c.instance.types.size())) {
    if (!pattern.parts.empty() && room <= c.waste[at(pattern.bin)] && keeps_groups(c, pattern))
      all.push_back(pattern);
    return;
  }
  const Type& t = c.instance.types[at(type)];
  put(c, type + 1, room, pattern, all);
  for (int n = 1; n <= t.count && n * t.size <= room; ++n) {
    pattern.parts.emplace_back(type, n);
    put(c, type + 1, room - n * t.size, pattern, all);
    pattern.parts.pop_back();
  }
}

std::vector<Pattern> all_patterns(const Case& c) {
  std::vector<Pattern> all;
  for (int b = 0; b < static_cast<int>(c.instance.bins.size()); ++b) {
    Pattern pattern{b, {}};
    put(c, 0, c.instance.bins[at(b)].capacity, pattern, all);
  }
  std::sort(all.begin(), all.end());
  return all;
}

std::int64_t gain_of(const Case& c, const Pattern& pattern) {
  return worth_of(c.prices, pattern) - threshold(c.instance, c.prices, pattern.bin);
}

// `unit`: of sizes; a large one makes tables too long, so that the tree has to answer.
Case draw(unsigned seed, std::int64_t unit) {
  Numbers numbers(seed);
  Case c;
  const int types = numbers.draw(6, 10);
  std::set<int, std::greater<>> sizes;
  while (std::ssize(sizes) < types) sizes.insert(numbers.draw(10, 60));
  for (const int size : sizes) {
    c.instance.types.push_back({size * unit, std::max(1, numbers.draw(-3, 3))});
    c.prices.part.push_back(size * 10 + numbers.draw(-60, 60));
  }
  for (int b = numbers.draw(1, 2); b > 0; --b) {
    const std::int64_t capacity = numbers.draw(90, 120);
    c.instance.bins.push_back({capacity * unit, capacity, 9});
    c.prices.bin.push_back(numbers.draw(0, 40));
    c.waste.push_back(numbers.draw(0, 2) == 0 ? capacity * unit : numbers.draw(0, 20) * unit);
  }
  c.prices.scale = 10;
  c.rest = rest_of(c.instance);
  for (int n = numbers.draw(0, 3); n > 0; --n) {
    const int first = numbers.draw(0, types - 3), second = numbers.draw(first + 1, types - 2);
    c.prices.cuts.push_back(
        {{first, second, numbers.draw(second + 1, types - 1)}, numbers.draw(1, 80)});
  }
  std::vector<int> singles;
  for (int t = 0; t < types; ++t) {
    if (c.instance.types[at(t)].count == 1) singles.push_back(t);
  }
  for (int n = numbers.draw(0, 2); n > 0 && std::ssize(singles) > 2; --n) {
    std::vector<int> group;
    for (int m = numbers.draw(2, 3); m > 0 && !singles.empty(); --m) {
      const int which = numbers.draw(0, static_cast<int>(singles.size()) - 1);
      group.push_back(singles[at(which)]);
      singles.erase(singles.begin() + which);
    }
    std::sort(group.begin(), group.end());
    c.groups.push_back(group);
  }
  for (int n = numbers.draw(0, 3); n > 0; --n) {
    const int first = numbers.draw(0, types - 2), second = numbers.draw(first + 1, types - 1);
    const bool is_known = std::any_of(c.prices.pairs.begin(), c.prices.pairs.end(), [&](auto& p) {
      return p.first == first && p.second == second;
    });
    const bool is_group = std::any_of(c.groups.begin(), c.groups.end(), [&](auto& g) {
      return std::count(g.begin(), g.end(), first) + std::count(g.begin(), g.end(), second) == 2;
    });
    if (!is_known && !is_group) c.prices.pairs.push_back({first, second, numbers.draw(-90, 90), 1});
  }
  return c;
}

void expect_right(const Case& c, const std::string& what) {
  const std::vector<Pattern> all = all_patterns(c);
  std::vector<std::int64_t> most(c.instance.bins.size(), 0);
  std::int64_t best = 0;
  for (const Pattern& pattern : all) {
    std::int64_t& m = most[at(pattern.bin)];
    m = std::max(m, worth_of(c.prices, pattern));
    best = std::max(best, gain_of(c, pattern));
  }
  Table::Memory memory;
  const Query query{c.instance, c.prices, c.rest, c.waste, c.groups, memory};
  const Spend goes_on = [](std::int64_t) { return true; };
  const Priced priced = price(query, 50, goes_on);
  ASSERT_TRUE(priced.is_whole) << what;
  for (std::size_t b = 0; b < most.size(); ++b) EXPECT_GE(priced.most[b], most[b]) << what;
  const bool is_exact = std::all_of(c.waste.begin(), c.waste.end(),
                                    [&](std::int64_t w) { return w == c.waste.front(); });
  if (is_exact) {
    EXPECT_EQ(priced.found.empty() ? 0 : priced.found.front().gain, best) << what;
  }
  for (const Found& found : priced.found) {
    EXPECT_EQ(found.gain, gain_of(c, found.pattern)) << what;
    EXPECT_TRUE(std::binary_search(all.begin(), all.end(), found.pattern)) << what;
  }
  const std::int64_t slack = 150;
  Listed listed = list_patterns(query, slack, 100'000, goes_on);
  ASSERT_TRUE(listed.is_whole) << what;
  std::sort(listed.patterns.begin(), listed.patterns.end());
  std::vector<Pattern> near;
  std::copy_if(all.begin(), all.end(), std::back_inserter(near),
               [&](const Pattern& p) { return gain_of(c, p) >= -slack; });
  EXPECT_EQ(listed.patterns, near) << what;
}

TEST(Pricing, FindsTheBestByTable) {
  for (unsigned seed = 1; seed <= 400; ++seed)
    expect_right(draw(seed, 1), "seed " + std::to_string(seed));
}

TEST(Pricing, FindsTheBestByTree) {
  for (unsigned seed = 1; seed <= 400; ++seed)
    expect_right(draw(seed, 40'000), "seed " + std::to_string(seed));
}

}  // namespace
}  // namespace kw::cutting::lengths
