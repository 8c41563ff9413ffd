// A value that is not finite is reported once, where it arises, and goes on as not-a-number with
// its dimension, so that the dimensions of the rest are still checked. An unknown value is
// std::nullopt.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/core.h>
#include <limits>
#include <span>
#include <utility>

#include "dimension.h"
#include "node.h"

namespace kw {
namespace {

using Node = Expression::Node;
using Result = std::optional<Value>;
using Values = std::span<Value>;

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

bool is_finite(const Value& value) {
  return std::isfinite(value.amount);
}
bool is_bare(const Value& value) {
  return value.is_bare;
}
bool are_finite(Values values) {
  return std::all_of(values.begin(), values.end(), is_finite);
}
bool are_bare(Values values) {
  return std::all_of(values.begin(), values.end(), is_bare);
}

Value with_amount(Value value, double amount) {
  value.amount = amount;
  return value;
}

// How far apart two amounts may be and yet be the same.
double slack_of(Dimension dimension, double a, double b) {
  return dimension == a_length ? 0.5 : 1e-12 * std::max(std::abs(a), std::abs(b));
}

bool compare(Step step, Dimension dimension, double a, double b) {
  const bool is_equal = std::abs(a - b) <= slack_of(dimension, a, b);
  switch (step) {
    case Step::less:
      return !is_equal && a < b;
    case Step::less_or_equal:
      return is_equal || a < b;
    case Step::greater:
      return !is_equal && a > b;
    case Step::greater_or_equal:
      return is_equal || a > b;
    case Step::equal:
      return is_equal;
    default:
      return !is_equal;
  }
}

double rounded(Function how, Dimension dimension, double amount, double step) {
  const double steps = amount / step;
  const double nearest = std::round(steps) * step;
  if (how == Function::round_to) return nearest;
  if (std::abs(amount - nearest) <= slack_of(dimension, amount, nearest)) return nearest;
  return (how == Function::round_up ? std::ceil(steps) : std::floor(steps)) * step;
}

double hypotenuse(Values values) {
  double sum = 0;
  for (const Value& v : values) sum = std::hypot(sum, v.amount);
  return sum;
}

const Value& extreme_of(Function function, Values values) {
  const auto is_less = [](const Value& a, const Value& b) { return a.amount < b.amount; };
  return function == Function::min ? *std::min_element(values.begin(), values.end(), is_less)
                                   : *std::max_element(values.begin(), values.end(), is_less);
}

// "cannot add an angle to a length".
std::string clash(const Node& node, Dimension first, Dimension other) {
  const std::string a = name_of(first), b = name_of(other);
  if (node.step == Step::add) return fmt::format("cannot add {} to {}", b, a);
  if (node.step == Step::subtract) return fmt::format("cannot subtract {} from {}", b, a);
  if (node.step == Step::call)
    return fmt::format("{} takes like with like, not {} and {}", node.name, a, b);
  return fmt::format("cannot compare {} with {}", a, b);
}

class Evaluation {
 public:
  Evaluation(const Lookup& lookup, LengthUnit bare) : lookup_(lookup), bare_(bare) {}
  Result of(const Node& node);
  Diagnostics faults = {};

 private:
  Result name(const Node& node);
  Result choice(const Node& node);
  Result branch(const Node& node, bool is_taken);
  Result applied(const Node& node, Values v);
  Result product(const Node& node, Values v);
  Result power(const Node& node, Values v);
  Result called(const Node& node, Values v);
  Result root(const Node& node, const Value& v);
  Result circular(const Node& node, const Value& v);
  Result arc(const Node& node, const Value& v);
  Result rounding(const Node& node, Values v);
  Result direction(const Node& node, Values v);
  bool are_alike(const Node& node, Values v, std::span<const Node> inputs);
  bool is(Dimension wanted, const Value& value, Span at, std::string_view what);
  Value undefined(Span at, Dimension dimension, std::string message, std::string hint);

