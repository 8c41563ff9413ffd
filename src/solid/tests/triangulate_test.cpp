#include "planar/triangulate.h"

#include <cmath>
#include <gtest/gtest.h>
#include <map>
#include <numbers>

namespace kw {
namespace {

FlatRing ring_of(const std::vector<Vec2>& corners, std::uint32_t first = 0) {
  FlatRing ring;
  for (const Vec2& at : corners) ring.push_back({at, first++});
  return ring;
}

FlatRing circle(Vec2 centre, double radius, int sides, double way, std::uint32_t first) {
  std::vector<Vec2> corners;
  for (int i = 0; i < sides; ++i) {
    const double turn = way * 2 * std::numbers::pi * i / sides;
    corners.push_back(centre + Vec2{std::cos(turn), std::sin(turn)} * radius);
  }
  return ring_of(corners, first);
}

double doubled_area(const FlatRing& ring) {
  double sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    sum += cross(ring[i].at, ring[(i + 1) % ring.size()].at);
  }
  return sum;
}

// Triangles run counter-clockwise, cover the figure once, and use each edge of the rings once.
void expect_covers(const std::vector<FlatRing>& rings) {
  std::map<std::uint32_t, Vec2> at;
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> balance;
  double wanted = 0, sum = 0;
  for (const FlatRing& ring : rings) {
    wanted += doubled_area(ring);
    for (std::size_t i = 0; i < ring.size(); ++i) {
      at[ring[i].point] = ring[i].at;
      --balance[{ring[i].point, ring[(i + 1) % ring.size()].point}];
    }
  }
  for (const auto& t : triangulate(rings)) {
    const double area = cross(at[t[1]] - at[t[0]], at[t[2]] - at[t[0]]);
    EXPECT_GE(area, -1e-9);
    sum += area;
    for (std::size_t k = 0; k < 3; ++k) {
      const auto edge = std::pair(t[k], t[(k + 1) % 3]);
      const auto back = balance.find({edge.second, edge.first});
      if (back != balance.end() && back->second > 0) {
        --back->second;
      } else {
        ++balance[edge];
      }
    }
  }
  EXPECT_NEAR(sum, wanted, 1e-9 * std::abs(wanted));
  for (const auto& [edge, count] : balance) EXPECT_EQ(count, 0);
}

TEST(Triangulate, APolygonThatIsNotConvex) {
  expect_covers({ring_of({{0, 0}, {10, 0}, {10, 2}, {2, 2}, {2, 8}, {10, 8}, {10, 10}, {0, 10}})});
}

TEST(Triangulate, CornersOnAStraightEdge) {
  expect_covers(
      {ring_of({{0, 0}, {3, 0}, {5, 0}, {10, 0}, {10, 4}, {10, 10}, {6, 10}, {0, 10}, {0, 1}})});
  expect_covers({ring_of({{0, 0}, {1, 0}, {2, 0}, {0, 2}, {0, 1}})});
}

TEST(Triangulate, ManyHolesInRowsOfOneHeight) {
  std::vector<FlatRing> rings = {ring_of({{0, 0}, {110, 0}, {110, 110}, {0, 110}})};
  std::uint32_t next = 4;
  for (int x = 1; x <= 10; ++x) {
    for (int y = 1; y <= 10; ++y) {
      rings.push_back(circle({10.0 * x, 10.0 * y}, 3, 16, -1, next));
      next += 16;
    }
  }
  expect_covers(rings);
}

TEST(Triangulate, AHoleThatTouchesItsRing) {
  const FlatRing outer = ring_of({{0, 0}, {10, 0}, {10, 10}, {0, 10}});
  FlatRing hole = ring_of({{0, 0}, {4, 6}, {6, 4}}, 10);
  hole[0].point = 0;
  expect_covers({outer, hole});
}

TEST(Triangulate, HolesThatTouchOneAnother) {
  const FlatRing outer = ring_of({{0, 0}, {30, 0}, {30, 10}, {0, 10}});
  FlatRing left = ring_of({{5, 5}, {10, 8}, {15, 5}, {10, 2}}, 10);
  FlatRing right = ring_of({{15, 5}, {20, 8}, {25, 5}, {20, 2}}, 20);
  right[0].point = 12;
  expect_covers({outer, left, right});
}

TEST(Triangulate, ARingThatCrossesItselfStillEnds) {
  const auto triangles =
      triangulate({ring_of({{0, 0}, {10, 10}, {10, 0}, {0, 10}, {5, 20}, {5, -20}})});
  EXPECT_EQ(triangles.size(), 4u);
}

TEST(Triangulate, ACircleOfThreeThousandCorners) {
  expect_covers({circle({0, 0}, 100, 3000, 1, 0)});
}

}  // namespace
}  // namespace kw
