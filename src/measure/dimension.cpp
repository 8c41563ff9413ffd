#include "dimension.h"

#include <array>
#include <cmath>
#include <fmt/core.h>
#include <utility>

namespace kw {
namespace {

using Exponent = std::int8_t Dimension::*;
constexpr std::array<std::pair<Exponent, std::string_view>, 4> base_dimensions = {
    {{&Dimension::length, "length"},
     {&Dimension::mass, "mass"},
     {&Dimension::time, "time"},
     {&Dimension::angle, "angle"}}};

constexpr std::array<std::pair<Dimension, std::string_view>, 8> named_dimensions = {
    {{a_number, "a number"},
     {a_length, "a length"},
     {an_angle, "an angle"},
     {a_mass, "a mass"},
     {a_force, "a force"},
     {{.length = 2}, "an area"},
     {{.length = 3}, "a volume"},
     {{.length = -1, .mass = 1, .time = -2}, "a pressure"}}};

std::string hint_for(Dimension found, Dimension wanted) {
  if (found == a_number && wanted == an_angle) return "write the unit, such as 35 deg";
  if (found == a_number) return "give the number its unit, such as 12 in, 810 mm or 20 kg";
  if (wanted == a_number) return "divide by a quantity of its kind, such as 1 in or 1 deg";
  return {};
}

std::optional<Diagnostic> fault_unless(const Value& value, Dimension wanted, Span at) {
  if (value.dimension == wanted) return std::nullopt;
  return wrong_dimension(
      at,
      fmt::format("{} is wanted here, and this is {}", name_of(wanted), name_of(value.dimension)),
      value.dimension, wanted);
}

}  // namespace

std::optional<Dimension> combined(Dimension a, Dimension b, double power) {
  constexpr double most = 20;
  Dimension result;
  for (const auto& [exponent, name] : base_dimensions) {
    const double sum = a.*exponent + b.*exponent * power;
    if (!(std::abs(sum) <= most) || sum != std::trunc(sum)) return std::nullopt;
    result.*exponent = static_cast<std::int8_t>(sum);
  }
  return result;
}

double ticks_of_bare(double number, LengthUnit bare) {
  return number * static_cast<double>(bare == LengthUnit::inch ? Length::ticks_per_inch
                                                               : Length::ticks_per_mm);
}

Diagnostic wrong_dimension(Span at, std::string message, Dimension found, Dimension wanted) {
  return {.code = "measure.dimension",
          .at = at,
          .message = std::move(message),
          .hint = hint_for(found, wanted)};
}

std::string name_of(Dimension dimension) {
  for (const auto& [named, name] : named_dimensions) {
    if (named == dimension) return std::string(name);
  }
  std::string text;
  for (const auto& [exponent, name] : base_dimensions) {
    const int power = dimension.*exponent;
    if (power == 0) continue;
    if (!text.empty()) text += ' ';
    text += power == 1 ? std::string(name) : fmt::format("{}^{}", name, power);
  }
  return text;
}

Value value_of(Length length) {
  return {static_cast<double>(length.in_ticks()), a_length};
}
Value value_of(Angle angle) {
  return {angle.in_degrees(), an_angle};
}
Value value_of(double number) {
  return {number, a_number};
}

double in_si(const Value& value) {
  return value.amount / std::pow(ticks_per_metre, value.dimension.length);
}

Outcome<Length> to_length(const Value& value, LengthUnit bare, Span at) {
  constexpr double longest = 10'000 * ticks_per_metre;
  const bool is_bare = value.is_bare && value.dimension == a_number;
  if (!is_bare) {
    if (auto fault = fault_unless(value, a_length, at)) return *std::move(fault);
  }
  const double ticks = is_bare ? ticks_of_bare(value.amount, bare) : value.amount;
  if (std::abs(ticks) <= longest) return Length::ticks(std::llround(ticks));
  return Diagnostic{.code = "measure.too-long",
                    .at = at,
                    .message = "this length is over 10 km",
                    .hint = "check the figures and their units"};
}

Outcome<Angle> to_angle(const Value& value, Span at) {
  if (auto fault = fault_unless(value, an_angle, at)) return *std::move(fault);
  return Angle::degrees(value.amount);
}

Outcome<double> to_number(const Value& value, Span at) {
  if (auto fault = fault_unless(value, a_number, at)) return *std::move(fault);
  return value.amount;
}

}  // namespace kw
