// Formulas with units: `height * tan(lean) - leg.thickness / 2`.
//
// Grammar (loosest first): `if(condition, a, b)` is a function; comparisons < <= > >= == !=; + -; * /;
// unary -; ^ (right to left, whole or half exponents); literals, names, calls, parentheses.
// Literals are numbers, mixed numbers (`29 11/16`), feet and inches (`3' 2 3/8"`), and any of these
// with a unit: in " ft ' mm cm m deg ° rad kg g lb oz N lbf. Names are letters, digits, `_`, dots,
// and hyphens between letters (`leg-a.length`); so a minus beside a name needs a space around it.
// Functions: min max abs round-to(x, step) round-up(x, step) round-down(x, step) sqrt sin cos tan
// asin acos atan atan2 hypot if. `pi` is a constant.
//
// Dimensions are checked: adding a length to an angle is an error with its place. A number made of
// bare literals alone takes the file's unit where a length is wanted (`height + 2` is height + 2 in).
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
struct Value {
  double amount = 0;
  Dimension dimension = {};
  bool is_bare = false;
};
[[nodiscard]] Value value_of(Length length);
[[nodiscard]] Value value_of(Angle angle);
[[nodiscard]] Value value_of(double number);

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

// Errors: measure.formula-syntax, measure.unknown-function, measure.formula-too-long,
// measure.formula-too-deep, and those of parse_length. Spans are byte offsets in `text` plus `at`.
[[nodiscard]] Outcome<Expression> parse_expression(std::string_view text, LengthUnit bare,
                                                   std::uint32_t at = 0);

// Each name the formula mentions, once, in order, with where it stands.
struct NameUse {
  std::string name = {};
  Span at = {};
};
[[nodiscard]] std::vector<NameUse> names_in(const Expression& expression);

// What a name means: a value, or why not. Called once a mention, in order.
using Lookup = std::function<Outcome<Value>(std::string_view name, Span at)>;

// Errors: measure.dimension (with both dimensions named), measure.not-finite (division by zero, root
// of a negative number, out of range), those of `lookup`. All faults of a formula are gathered.
[[nodiscard]] Outcome<Value> evaluate(const Expression& expression, const Lookup& lookup,
                                      LengthUnit bare);

// The value as what is wanted, `at` being the formula's place: a bare number becomes a length in
// `bare`; a wrong dimension is measure.dimension; a length past 10 km is measure.too-long.
[[nodiscard]] Outcome<Length> to_length(const Value& value, LengthUnit bare, Span at);
[[nodiscard]] Outcome<Angle> to_angle(const Value& value, Span at);
[[nodiscard]] Outcome<double> to_number(const Value& value, Span at);

}  // namespace kw
