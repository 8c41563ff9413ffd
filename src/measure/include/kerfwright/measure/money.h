// Money in whole coins, so that books balance to the cent.
#pragma once

#include <compare>
#include <cstdint>

namespace kw {

// The smallest coin of whatever currency the prices are in.
struct Money {
  std::int64_t coins = 0;
  friend constexpr auto operator<=>(const Money&, const Money&) = default;
  friend constexpr Money operator+(Money a, Money b) { return {a.coins + b.coins}; }
  friend constexpr Money operator-(Money a, Money b) { return {a.coins - b.coins}; }
  friend constexpr Money operator*(Money a, std::int64_t n) { return {a.coins * n}; }
};

}  // namespace kw
