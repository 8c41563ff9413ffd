// Formulas with units: `height * tan(lean) - leg.thickness / 2`.
//
// Grammar (loosest first): comparisons < <= > >= == != (one at a time); + -; * /; unary -; ^ (right
// to left; of a quantity, where it leaves whole dimensions); literals, names, calls, parentheses.
// Literals are numbers, mixed numbers (`29 11/16`), feet and inches (`3' 2 3/8"`), and any of these
// with a unit: in " ft ' mm cm m deg ° rad kg g lb oz N lbf. Names are letters, digits, `_`, dots,
// and hyphens between letters (`leg-a.length`); so a minus beside a name needs a space around it.
// Functions: min max abs round-to(x, step) round-up(x, step) round-down(x, step) sqrt sin cos tan
// asin acos atan atan2(y, x) hypot if(condition, a, b). `pi` is a constant. Angles go in and out as
// angles: sin(35 deg).
//
// What could be read two ways is refused, not guessed: `30-3/4` (write `30 3/4` or `30 - 3/4`),
// `3'-2`, and a bare `3/4` behind a / or beside a ^.
//
// A comparison is the number 1 or 0. Two lengths within half a tick of one another are equal, and
// other quantities within one part in 10^12; the rounding functions allow the same slack.
//
// Dimensions are checked: adding a length to an angle is an error with its place. A number made of
// bare literals alone takes the file's unit where a length is wanted: `height + 2` adds 2 in.
//
// Bounded: text of at most 1,000 bytes, 200 nodes, depth 40 (measure.formula-too-long, -too-deep).
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/angle.h"
#include "kerfwright/measure/length.h"

namespace kw {

// Exponents of the base dimensions.
struct Dimension {
  std::int8_t length = 0, mass = 0, time = 0, angle = 0;
  friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
};
inline constexpr Dimension a_number = {};
inline constexpr Dimension a_length = {.length = 1};
inline constexpr Dimension an_angle = {.angle = 1};
inline constexpr Dimension a_mass = {.mass = 1};
inline constexpr Dimension a_force = {.length = 1, .mass = 1, .time = -2};

// "a length", "an angle", "a number", "an area", "length^2 mass" ... for messages.
[[nodiscard]] std::string name_of(Dimension dimension);

// A computed value. Base units: length in ticks (so that sums of typed lengths stay exact in the
// 53 bits of a double, up to 450 km), angle in degrees, mass in kg, time in s.
// `is_bare`: made of bare literals alone, so that it may still become a length in the file's unit.
// So an area is in square ticks and 1 N is 2 * 10^10 kg tick/s^2: in_si() takes the ticks out.
struct Value {
  double amount = 0;
  Dimension dimension = {};
  bool is_bare = false;
};
[[nodiscard]] Value value_of(Length length);
[[nodiscard]] Value value_of(Angle angle);
[[nodiscard]] Value value_of(double number);

inline constexpr double ticks_per_metre = 1000.0 * static_cast<double>(Length::ticks_per_mm);
// The amount in metres, kilograms, seconds and degrees: N for a force, m^2 for an area.
[[nodiscard]] double in_si(const Value& value);

// A parsed formula: an immutable value, cheap to copy.
class Expression {
 public:
  struct Node;
  Expression() = default;
  explicit Expression(std::shared_ptr<const Node> root) : root_(std::move(root)) {}
  [[nodiscard]] const Node* root() const { return root_.get(); }
  [[nodiscard]] bool is_empty() const { return root_ == nullptr; }

 private:
  std::shared_ptr<const Node> root_ = {};
};

// Errors: measure.empty, measure.formula-syntax, measure.unknown-function,
// measure.formula-too-long, measure.formula-too-deep, and those of a figure: measure.not-a-figure,
// measure.zero-below, measure.too-long (over 12 digits), measure.mixed-units. Spans are byte
// offsets in `text` plus `at`. A figure is not rounded to a tick here, so measure.inexact is not
// among them.
[[nodiscard]] Outcome<Expression> parse_expression(std::string_view text, LengthUnit bare,
                                                   std::uint32_t at = 0);

// Each name the formula mentions, once, in order, with where it stands.
struct NameUse {
  std::string name = {};
  Span at = {};
};
[[nodiscard]] std::vector<NameUse> names_in(const Expression& expression);

// For the hint on an unknown name: `width-kerf` was perhaps meant as a difference. "width - kerf"
// when both sides of one hyphen are `known`, else "".
[[nodiscard]] std::string as_difference(std::string_view name,
                                        const std::vector<std::string>& known);

// What a name means: a value, or why not. Called once a mention, in order.
using Lookup = std::function<Outcome<Value>(std::string_view name, Span at)>;

// Errors: measure.dimension (with both dimensions named), measure.not-finite (division by zero,
// root of a negative number, out of range), those of `lookup`; measure.empty for an empty
// expression. All faults of a formula are gathered; those of an `if` branch not taken too, but for
// measure.not-finite. Warnings of `lookup` come with the value.
[[nodiscard]] Outcome<Value> evaluate(const Expression& expression, const Lookup& lookup,
                                      LengthUnit bare);

// The value as what is wanted, `at` being the formula's place: a bare number becomes a length in
// `bare`; a wrong dimension is measure.dimension; a length past 10 km is measure.too-long.
[[nodiscard]] Outcome<Length> to_length(const Value& value, LengthUnit bare, Span at);
[[nodiscard]] Outcome<Angle> to_angle(const Value& value, Span at);
[[nodiscard]] Outcome<double> to_number(const Value& value, Span at);

}  // namespace kw
