// A day of the calendar, as the books have it. No clock: days are passed in.
#pragma once

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "kerfwright/diag/outcome.h"

namespace kw::trade {

struct Day {
  std::int32_t number = 0;  // since 1970-01-01
  friend constexpr auto operator<=>(const Day&, const Day&) = default;
  friend constexpr Day operator+(Day day, int days) { return {day.number + days}; }
  friend constexpr int operator-(Day a, Day b) { return a.number - b.number; }
};

inline constexpr Day first_day = {0};      // 1970-01-01
inline constexpr Day last_day = {84'005};  // 2199-12-31

// "2026-03-01" (ISO 8601, calendar date, extended). Error: trade.bad-day, also outside of
// `first_day` to `last_day`.
[[nodiscard]] Outcome<Day> parse_day(std::string_view text, std::uint32_t at = 0);
[[nodiscard]] std::string format_day(Day day);

// 1 Monday to 7 Sunday (ISO 8601).
[[nodiscard]] int weekday_of(Day day);

}  // namespace kw::trade
