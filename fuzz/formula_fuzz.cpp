// Any text is a formula or a fault; any formula has a finite value or a fault, with places in the
// text.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "kerfwright/measure/expression.h"

#include "require.h"

namespace {

using kw::fuzz::require;
using kw::fuzz::require_places;

// Every kind of value, by the first letter of the name; none for the last letters.
kw::Outcome<kw::Value> looked_up(std::string_view name, kw::Span at) {
  if (name[0] < 'g') return kw::value_of(kw::Length::inches(29.6875));
  if (name[0] < 'm') return kw::value_of(kw::Angle::degrees(35));
  if (name[0] < 's') return kw::value_of(4.0);
  if (name[0] < 'w') return kw::Value{3.0, kw::a_number, true};
  return kw::Diagnostic{.code = "fuzz.unknown-name", .at = at, .message = "unknown"};
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), count);
  const auto expression = kw::parse_expression(text, kw::LengthUnit::inch);
  require_places(expression.diagnostics(), count);
  require(static_cast<bool>(expression) != kw::has_errors(expression.diagnostics()));
  if (!expression) return 0;
  for (const kw::NameUse& use : kw::names_in(*expression)) {
    require(text.substr(use.at.begin, use.at.end - use.at.begin) == use.name);
  }
  const auto value = kw::evaluate(*expression, looked_up, kw::LengthUnit::inch);
  require_places(value.diagnostics(), count);
  require(static_cast<bool>(value) != kw::has_errors(value.diagnostics()));
  if (!value) return 0;
  require(std::isfinite(value->amount) && !kw::name_of(value->dimension).empty());
  const auto length = kw::to_length(*value, kw::LengthUnit::inch, {0, 0});
  require(static_cast<bool>(length) != kw::has_errors(length.diagnostics()));
  return 0;
}