  const Lookup& lookup_;
  LengthUnit bare_;
  bool is_taken_ = true;  // false where a value that is not finite does not matter
};

Value Evaluation::undefined(Span at, Dimension dimension, std::string message, std::string hint) {
  if (is_taken_) {
    faults.push_back({.code = "measure.not-finite",
                      .at = at,
                      .message = std::move(message),
                      .hint = std::move(hint)});
  }
  return {not_a_number, dimension};
}

bool Evaluation::is(Dimension wanted, const Value& value, Span at, std::string_view what) {
  if (value.dimension == wanted) return true;
  faults.push_back(wrong_dimension(
      at, fmt::format("{} is {}, not {}", what, name_of(wanted), name_of(value.dimension)),
      value.dimension, wanted));
  return false;
}

// Brings values that must be of one dimension to it: a bare number beside a length becomes a
// length.
bool Evaluation::are_alike(const Node& node, Values v, std::span<const Node> inputs) {
  const auto is_plain = [](const Value& value) {
    return value.is_bare && value.dimension == a_number;
  };
  const auto settles = std::find_if_not(v.begin(), v.end(), is_plain);
  if (settles == v.end()) return true;
  const Dimension wanted = settles->dimension;
  for (std::size_t i = 0; i < v.size(); ++i) {
    if (v[i].dimension == wanted) continue;
    if (is_plain(v[i]) && wanted == a_length) {
      v[i] = {ticks_of_bare(v[i].amount, bare_), a_length};
      continue;
    }
    const auto first = static_cast<std::size_t>(settles - v.begin());
    const std::size_t left = std::min(first, i), right = std::max(first, i);
    const Dimension a = v[left].dimension, b = v[right].dimension;
    Diagnostic fault =
        wrong_dimension(node.at, clash(node, a, b), b == a_number ? b : a, b == a_number ? a : b);
    fault.notes = {{inputs[left].at, fmt::format("this is {}", name_of(a))},
                   {inputs[right].at, fmt::format("this is {}", name_of(b))}};
    faults.push_back(std::move(fault));
    return false;
  }
  return true;
}

Result Evaluation::of(const Node& node) {
  if (node.step == Step::literal) return node.value;
  if (node.step == Step::name) return name(node);
  if (node.step == Step::call && node.function == Function::choose) return choice(node);
  std::vector<Value> v;
  v.reserve(node.inputs.size());
  for (const Node& input : node.inputs) {
    if (const Result value = of(input)) v.push_back(*value);
  }
  if (v.size() < node.inputs.size()) return std::nullopt;
  const bool was_taken = is_taken_;
  const bool have_amounts = are_finite(v);
  is_taken_ = is_taken_ && have_amounts;
  Result result = applied(node, v);
  if (result && std::isinf(result->amount)) {
    *result =
        undefined(node.at, result->dimension, "this is too great to compute", "check the figures");
  }
  is_taken_ = was_taken;
  if (result && !have_amounts) result->amount = not_a_number;
  return result;
}

Result Evaluation::name(const Node& node) {
  KW_ASSERT(lookup_);
  const Result value = keep(lookup_(node.name, node.name_at), faults);
  if (!value || is_finite(*value)) return value;
  return undefined(node.name_at, value->dimension, fmt::format("{} has no finite value", node.name),
                   {});
}

Result Evaluation::branch(const Node& node, bool is_taken) {
  const bool was_taken = std::exchange(is_taken_, is_taken_ && is_taken);
  const Result value = of(node);
  is_taken_ = was_taken;
  return value;
}

Result Evaluation::choice(const Node& node) {
  const Result condition = of(node.inputs[0]);
  const bool is_known = condition && is_finite(*condition);
  const bool is_first = is_known && condition->amount != 0;
  const Result a = branch(node.inputs[1], is_known && is_first);
  const Result b = branch(node.inputs[2], is_known && !is_first);
  if (condition && !is(a_number, *condition, node.inputs[0].at, "the condition of if")) {
    faults.back().hint = "compare it with something, such as height > 24 in";
    return std::nullopt;
  }
  if (!condition || !a || !b) return std::nullopt;
  std::array<Value, 2> v = {*a, *b};
  if (!are_alike(node, v, std::span(node.inputs).subspan(1))) return std::nullopt;
  const double amount = is_first ? v[0].amount : v[1].amount;
  return Value{is_known ? amount : not_a_number, v[0].dimension, are_bare(v)};
}

Result Evaluation::applied(const Node& node, Values v) {
  switch (node.step) {
    case Step::minus:
      return with_amount(v[0], -v[0].amount);
    case Step::multiply:
    case Step::divide:
      return product(node, v);
    case Step::power:
      return power(node, v);
    case Step::call:
      return called(node, v);
    default:
      break;
  }
  if (!are_alike(node, v, node.inputs)) return std::nullopt;
  const double a = v[0].amount, b = v[1].amount;
  const Value like = {0, v[0].dimension, are_bare(v)};
  if (node.step == Step::add) return with_amount(like, a + b);
  if (node.step == Step::subtract) return with_amount(like, a - b);
  return value_of(compare(node.step, like.dimension, a, b) ? 1.0 : 0.0);
}

Result Evaluation::product(const Node& node, Values v) {
  const bool divides = node.step == Step::divide;
  const auto dimension = combined(v[0].dimension, v[1].dimension, divides ? -1 : 1);
  if (!dimension) {
    faults.push_back(wrong_dimension(node.at,
                                     fmt::format("{} and {} are not multiplied or divided further",
                                                 name_of(v[0].dimension), name_of(v[1].dimension)),
                                     v[0].dimension, v[1].dimension));
    return std::nullopt;
  }
  if (divides && v[1].amount == 0) {
    return undefined(node.inputs[1].at, *dimension, "division by zero: this is 0",
                     "guard it with if(..., ..., ...), or change the figures");
  }
  const double amount = divides ? v[0].amount / v[1].amount : v[0].amount * v[1].amount;
  return Value{amount, *dimension, are_bare(v)};
}

Result Evaluation::power(const Node& node, Values v) {
  if (!is(a_number, v[1], node.inputs[1].at, "an exponent")) return std::nullopt;
  const double exponent = v[1].amount;
  const bool is_number = v[0].dimension == a_number;
  const auto dimension = is_number ? a_number : combined({}, v[0].dimension, exponent);
  if (!dimension) {
    faults.push_back(wrong_dimension(
        node.at, fmt::format("{} to this power is no quantity", name_of(v[0].dimension)),
        v[0].dimension, v[0].dimension));
    return std::nullopt;
  }
  const double amount = std::pow(v[0].amount, exponent);
  if (std::isfinite(amount)) return Value{amount, *dimension, are_bare(v)};
  return undefined(node.at, *dimension, "this power has no finite value",
                   "a negative number has whole powers only, and zero no negative ones");
}

Result Evaluation::called(const Node& node, Values v) {
  switch (node.function) {
    case Function::abs:
      return with_amount(v[0], std::abs(v[0].amount));
    case Function::sqrt:
      return root(node, v[0]);
    case Function::sin:
    case Function::cos:
    case Function::tan:
      return circular(node, v[0]);
    case Function::asin:
    case Function::acos:
    case Function::atan:
      return arc(node, v[0]);
    default:
      break;
  }
  if (!are_alike(node, v, node.inputs)) return std::nullopt;
  const Value like = {0, v[0].dimension, are_bare(v)};
  switch (node.function) {
    case Function::min:
    case Function::max:
      return with_amount(like, extreme_of(node.function, v).amount);
    case Function::hypot:
      return with_amount(like, hypotenuse(v));
    case Function::atan2:
      return direction(node, v);
    default:
      return rounding(node, v);
  }
}

Result Evaluation::root(const Node& node, const Value& v) {
  const auto dimension = combined({}, v.dimension, 0.5);
  if (!dimension) {
    faults.push_back(wrong_dimension(node.at,
                                     fmt::format("{} has no square root", name_of(v.dimension)),
                                     v.dimension, v.dimension));
    return std::nullopt;
  }
  if (v.amount < 0) {
    return undefined(node.inputs[0].at, *dimension, "the root of a negative value",
                     "check the figures, or take abs(...) of it");
  }
  return Value{std::sqrt(v.amount), *dimension, v.is_bare};
}

Result Evaluation::circular(const Node& node, const Value& v) {
  if (!is(an_angle, v, node.inputs[0].at, fmt::format("what {} takes", node.name))) return {};
  const Angle angle = Angle::degrees(v.amount);
  if (node.function == Function::sin) return value_of(sine_of(angle));
  if (node.function == Function::cos) return value_of(cosine_of(angle));
  const double tangent = tangent_of(angle);
  if (!std::isinf(tangent)) return value_of(tangent);
  return undefined(node.at, a_number, "the tangent of a right angle is infinite",
                   "keep the angle away from 90 deg");
}

Result Evaluation::arc(const Node& node, const Value& v) {
  if (!is(a_number, v, node.inputs[0].at, fmt::format("what {} takes", node.name))) return {};
  if (node.function == Function::atan) return value_of(Angle::radians(std::atan(v.amount)));
  if (std::abs(v.amount) > 1 + 1e-12) {
    return undefined(node.inputs[0].at, an_angle, "no angle has this ratio: it is beyond 1",
                     "check which side is the longer one");
  }
  const double ratio = std::clamp(v.amount, -1.0, 1.0);
  const double radians = node.function == Function::asin ? std::asin(ratio) : std::acos(ratio);
  return value_of(Angle::radians(radians));
}

Result Evaluation::direction(const Node& node, Values v) {
  if (v[0].amount == 0 && v[1].amount == 0) {
    return undefined(node.at, an_angle, "atan2(0, 0) is no direction", "check the figures");
  }
  return value_of(Angle::radians(std::atan2(v[0].amount, v[1].amount)));
}

Result Evaluation::rounding(const Node& node, Values v) {
  const Value like = {0, v[0].dimension, are_bare(v)};
  if (!(v[1].amount > 0)) {
    return undefined(node.inputs[1].at, like.dimension, "the step to round to is not above zero",
                     "write a step such as 1/16");
  }
  return with_amount(like, rounded(node.function, like.dimension, v[0].amount, v[1].amount));
}

}  // namespace

Outcome<Value> evaluate(const Expression& expression, const Lookup& lookup, LengthUnit bare) {
  if (expression.is_empty()) {
    return Diagnostic{.code = "measure.empty", .message = "the formula is missing"};
  }
  Evaluation evaluation(lookup, bare);
  const Result value = evaluation.of(*expression.root());
  if (!value || has_errors(evaluation.faults)) return std::move(evaluation.faults);
  return {*value, std::move(evaluation.faults)};
}

}  // namespace kw
