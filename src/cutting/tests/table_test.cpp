// The table of best worths against a plain recursion of its own, at sizes at which all rows are
// kept and at which they are made again.
#include "lengths/table.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <random>
#include <string>

namespace kw::cutting::lengths {
namespace {

struct Shape {
  std::int64_t capacity = 0, waste = 0;
  int items = 0;
  std::int64_t shortest = 1, longest = 1;
};

std::vector<Item> draw(const Shape& shape, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<Item> items;
  const auto span = static_cast<unsigned>(shape.longest - shape.shortest + 1);
  for (int i = 0; i < shape.items; ++i) {
    Item item{.type = i, .size = shape.shortest + static_cast<std::int64_t>(random() % span)};
    item.count = 1 + static_cast<int>(random() % 4);
    item.worth = static_cast<double>(random() % 1'000'000);
    items.push_back(item);
  }
  return items;
}

// Copy by copy, cell by cell.
void put_plainly(const Item& item, std::vector<double>& row) {
  const auto size = static_cast<std::size_t>(item.size);
  for (int n = 0; n < item.count; ++n) {
    for (std::size_t c = row.size(); c-- > size;)
      row[c] = std::max(row[c], row[c - size] + item.worth);
  }
}

bool are_same(std::span<const double> a, const std::vector<double>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](double x, double y) { return x == y || (x < 0 && y < 0); });
}

void expect_right(const Shape& shape, unsigned seed, bool sorts) {
  std::vector<Item> items = draw(shape, seed);
  if (sorts)
    std::sort(items.begin(), items.end(), [](auto& a, auto& b) { return a.size > b.size; });
  Table::Memory memory;
  Table table(items, shape.capacity, shape.waste, memory);
  std::vector<double> row(static_cast<std::size_t>(shape.capacity) + 1, Table::never);
  std::fill(row.begin(), row.begin() + shape.waste + 1, 0.0);
  const std::string what = "seed " + std::to_string(seed) + ", item ";
  std::vector<std::vector<double>> some;  // every 37th row
  ASSERT_TRUE(table.build([](std::int64_t) { return true; },
                          [&](int i, std::span<const double> seen) {
                            EXPECT_TRUE(are_same(seen, row)) << what << i;
                            if (i % 37 == 0) some.push_back(row);
                            put_plainly(items[static_cast<std::size_t>(i)], row);
                          }));
  for (int k = static_cast<int>(some.size()) - 1; k >= 0; --k)
    EXPECT_TRUE(are_same(table.row(37 * k), some[static_cast<std::size_t>(k)])) << what << 37 * k;
}

TEST(Table, HoldsTheBestOfEveryRoom) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const std::int64_t waste = seed % 3 == 0 ? 0 : seed % 3 == 1 ? 7 : 300;
    expect_right({300, waste, 25, 1 + seed % 5 * 20, 290}, seed, seed % 2 == 0);
  }
}

TEST(Table, HoldsTheBestWhereRowsAreMadeAgain) {
  for (unsigned seed = 1; seed <= 4; ++seed) {
    const std::int64_t waste = seed % 2 == 0 ? 0 : 900;
    expect_right({90'000, waste, 200, seed < 3 ? 9'000 : 100, 60'000}, seed, seed != 4);
  }
}

}  // namespace
}  // namespace kw::cutting::lengths
