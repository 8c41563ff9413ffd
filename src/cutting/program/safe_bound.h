// What the duals of a simplex prove once they are rounded to whole numbers.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace kw::cutting::program {

__extension__ using Wide = __int128;

// Duals as whole numbers y at scale V.
struct WholeDuals {
  std::int64_t scale = 1;
  std::vector<std::int64_t> y = {};
};

// V is as large as costs up to `dearest` and 10,000 entries allow within 62 bits.
[[nodiscard]] WholeDuals whole_duals(std::span<const double> duals, std::int64_t dearest);

// ceil(value / scale), for scale > 0.
[[nodiscard]] std::int64_t ceil_over(Wide value, std::int64_t scale);

}  // namespace kw::cutting::program
