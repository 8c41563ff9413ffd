#include "kerfwright/trade/day.h"

#include <chrono>
#include <fmt/format.h>

namespace kw::trade {
namespace {

using std::chrono::sys_days;
using std::chrono::year_month_day;

year_month_day calendar_of(Day day) {
  return year_month_day(sys_days(std::chrono::days(day.number)));
}

// The number that `digits` say, or -1.
int figure_of(std::string_view digits) {
  int value = 0;
  for (const char d : digits) {
    if (d < '0' || d > '9') return -1;
    value = value * 10 + (d - '0');
  }
  return value;
}

}  // namespace

Outcome<Day> parse_day(std::string_view text, std::uint32_t at) {
  if (text.size() == 10 && text[4] == '-' && text[7] == '-') {
    const int year = figure_of(text.substr(0, 4)), month = figure_of(text.substr(5, 2)),
              day = figure_of(text.substr(8, 2));
    const year_month_day date(std::chrono::year(year),
                              std::chrono::month(static_cast<unsigned>(std::max(month, 0))),
                              std::chrono::day(static_cast<unsigned>(std::max(day, 0))));
    if (year >= 1970 && year <= 2199 && date.ok())
      return Day{static_cast<std::int32_t>(sys_days(date).time_since_epoch().count())};
  }
  return Diagnostic{.code = "trade.bad-day",
                    .at = {at, static_cast<std::uint32_t>(at + text.size())},
                    .message = fmt::format("`{}` is no day", text.substr(0, 40)),
                    .hint = "write year, month and day, like 2026-03-01"};
}

std::string format_day(Day day) {
  const year_month_day date = calendar_of(day);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

int weekday_of(Day day) {
  return static_cast<int>(
      std::chrono::weekday(sys_days(std::chrono::days(day.number))).iso_encoding());
}

}  // namespace kw::trade
