#include "literal.h"

#include <algorithm>
#include <array>
#include <fmt/core.h>

namespace kw {
namespace {

constexpr Wide most_figure = 1'000'000'000'000;
// Times the greatest unit, 9 * 10^12, this stays within 128 bits.
constexpr Wide most_over = most_figure * most_figure;

struct Vulgar {
  std::string_view text = {};
  int over = 0;
  int under = 1;
};
// Unicode charts, Latin-1 Supplement and Number Forms.
constexpr std::array<Vulgar, 18> vulgar_fractions = {{{"\u00BC", 1, 4},
                                                      {"\u00BD", 1, 2},
                                                      {"\u00BE", 3, 4},
                                                      {"\u2150", 1, 7},
                                                      {"\u2151", 1, 9},
                                                      {"\u2152", 1, 10},
                                                      {"\u2153", 1, 3},
                                                      {"\u2154", 2, 3},
                                                      {"\u2155", 1, 5},
                                                      {"\u2156", 2, 5},
                                                      {"\u2157", 3, 5},
                                                      {"\u2158", 4, 5},
                                                      {"\u2159", 1, 6},
                                                      {"\u215A", 5, 6},
                                                      {"\u215B", 1, 8},
                                                      {"\u215C", 3, 8},
                                                      {"\u215D", 5, 8},
                                                      {"\u215E", 7, 8}}};
constexpr std::string_view fraction_slash = "\u2044";

const Vulgar* vulgar_at(const Cursor& cursor) {
  if (static_cast<unsigned char>(cursor.peek()) < 0x80U) return nullptr;
  const auto found =
      std::find_if(vulgar_fractions.begin(), vulgar_fractions.end(),
                   [&](const Vulgar& v) { return cursor.rest().starts_with(v.text); });
  return found == vulgar_fractions.end() ? nullptr : &*found;
}

// The bytes of the slash at the cursor that has a digit behind it, or 0.
std::size_t slash_at(const Cursor& cursor) {
  const std::size_t size = cursor.peek() == '/'                        ? 1
                           : cursor.rest().starts_with(fraction_slash) ? fraction_slash.size()
                                                                       : 0;
  return size > 0 && is_digit(cursor.peek(size)) ? size : 0;
}

// Whether `11/16` or a vulgar fraction starts here.
bool fraction_at(Cursor cursor) {
  if (vulgar_at(cursor) != nullptr) return true;
  const std::size_t from = cursor.place;
  while (is_digit(cursor.peek())) ++cursor.place;
  return cursor.place > from && slash_at(cursor) > 0;
}

class LiteralReader {
 public:
  LiteralReader(Cursor& cursor, Hyphen hyphen, Diagnostics& faults)
      : cursor_(cursor), hyphen_(hyphen), faults_(faults), from_(cursor.place) {}

  std::optional<Literal> read() {
    if (!figure() || !unit()) return std::nullopt;
    if (literal_.unit == Unit::foot && !inches_behind_feet()) return std::nullopt;
    if (!ends_here()) return std::nullopt;
    return literal_;
  }

 private:
  bool figure();
  bool digits(Wide& into);
  bool decimals();
  bool mixed();
  bool fraction(bool behind_whole);
  bool add_fraction(Wide over, Wide under, bool behind_whole, std::size_t from);
  bool joins_at_hyphen();
  bool unit();
  bool take_power_of_ten(std::string_view word);
  bool inches_behind_feet();
  bool ends_here();
  bool fail(std::string_view code, Span at, std::string message, std::string hint);
  bool fail(std::string message, std::string hint) {
    return fail("measure.not-a-figure", cursor_.span_since(from_), std::move(message),
                std::move(hint));
  }

