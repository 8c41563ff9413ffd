// Random problems with angled ends, the same for every table.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw {

inline std::mt19937_64 angled_seed(int parts, int slopes) {
  return std::mt19937_64(static_cast<std::uint64_t>(1'000 * parts + slopes));
}

// 2x4s of three lengths; prices in proportion but for a little less by the foot for the long ones.
inline Problem random_angled(std::mt19937_64& random, int parts, int slopes) {
  const auto draw = [&](int from, int below) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(below - from));
  };
  Problem p{.stocks = {{.name = "8 ft", .length = Length::inches(96), .price = {598}},
                       {.name = "10 ft", .length = Length::inches(120), .price = {735}},
                       {.name = "12 ft", .length = Length::inches(144), .price = {869}}},
            .saw = {.kerf = Length::inches(0.125)},
            .width = Length::inches(3.5)};
  std::vector<double> tangents = {0};
  while (static_cast<int>(tangents.size()) < slopes)
    tangents.push_back(std::tan(draw(10, 96) * 0.5 * 3.14159265358979323846 / 180));
  const auto slope = [&] {
    const double t = tangents[static_cast<std::size_t>(draw(0, slopes))];
    return draw(0, 2) == 0 ? t : -t;
  };
  for (int left = parts; left > 0;) {
    Demand d{.name = "part", .count = std::min(left, draw(1, 5))};
    d.length = Length::inches(draw(8 * 16, 44 * 16) / 16.0);
    d.left_slope = slope();
    d.right_slope = slope();
    d.may_flip = draw(0, 4) != 0;
    d.may_turn = draw(0, 4) != 0;
    left -= d.count;
    p.demands.push_back(d);
  }
  return p;
}

}  // namespace kw
