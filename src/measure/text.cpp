#include "kerfwright/measure/text.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <numeric>

#include "literal.h"

namespace kw {
namespace {

constexpr std::size_t most_bytes = 256;
constexpr Wide longest = Wide(10'000'000) * Length::ticks_per_mm;  // 10 km

// What parse_length and parse_angle differ in when nothing can be read.
struct Wanted {
  std::string_view code = {};
  std::string_view name = {};
  std::string_view example = {};
};
constexpr Wanted a_length_text = {"measure.not-a-length", "a length",
                                  "write 29 11/16, 3' 2 3/8\" or 810 mm (units: in ft mm cm m)"};
constexpr Wanted an_angle_text = {"measure.not-an-angle", "an angle",
                                  "write 35 deg, 35\u00B0 or 22 1/2 deg"};

Diagnostic unreadable(const Wanted& wanted, Span at, std::string_view what) {
  return {.code = wanted.code,
          .at = at,
          .message = fmt::format("{} is not {}", what, wanted.name),
          .hint = std::string(wanted.example)};
}

struct Signed {
  Literal literal = {};
  bool is_negative = false;
  Span at = {};
};

Diagnostic leftover(const Wanted& wanted, const Cursor& cursor, std::size_t from) {
  if (auto fault = comma_fault(cursor)) return *std::move(fault);
  Cursor all = cursor;
  all.place = all.text.size();
  return unreadable(wanted, all.span_since(from), quoted(all.since(from), "this"));
}

// The one literal that the whole text is.
Outcome<Signed> read_whole(std::string_view text, std::uint32_t at, const Wanted& wanted) {
  Cursor cursor{text, at};
  if (text.size() > most_bytes) {
    return unreadable(wanted, cursor.span(0, text.size()), "a text of more than 256 bytes");
  }
  cursor.skip_spaces();
  if (cursor.at_end()) {
    return Diagnostic{.code = "measure.empty",
                      .at = cursor.span(0, text.size()),
                      .message = fmt::format("{} is missing", wanted.name),
                      .hint = std::string(wanted.example)};
  }
  const std::size_t from = cursor.place;
  const bool is_negative = cursor.take_minus();
  cursor.skip_spaces();
  if (!starts_figure(cursor)) return leftover(wanted, cursor, from);
  Diagnostics faults;
  const auto literal = read_literal(cursor, Hyphen::joins, faults);
  if (!literal) return faults;
  const Span place = cursor.span_since(from);
  cursor.skip_spaces();
  if (!cursor.at_end()) return leftover(wanted, cursor, from);
  return Signed{*literal, is_negative, place};
}

Outcome<Length> length_of(const Signed& read) {
  const Ratio ticks = in_base_units(read.literal);
  const Wide rest = ticks.over % ticks.under;
  const Wide size = ticks.over / ticks.under + (2 * rest >= ticks.under ? 1 : 0);
  if (size > longest) {
    return Diagnostic{.code = "measure.too-long",
                      .at = read.at,
                      .message = "this length is over 10 km",
                      .hint = "check the figure and its unit"};
  }
  const Length length = Length::ticks(static_cast<std::int64_t>(read.is_negative ? -size : size));
  if (rest == 0 && !read.literal.is_cut) return length;
  return {length,
          {Diagnostic{.code = "measure.inexact",
                      .severity = Severity::warning,
                      .at = read.at,
                      .message = "this length is finer than 1/20,000,000 mm and is rounded to it",
                      .hint = "write fewer digits, or a fraction down to 1/256 in"}}};
}

bool is_bare_or(const Literal& literal, Dimension dimension) {
  return literal.unit == Unit::none || dimension_of(literal.unit) == dimension;
}

// |value| * steps_per_unit / ticks_per_unit to the nearest whole (halves up), and whether that is
// exact.
struct Steps {
  Wide count = 0;
  bool is_exact = true;
  bool is_negative = false;
};

Steps steps_of(Length length, std::int64_t steps_per_unit, std::int64_t ticks_per_unit) {
  const Wide ticks = length.in_ticks();
  const Wide scaled = (ticks < 0 ? -ticks : ticks) * steps_per_unit;
  const Wide rest = scaled % ticks_per_unit;
  const Wide count = scaled / ticks_per_unit + (2 * rest >= ticks_per_unit ? 1 : 0);
  return {count, rest == 0, ticks < 0 && count > 0};
}

std::string sign_of(const Steps& steps) {
  return fmt::format("{}{}", steps.is_exact ? "" : "~", steps.is_negative ? "-" : "");
}

// `29 11/16`, `11/16`, `29`.
std::string mixed_number(std::int64_t steps, std::int64_t finest) {
  const std::int64_t whole = steps / finest;
  const std::int64_t over = steps % finest;
  if (over == 0) return fmt::format("{}", whole);
  const std::int64_t shared = std::gcd(over, finest);
  const std::string fraction = fmt::format("{}/{}", over / shared, finest / shared);
  return whole == 0 ? fraction : fmt::format("{} {}", whole, fraction);
}

std::string inches_text(Length length, const LengthStyle& style) {
  const std::int64_t finest = std::clamp(style.finest, 1, 1 << 20);
  const Steps steps = steps_of(length, finest, Length::ticks_per_inch);
  std::int64_t left = static_cast<std::int64_t>(steps.count);
  std::string text = sign_of(steps);
  if (style.feet && left >= 12 * finest) {
    text += fmt::format("{}' ", left / (12 * finest));
    left %= 12 * finest;
  }
  return text + mixed_number(left, finest) + (style.mark_unit ? "\"" : "");
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text;
}

std::string mm_text(Length length, const LengthStyle& style) {
  const int decimals = std::clamp(style.decimals, 0, 9);
  std::int64_t scale = 1;
  for (int i = 0; i < decimals; ++i) scale *= 10;
  const Steps steps = steps_of(length, scale, Length::ticks_per_mm);
  const auto whole = static_cast<std::int64_t>(steps.count / scale);
  const auto part = static_cast<std::int64_t>(steps.count % scale);
  const std::string digits =
      decimals == 0 ? fmt::format("{}", whole) : fmt::format("{}.{:0{}}", whole, part, decimals);
  return sign_of(steps) + without_trailing_zeros(digits) + (style.mark_unit ? " mm" : "");
}

}  // namespace

Outcome<Length> parse_length(std::string_view text, LengthUnit bare, std::uint32_t at) {
  auto read = read_whole(text, at, a_length_text);
  if (!read) return read.diagnostics();
  if (!is_bare_or(read->literal, a_length)) {
    return unreadable(a_length_text, read->at, name_of(dimension_of(read->literal.unit)));
  }
  if (read->literal.unit == Unit::none) {
    read->literal.unit = bare == LengthUnit::inch ? Unit::inch : Unit::mm;
  }
  return length_of(*read);
}

Outcome<Angle> parse_angle(std::string_view text, std::uint32_t at) {
  const auto read = read_whole(text, at, an_angle_text);
  if (!read) return read.diagnostics();
  if (read->literal.unit == Unit::none) {
    return Diagnostic{.code = "measure.bare-angle",
                      .at = read->at,
                      .message = "an angle needs its unit",
                      .hint = std::string(an_angle_text.example)};
  }
  if (!is_bare_or(read->literal, an_angle)) {
    return unreadable(an_angle_text, read->at, name_of(dimension_of(read->literal.unit)));
  }
  const double degrees = amount_of(read->literal);
  return Angle::degrees(read->is_negative ? -degrees : degrees);
}

std::string format_length(Length length, const LengthStyle& style) {
  if (style.unit == LengthUnit::mm) return mm_text(length, style);
  const std::string inches = inches_text(length, style);
  if (!style.with_mm) return inches;
  return fmt::format("{} ({:.0f} mm)", inches, std::round(length.in_mm()));
}

std::string format_angle(Angle angle, int decimals) {
  const std::string digits = without_trailing_zeros(
      fmt::format("{:.{}f}", angle.in_degrees(), std::clamp(decimals, 0, 9)));
  return (digits == "-0" ? "0" : digits) + "\u00B0";
}

}  // namespace kw
