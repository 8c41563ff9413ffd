#include "safe_bound.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::program {

WholeDuals whole_duals(std::span<const double> duals, std::int64_t dearest) {
  constexpr double room = 0x1p47;  // times 10,000 entries stays below 2^61
  double largest = static_cast<double>(std::max<std::int64_t>(dearest, 1));
  for (const double d : duals) {
    if (std::isfinite(d)) largest = std::max(largest, std::abs(d));
  }
  WholeDuals whole;
  while (static_cast<double>(whole.scale) * 2 * largest < room) whole.scale *= 2;
  for (const double d : duals) {
    const double scaled = std::isfinite(d) ? d * static_cast<double>(whole.scale) : 0;
    whole.y.push_back(std::llround(scaled));
  }
  return whole;
}

std::int64_t ceil_over(Wide value, std::int64_t scale) {
  const Wide quotient = value / scale;
  return static_cast<std::int64_t>(quotient + (value % scale > 0 ? 1 : 0));
}

}  // namespace kw::cutting::program