  Cursor& cursor_;
  Hyphen hyphen_;
  Diagnostics& faults_;
  std::size_t from_;
  Literal literal_ = {};
};

bool LiteralReader::fail(std::string_view code, Span at, std::string message, std::string hint) {
  faults_.push_back(
      Diagnostic{.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
  return false;
}

bool LiteralReader::digits(Wide& into) {
  const std::size_t from = cursor_.place;
  into = 0;
  for (; is_digit(cursor_.peek()); ++cursor_.place) {
    if (into < most_figure) into = into * 10 + (cursor_.peek() - '0');
  }
  if (into < most_figure) return true;
  return fail("measure.too-long", cursor_.span_since(from), "a figure of more than 12 digits",
              "write it with fewer digits");
}

bool LiteralReader::figure() {
  if (vulgar_at(cursor_) != nullptr) return fraction(false);
  if (cursor_.peek() == '.') return decimals();
  if (!digits(literal_.over)) return false;
  if (cursor_.peek() == '.') return decimals();
  if (slash_at(cursor_) > 0) {
    cursor_.place = from_;
    return fraction(false);
  }
  return mixed();
}

bool LiteralReader::decimals() {
  ++cursor_.place;
  if (!is_digit(cursor_.peek())) {
    return fail("no digit stands behind the point", "write a digit behind it, or leave it out");
  }
  for (; is_digit(cursor_.peek()); ++cursor_.place) {
    const int digit = cursor_.peek() - '0';
    if (std::max(literal_.over, literal_.under) > most_over / 100) {
      literal_.is_cut = literal_.is_cut || digit != 0;
    } else {
      literal_.over = literal_.over * 10 + digit;
      literal_.under *= 10;
    }
  }
  return true;
}

// Behind a whole number: nothing more, or ` 11/16`, `-11/16`, `½`, ` ½`.
bool LiteralReader::mixed() {
  Cursor ahead = cursor_;
  if (cursor_.peek() == '-') {
    ++ahead.place;
    if (!fraction_at(ahead)) return true;
    if (!joins_at_hyphen()) return false;
  } else {
    ahead.skip_spaces();
    if (!fraction_at(ahead)) return true;
  }
  cursor_.place = ahead.place;
  return fraction(true);
}

bool LiteralReader::fraction(bool behind_whole) {
  const std::size_t from = cursor_.place;
  if (const Vulgar* vulgar = vulgar_at(cursor_)) {
    cursor_.place += vulgar->text.size();
    return add_fraction(vulgar->over, vulgar->under, behind_whole, from);
  }
  Wide over = 0, under = 0;
  if (!digits(over)) return false;
  literal_.is_division = cursor_.peek() == '/' && !behind_whole;
  cursor_.place += slash_at(cursor_);
  return digits(under) && add_fraction(over, under, behind_whole, from);
}

bool LiteralReader::add_fraction(Wide over, Wide under, bool behind_whole, std::size_t from) {
  const Span at = cursor_.span_since(from);
  if (under == 0) {
    return fail("measure.zero-below", at, "the lower number of this fraction is zero",
                "write the number that the whole is divided by, such as 1/16");
  }
  if (behind_whole && over >= under) {
    return fail("measure.not-a-figure", at, "the fraction behind a whole number is one or more",
                "write a fraction below one, such as 29 11/16");
  }
  const Wide whole = behind_whole ? literal_.over : 0;
  if (whole > most_figure / under) {
    return fail("measure.not-a-figure", at, "too many digits in a mixed number",
                "write it as a decimal");
  }
  literal_.over = whole * under + over;
  literal_.under = under;
  return true;
}

// A hyphen right behind a figure and right before a figure: two readings in a formula.
bool LiteralReader::joins_at_hyphen() {
  if (hyphen_ == Hyphen::joins) return true;
  const std::string_view left = cursor_.since(from_);
  Cursor behind{cursor_.text, cursor_.at, cursor_.place + 1};
  if (const Vulgar* vulgar = vulgar_at(behind)) behind.place += vulgar->text.size();
  while (is_digit(behind.peek()) || slash_at(behind) > 0) {
    behind.place += std::max<std::size_t>(slash_at(behind), 1);
  }
  const std::string_view right = behind.since(cursor_.place + 1);
  return fail("measure.not-a-figure", cursor_.span(from_, behind.place),
              "this hyphen may join one figure or take two apart",
              fmt::format("write {0} {1} for one figure, {0} - {1} for a difference", left, right));
}

// Takes the rest of `e3` or `e-3`, of which the cursor has passed the letter.
bool LiteralReader::take_power_of_ten(std::string_view word) {
  const std::size_t sign = cursor_.peek() == '-' || cursor_.peek() == '+' ? 1 : 0;
  if ((word != "e" && word != "E") || !is_digit(cursor_.peek(sign))) return false;
  cursor_.place += sign;
  while (is_digit(cursor_.peek())) ++cursor_.place;
  return true;
}

bool LiteralReader::unit() {
  const std::size_t figure_end = cursor_.place;
  cursor_.skip_spaces();
  const std::size_t from = cursor_.place;
  auto found = take_mark(cursor_);
  if (!found && is_letter(cursor_.peek())) {
    while (is_letter(cursor_.peek())) ++cursor_.place;
    const std::string_view word = cursor_.since(from);
    found = unit_called(word);
    if (!found && from == figure_end && take_power_of_ten(word)) {
      return fail("a figure is not written with a power of ten here",
                  "write it in full: 1000 for 1e3, 0.001 for 1e-3");
    }
  }
  if (!found) {
    cursor_.place = figure_end;
    return true;
  }
  literal_.unit = *found;
  literal_.is_division = false;
  return true;
}

// `2' 6`, `2' 6 1/2"`, `2 ft 6 in`, and `2'-6"` where a hyphen joins: the whole becomes inches.
bool LiteralReader::inches_behind_feet() {
  Cursor ahead = cursor_;
  const bool has_hyphen = cursor_.peek() == '-';
  if (has_hyphen) {
    ++ahead.place;
  } else {
    ahead.skip_spaces();
  }
  if (!starts_figure(ahead)) return true;
  if (has_hyphen && !joins_at_hyphen()) return false;
  if (literal_.under != 1) {
    return fail("feet with a fraction cannot be followed by inches",
                "write whole feet and inches, such as 2' 6\"");
  }
  const Wide feet = literal_.over;
  cursor_.place = ahead.place;
  from_ = cursor_.place;
  literal_ = {};
  if (!figure() || !unit()) return false;
  if (literal_.unit != Unit::none && literal_.unit != Unit::inch) {
    return fail("measure.mixed-units", cursor_.span_since(from_),
                "feet are followed by inches only",
                "write the length in one unit, or in feet and inches");
  }
  if (feet > most_over / (12 * literal_.under) - 1) {
    return fail("too many digits in feet and inches", "write the length in one unit");
  }
  literal_.unit = Unit::inch;
  literal_.is_division = false;
  literal_.over += 12 * feet * literal_.under;
  return true;
}

bool LiteralReader::ends_here() {
  Cursor ahead = cursor_;
  ahead.skip_spaces();
  if (!starts_figure(ahead)) return true;
  while (is_digit(ahead.peek())) ++ahead.place;
  const Span at = cursor_.span(from_, std::max(ahead.place, cursor_.place));
  if (literal_.unit == Unit::none) {
    return fail("measure.not-a-figure", at, "two figures stand side by side",
                "write one figure, such as 29 11/16 or 29.11, with no blank between its digits");
  }
  return fail("measure.mixed-units", at, "another figure follows the unit",
              "write the unit last, and one unit only (feet and inches apart)");
}

std::size_t count_digits(std::string_view text) {
  return static_cast<std::size_t>(std::find_if_not(text.begin(), text.end(), is_digit) -
                                  text.begin());
}

// `200` or `200,000`: what may follow a thousands separator.
bool is_groups_of_three(std::string_view text) {
  while (count_digits(text) == 3 && text.substr(3).starts_with(',')) text.remove_prefix(4);
  return count_digits(text) == 3 && text.size() == 3;
}

}  // namespace

bool starts_figure(const Cursor& cursor) {
  return is_digit(cursor.peek()) || (cursor.peek() == '.' && is_digit(cursor.peek(1))) ||
         vulgar_at(cursor) != nullptr;
}

std::optional<Literal> read_literal(Cursor& cursor, Hyphen hyphen, Diagnostics& faults) {
  return LiteralReader(cursor, hyphen, faults).read();
}

std::optional<Diagnostic> comma_fault(const Cursor& cursor) {
  if (cursor.peek() != ',' || !is_digit(cursor.peek(1)) || cursor.place == 0) return std::nullopt;
  std::size_t from = cursor.place;
  while (from > 0 && is_digit(cursor.text[from - 1])) --from;
  if (from == cursor.place) return std::nullopt;
  std::size_t to = cursor.place;
  while (cursor.text.substr(to).starts_with(',') && count_digits(cursor.text.substr(to + 1)) > 0) {
    to += 1 + count_digits(cursor.text.substr(to + 1));
  }
  const std::string_view left = cursor.text.substr(from, cursor.place - from);
  const std::string_view right = cursor.text.substr(cursor.place + 1, to - cursor.place - 1);
  std::string hint = "write the figure with a point and no comma, such as 12.5";
  if (to - from <= 24 && is_groups_of_three(right) && left.size() <= 3) {
    std::string digits(right);
    std::erase(digits, ',');
    hint = fmt::format("write {}{}, with no comma", left, digits);
    if (right.size() == 3) hint += fmt::format(" (or {}.{} for a decimal)", left, right);
  } else if (to - from <= 24 && count_digits(right) == right.size()) {
    hint = fmt::format("write {}.{}", left, right);
  }
  return Diagnostic{.code = "measure.not-a-figure",
                    .at = cursor.span(from, to),
                    .message = "a figure is written with no comma",
                    .hint = std::move(hint)};
}

Ratio in_base_units(const Literal& literal) {
  const Ratio size = ratio_of(literal.unit);
  return {literal.over * size.over, literal.under * size.under};
}

double amount_of(const Literal& literal) {
  constexpr Wide exact_in_double = Wide(1) << 53;
  const Ratio r = in_base_units(literal);
  double amount = 0;
  if (r.under == 1 || (r.over < exact_in_double && r.under < exact_in_double)) {
    amount = static_cast<double>(r.over) / static_cast<double>(r.under);
  } else {
    const Wide rest = r.over % r.under;
    amount = static_cast<double>(r.over / r.under) +
             static_cast<double>(rest) / static_cast<double>(r.under);
  }
  return literal.unit == Unit::radian ? amount / std::numbers::pi : amount;
}

}  // namespace kw
