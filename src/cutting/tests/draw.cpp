#include "draw.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

Length sixteenths(int n) {
  return Length::ticks(n * (Length::ticks_per_inch / 16));
}

// Slopes that shops cut, and one that is none of them.
double draw_slope(const Draw& draw) {
  constexpr double slopes[] = {0,   0,      1, -1, 0.57735026918962573, -0.57735026918962573,
                               0.3, -0.0875};
  return slopes[draw(0, 8)];
}

// Up to three, some of them thinner than the kerf, at an end or one over the other.
void draw_faults(const Draw& draw, int length, Stock& stock) {
  for (int n = draw(1, 4); n > 0; --n) {
    const int from = draw(0, 3) == 0 ? 0 : draw(0, length);
    const int to = std::min(length, from + draw(1, draw(0, 2) == 0 ? 4 : 16 * 5));
    if (to > from) stock.faults.push_back({sixteenths(from), sixteenths(to - from)});
  }
}

void draw_demands(const Draw& draw, const Shape& shape, int shortest_stock, Problem& problem) {
  const int kinds = draw(1, shape.most_kinds + 1);
  // Some shops measure in whole sixteenths, some lengths fall anywhere.
  const bool is_stray = draw(0, 3) == 0;
  for (int k = 0; k < kinds; ++k) {
    Demand d{.name = std::string("part ") + std::to_string(k),
             .count = draw(1, shape.most_count + 1)};
    const int longest = shape.is_angled ? shortest_stock - 16 * 9 : shortest_stock - 40;
    d.length = sixteenths(draw(16 * 4, longest));
    if (is_stray) d.length += Length::ticks(draw(0, 30'000'000));
    if (shape.is_angled) {
      d.left_slope = draw_slope(draw);
      d.right_slope = draw_slope(draw);
      d.may_flip = draw(0, 2) == 0;
      d.may_turn = draw(0, 2) == 0;
    }
    problem.demands.push_back(d);
  }
}

}  // namespace

Problem draw_problem(const Draw& draw, const Shape& shape) {
  Problem problem;
  const int kerfs[] = {0, 1, 2, 3};
  problem.saw.kerf = sixteenths(kerfs[draw(0, 4)]);
  problem.saw.end_trim = sixteenths(draw(0, 3) == 0 ? draw(1, 17) : 0);
  problem.width = shape.is_angled ? sixteenths(16 * 3 + 8) : Length();
  problem.shortest_offcut = sixteenths(draw(0, 2) * 16 * 8);
  const int stocks = draw(1, shape.most_stocks + 1);
  int longest = 0;
  for (int s = 0; s < stocks; ++s) {
    const int length = 16 * draw(24, 100);
    longest = std::max(longest, length);
    Stock stock{.name = "stock " + std::to_string(s), .length = sixteenths(length)};
    stock.price = {draw(0, 5) == 0 ? 0 : length * draw(8, 13) / 10};
    if (shape.has_finite_stock && draw(0, 2) == 0) stock.count = draw(1, 5);
    if (stock.price.coins == 0) stock.count = draw(1, 3);
    if (shape.has_faults && draw(0, 3) > 0) draw_faults(draw, length, stock);
    problem.stocks.push_back(stock);
  }
  draw_demands(draw, shape, longest, problem);
  return problem;
}

}  // namespace kw
