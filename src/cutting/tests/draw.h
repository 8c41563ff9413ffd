// Problems drawn at random for the tests, from whatever supplies the numbers.
#pragma once

#include <functional>

#include "kerfwright/cutting/problem.h"

namespace kw {

// A whole number in [from, below).
using Draw = std::function<int(int from, int below)>;

struct Shape {
  int most_kinds = 8, most_count = 6, most_stocks = 3;
  bool is_angled = false;
  bool has_finite_stock = true;
  bool has_faults = false;  // on most sticks
};

// Every part fits on some stick; finite stock may not suffice for all.
[[nodiscard]] Problem draw_problem(const Draw& draw, const Shape& shape);

}  // namespace kw
