#include "kerfwright/measure/length.h"

#include <cmath>
#include <limits>

#include "kerfwright/diag/outcome.h"

namespace kw {
namespace {

constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();

std::int64_t nearest_tick(double ticks) {
  if (std::isnan(ticks)) return 0;
  if (ticks >= 9.2e18) return most;
  if (ticks <= -9.2e18) return least;
  return std::llround(ticks);
}

std::int64_t floor_divide(std::int64_t a, std::int64_t b) {
  const std::int64_t q = a / b;
  return (a % b != 0 && (a < 0) != (b < 0)) ? q - 1 : q;
}

}  // namespace

Length Length::mm(double value) {
  return Length(nearest_tick(value * static_cast<double>(ticks_per_mm)));
}

Length Length::inches(double value) {
  return Length(nearest_tick(value * static_cast<double>(ticks_per_inch)));
}

Length operator+(Length a, Length b) {
  std::int64_t sum = 0;
  if (__builtin_add_overflow(a.ticks_, b.ticks_, &sum)) sum = a.ticks_ > 0 ? most : least;
  return Length(sum);
}

Length operator-(Length a, Length b) {
  std::int64_t difference = 0;
  if (__builtin_sub_overflow(a.ticks_, b.ticks_, &difference)) {
    difference = a.ticks_ >= 0 ? most : least;
  }
  return Length(difference);
}

Length operator*(Length a, std::int64_t n) {
  std::int64_t product = 0;
  if (__builtin_mul_overflow(a.ticks_, n, &product)) {
    product = (a.ticks_ > 0) == (n > 0) ? most : least;
  }
  return Length(product);
}

Length abs(Length a) {
  return a < Length() ? -a : a;
}

Length round_to(Length value, Length step, Rounding how) {
  const std::int64_t s = step.in_ticks();
  if (s <= 0) return value;
  const std::int64_t down = floor_divide(value.in_ticks(), s);
  const std::int64_t rest = value.in_ticks() % s;
  const std::int64_t over = rest < 0 ? rest + s : rest;
  if (over == 0 || how == Rounding::down) return step * down;
  if (how == Rounding::up) return step * (down + 1);
  const std::int64_t under = s - over;
  const bool goes_up = over > under || (over == under && value.in_ticks() > 0);
  return step * (goes_up ? down + 1 : down);
}

Length divide(Length value, std::int64_t parts) {
  KW_ASSERT(parts != 0);
  const std::int64_t q = value.in_ticks() / parts;
  const std::int64_t r = value.in_ticks() % parts;
  const std::int64_t size = parts < 0 ? -parts : parts;
  const std::int64_t rest = r < 0 ? -r : r;
  if (rest < size - rest) return Length::ticks(q);
  return Length::ticks((value.in_ticks() < 0) == (parts < 0) ? q + 1 : q - 1);
}

}  // namespace kw
