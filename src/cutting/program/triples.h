// Cuts over three rows (subset-row cuts, Jepsen, Petersen, Spoorendonk and Pisinger 2008): from the
// rows i of S, |S| = 3, each asking for at least b_i with b_1 + b_2 + b_3 odd, half their sum
// rounded up on both sides,
//     sum_j ceil(sum_{i in S} a_ij / 2) x_j >= ceil(sum_{i in S} b_i / 2).
// Valid for whole x >= 0, since sum_j (sum a_ij / 2) x_j >= sum b_i / 2 and the left is whole after
// rounding its coefficients up.
#pragma once

#include <array>
#include <cstdint>
#include <utility>
#include <vector>

namespace kw::cutting::program {

using Triple = std::array<int, 3>;  // rows, ascending

// One column in use: its (row, count) pairs, rows ascending, and how much of it.
struct Used {
  std::vector<std::pair<int, std::int64_t>> parts = {};
  double value = 0;
};

struct ViolatedTriple {
  Triple rows = {};
  double violation = 0;
};

// The most violated cuts first, at most `most` and each row in at most `most_each` of them. `sides`
// are the b_i; rows with b_i = 0 are left out.
[[nodiscard]] std::vector<ViolatedTriple> violated_triples(const std::vector<std::int64_t>& sides,
                                                           const std::vector<Used>& used,
                                                           std::size_t most, int most_each);

}  // namespace kw::cutting::program
