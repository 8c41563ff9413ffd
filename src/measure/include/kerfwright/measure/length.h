// Exact lengths. A Length is a whole number of ticks, 20 million a millimetre, so that 1/256 in
// (1,984,375 ticks) and 1/1000 mm (20,000 ticks) are both exact: 29 11/16 typed is 29 11/16
// printed.
//
// Guarantees: sums, differences and whole multiples are exact; overflow (beyond about 461,000 km)
// is saturated, never wrapped. Division names its rounding.
#pragma once

#include <compare>
#include <cstdint>

namespace kw {

class Length {
 public:
  static constexpr std::int64_t ticks_per_mm = 20'000'000;
  static constexpr std::int64_t ticks_per_inch = 508'000'000;

  constexpr Length() = default;
  [[nodiscard]] static constexpr Length ticks(std::int64_t n) { return Length(n); }
  // The nearest tick (halves away from zero); not-a-number gives zero, huge values saturate.
  [[nodiscard]] static Length mm(double value);
  [[nodiscard]] static Length inches(double value);

  [[nodiscard]] constexpr std::int64_t in_ticks() const { return ticks_; }
  [[nodiscard]] constexpr double in_mm() const {
    return static_cast<double>(ticks_) / static_cast<double>(ticks_per_mm);
  }
  [[nodiscard]] constexpr double in_inches() const {
    return static_cast<double>(ticks_) / static_cast<double>(ticks_per_inch);
  }

  friend constexpr auto operator<=>(const Length&, const Length&) = default;
  friend Length operator+(Length a, Length b);
  friend Length operator-(Length a, Length b);
  friend Length operator-(Length a) { return Length() - a; }
  friend Length operator*(Length a, std::int64_t n);
  friend Length operator*(std::int64_t n, Length a) { return a * n; }
  Length& operator+=(Length b) { return *this = *this + b; }
  Length& operator-=(Length b) { return *this = *this - b; }

 private:
  constexpr explicit Length(std::int64_t n) : ticks_(n) {}
  std::int64_t ticks_ = 0;
};

[[nodiscard]] Length abs(Length a);

enum class Rounding : std::uint8_t { nearest, up, down };

// `value` as a whole multiple of `step`: nearest (halves away from zero), up (towards +infinity) or
// down (towards -infinity). A step of zero or less returns the value as it is.
[[nodiscard]] Length round_to(Length value, Length step, Rounding how = Rounding::nearest);

// value / parts, to the nearest tick (halves away from zero). parts must not be zero.
[[nodiscard]] Length divide(Length value, std::int64_t parts);

enum class LengthUnit : std::uint8_t { inch, mm };

}  // namespace kw
