// Any text is a length or a fault with its place in the text; a length survives printing.
#include <cstdint>
#include <string_view>

#include "kerfwright/measure/text.h"

#include "require.h"

namespace {

using kw::fuzz::require;

void require_places(const kw::Diagnostics& faults, std::uint32_t at, std::size_t size) {
  for (const kw::Diagnostic& d : faults) {
    require(!d.code.empty() && !d.message.empty());
    require(at <= d.at.begin && d.at.begin <= d.at.end && d.at.end <= at + size);
  }
}

// An exact text of any length: a tick is 5 * 10^-8 mm.
void require_survives_printing(kw::Length length) {
  const auto text = kw::format_length(length, {.unit = kw::LengthUnit::mm, .decimals = 8});
  const auto again = kw::parse_length(text, kw::LengthUnit::inch);
  require(again && *again == length && again.diagnostics().empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), count);
  for (const auto bare : {kw::LengthUnit::inch, kw::LengthUnit::mm}) {
    const auto length = kw::parse_length(text, bare, 40);
    require(static_cast<bool>(length) != kw::has_errors(length.diagnostics()));
    require_places(length.diagnostics(), 40, count);
    if (length) require_survives_printing(*length);
  }
  const auto angle = kw::parse_angle(text, 40);
  require(static_cast<bool>(angle) != kw::has_errors(angle.diagnostics()));
  require_places(angle.diagnostics(), 40, count);
  return 0;
}
