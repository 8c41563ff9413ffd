// Random formulas: any bytes are taken, and well-made trees give the value that this file works
// out.
#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <string>
#include <vector>

#include "kerfwright/measure/expression.h"

namespace kw {
namespace {

using Real = long double;

constexpr Real inch = Length::ticks_per_inch;
constexpr Real pi = 3.14159265358979323846264338328L;
constexpr Real rounding = 4e-16L;  // more than one operation in double loses

enum class Kind { number, length, angle };
enum Binds { as_sum = 1, as_product = 2, as_minus = 3, as_power = 4, as_operand = 5 };

// A formula, its value, and how far rounding may carry a computation in double from it.
struct Formula {
  std::string text = {};
  Real value = 0;
  Real spread = 0;
  Binds binds = as_operand;
};

Formula made(std::string text, Real value, Real spread, Binds binds = as_operand) {
  return {std::move(text), value, spread + std::abs(value) * rounding, binds};
}

// Of the whole range from the first case on.
int pick(int below) {
  return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(0, below));
}

// In brackets where the grammar needs them, and now and then where it does not.
std::string inside(const Formula& f, int least) {
  return f.binds < least || pick(8) == 0 ? "(" + f.text + ")" : f.text;
}

Formula bare_literal() {
  const int whole = pick(50), digit = 1 + pick(9);
  const std::string text = std::to_string(whole);
  if (pick(3) == 0) return made(text, whole, 0);
  if (pick(2) == 0) return made(text + "." + std::to_string(digit), whole + digit / 10.0L, 0);
  return made(text + " " + std::to_string(digit) + "/16", whole + digit / 16.0L, 0);
}

Formula leaf(Kind kind) {
  const int n = 1 + pick(80);
  if (kind == Kind::number) return pick(3) == 0 ? made("count", 7, 0) : bare_literal();
  if (kind == Kind::angle) {
    return pick(2) == 0 ? made("lean", 20, 0) : made(std::to_string(n) + " deg", n, 0);
  }
  if (pick(3) == 0) return made("leg-a.length", 30 * inch, 0);
  if (pick(2) == 0) return made("2' " + std::to_string(n) + " 1/2\"", (24.5L + n) * inch, 0);
  return made(std::to_string(n) + ".25 mm", (n + 0.25L) * 20e6L, 0);
}

Formula sum(const Formula& a, const Formula& b) {
  const bool adds = pick(2) == 0;
  return made(inside(a, as_sum) + (adds ? " + " : " - ") + inside(b, as_product),
              adds ? a.value + b.value : a.value - b.value, a.spread + b.spread, as_sum);
}

Formula product(const Formula& a, const Formula& b) {
  return made(inside(a, as_product) + " * " + inside(b, as_minus), a.value * b.value,
              std::abs(a.value) * b.spread + std::abs(b.value) * a.spread + a.spread * b.spread,
              as_product);
}

// Of `a` alone where the divisor is too near zero to judge.
Formula quotient(const Formula& a, const Formula& b, const Formula& otherwise) {
  const Real size = std::abs(b.value);
  if (size < 1e-6L || size < 1e3L * b.spread) return otherwise;
  const Real value = a.value / b.value;
  return made(inside(a, as_product) + " / " + inside(b, as_minus), value,
              1.01L * (a.spread + std::abs(value) * b.spread) / size, as_product);
}

Formula cube(const Formula& a) {
  return made(inside(a, as_operand) + " ^ 3", a.value * a.value * a.value,
              3.1L * (std::abs(a.value) + a.spread) * (std::abs(a.value) + a.spread) * a.spread +
                  3 * rounding * std::abs(a.value * a.value * a.value),
              as_power);
}

Formula extreme(const Formula& a, const Formula& b) {
  const bool least = pick(2) == 0;
  return made((least ? "min(" : "max(") + inside(a, 0) + ", " + inside(b, 0) + ")",
              least ? std::min(a.value, b.value) : std::max(a.value, b.value),
              std::max(a.spread, b.spread));
}

Formula hypotenuse(const Formula& a, const Formula& b) {
  const Real value = std::sqrt(a.value * a.value + b.value * b.value);
  return made("hypot(" + a.text + "," + b.text + ")", value, a.spread + b.spread);
}

// a or b, whichever the comparison of c and d says; a where that is too close to call.
Formula choice(const Formula& a, const Formula& b, const Formula& c, const Formula& d) {
  const Real gap = c.value - d.value;
  if (std::abs(gap) < c.spread + d.spread + 1 + 1e-9L * std::abs(c.value)) return a;
  return made(
      "if(" + inside(c, as_sum) + " < " + inside(d, as_sum) + ", " + a.text + ", " + b.text + ")",
      gap < 0 ? a.value : b.value, std::max(a.spread, b.spread));
}

Formula sine(const Formula& a) {
  return made("sin(" + a.text + ")", std::sin(a.value * pi / 180), a.spread * pi / 180 + 4e-16L);
}

Formula arc(const Formula& a) {
  return made("atan(" + a.text + ")", std::atan(a.value) * 180 / pi, a.spread * 180 / pi);
}

Formula any(Kind kind, int depth);

// What only a number, a length or an angle can be made of.
Formula own(Kind kind, int depth) {
  const auto part = [depth](Kind k) { return any(k, depth - 1); };
  switch (kind) {
    case Kind::number:
      if (pick(3) == 0) return sine(part(Kind::angle));
      if (pick(2) == 0) return cube(part(Kind::number));
      return quotient(part(Kind::length), part(Kind::length), part(Kind::number));
    case Kind::length:
      if (pick(2) == 0) return hypotenuse(part(Kind::length), part(Kind::length));
      {
        const Formula bare = bare_literal();
        return sum(part(Kind::length), made(bare.text, bare.value * inch, 0, bare.binds));
      }
    case Kind::angle:
      return arc(part(Kind::number));
  }
  return leaf(kind);
}

Formula any(Kind kind, int depth) {
  if (depth == 0) return leaf(kind);
  const auto part = [depth](Kind k) { return any(k, depth - 1); };
  switch (pick(8)) {
    case 0:
      return leaf(kind);
    case 1:
      return product(part(kind), part(Kind::number));
    case 2:
      return quotient(part(kind), part(Kind::number), part(kind));
    case 3:
      return extreme(part(kind), part(kind));
    case 4:
      return choice(part(kind), part(kind), part(Kind::length), part(Kind::length));
    case 5: {
      const Formula a = part(kind);
      return made("-" + inside(a, as_minus), -a.value, a.spread, as_minus);
    }
    case 6:
      return own(kind, depth);
    default:
      return sum(part(kind), part(kind));
  }
}

Outcome<Value> looked_up(std::string_view name, Span at) {
  if (name == "count") return value_of(7.0);
  if (name == "lean") return value_of(Angle::degrees(20));
  if (name == "leg-a.length") return value_of(Length::inches(30));
  return Diagnostic{.code = "test.unknown-name", .at = at};
}

Dimension dimension_of(Kind kind) {
  if (kind == Kind::number) return a_number;
  return kind == Kind::length ? a_length : an_angle;
}

bool is_too_big(std::string_view code) {
  return code == "measure.formula-too-long" || code == "measure.formula-too-deep";
}

RC_GTEST_PROP(EvaluateProperty, AgreesWithTheTreeThatMadeTheFormula, ()) {
  const Kind kind = static_cast<Kind>(pick(3));
  const Formula f = any(kind, 1 + pick(5));
  const auto expression = parse_expression(f.text, LengthUnit::inch);
  RC_LOG() << f.text << '\n';
  if (!expression) {
    RC_ASSERT(is_too_big(expression.diagnostics().front().code));
    RC_DISCARD("too big");
  }
  const auto value = evaluate(*expression, looked_up, LengthUnit::inch);
  RC_ASSERT(static_cast<bool>(value));
  RC_ASSERT(value->dimension == dimension_of(kind));
  RC_ASSERT(std::abs(value->amount - f.value) <= 2 * f.spread);
}

RC_GTEST_PROP(EvaluateProperty, RefusesToJoinUnlikeQuantities, ()) {
  const Kind left = static_cast<Kind>(pick(3));
  const Kind right = static_cast<Kind>((static_cast<int>(left) + 1 + pick(2)) % 3);
  const Formula a = any(left, pick(3)), b = any(right, pick(3));
  const char* joint = *rc::gen::element("+", "-", "<", "==");
  const auto expression =
      parse_expression("(" + a.text + ")" + joint + "(" + b.text + ")", LengthUnit::inch);
  RC_PRE(static_cast<bool>(expression));
  const auto value = evaluate(*expression, looked_up, LengthUnit::inch);
  const bool has_bare = (left == Kind::number && right == Kind::length) ||
                        (left == Kind::length && right == Kind::number);
  if (has_bare && value) return;  // a bare number became a length
  RC_ASSERT(!value);
  RC_ASSERT(value.diagnostics().front().code == "measure.dimension");
}

RC_GTEST_PROP(EvaluateProperty, RoundsAsLengthsDo, ()) {
  const auto ticks = *rc::gen::inRange<std::int64_t>(-1'000'000'000'000, 1'000'000'000'000);
  const auto step = *rc::gen::inRange<std::int64_t>(2, 1'000'000'000);
  const auto lookup = [&](std::string_view name, Span) -> Outcome<Value> {
    return value_of(Length::ticks(name == "x" ? ticks : step));
  };
  const auto rounded = [&](std::string_view text) {
    return evaluate(*parse_expression(text, LengthUnit::mm), lookup, LengthUnit::mm)->amount;
  };
  const auto expected = [&](Rounding how) {
    return static_cast<double>(round_to(Length::ticks(ticks), Length::ticks(step), how).in_ticks());
  };
  RC_ASSERT(rounded("round-to(x, step)") == expected(Rounding::nearest));
  RC_ASSERT(rounded("round-up(x, step)") == expected(Rounding::up));
  RC_ASSERT(rounded("round-down(x, step)") == expected(Rounding::down));
}

// What formulas are written with, and a few bytes that they are not.
std::string piece() {
  constexpr std::string_view words[] = {"2",
                                        "9/16",
                                        "/",
                                        " ",
                                        "'",
                                        "\"",
                                        ".",
                                        ",",
                                        "-",
                                        " mm",
                                        " deg",
                                        "(",
                                        ")",
                                        "min(",
                                        "if(",
                                        "<",
                                        "==",
                                        "^",
                                        "*",
                                        "+",
                                        "lean",
                                        "count",
                                        "leg-a.length",
                                        "\u00BD",
                                        "\u2044",
                                        "\u2032",
                                        "\xC2",
                                        "1e3",
                                        "round-to(",
                                        " kg",
                                        "\x01"};
  return std::string(words[static_cast<std::size_t>(pick(static_cast<int>(std::size(words))))]);
}

RC_GTEST_PROP(ParseExpressionProperty, TakesAnyBytes, (const std::string& any_bytes)) {
  std::string text = any_bytes.substr(0, any_bytes.size() / 8);
  for (int i = pick(30); i > 0; --i) text += piece();
  const auto expression = parse_expression(text, LengthUnit::mm, 9);
  Diagnostics faults = expression.diagnostics();
  RC_ASSERT(static_cast<bool>(expression) == faults.empty());
  if (expression) {
    const auto value = evaluate(*expression, looked_up, LengthUnit::mm);
    if (value) RC_ASSERT(std::isfinite(value->amount));
    faults = value.diagnostics();
  }
  for (const Diagnostic& d : faults) {
    RC_ASSERT(9 <= d.at.begin);
    RC_ASSERT(d.at.begin <= d.at.end);
    RC_ASSERT(d.at.end <= 9 + text.size());
  }
}

}  // namespace
}  // namespace kw
