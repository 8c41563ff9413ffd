// Any text, with a place anywhere in it or past its end, is shown without harm to a terminal.
#include <algorithm>
#include <cstdint>
#include <string>

#include "kerfwright/diag/diagnostic.h"

#include "require.h"

namespace {

bool is_control(char c) {
  return (static_cast<unsigned char>(c) < 0x20U && c != '\n') || c == '\x7F';
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using kw::fuzz::require;
  if (count < 2) return 0;
  const std::uint32_t begin = bytes[0];
  const std::uint32_t end = begin + bytes[1];
  const kw::Text text{"a.toml", std::string(bytes + 2, bytes + count)};
  const kw::Diagnostic fault{.code = "fuzz.any", .at = {begin, end}, .message = text.content};

  const kw::Position where = kw::position_of(text, begin);
  require(where.line >= 1 && where.column >= 1);
  require(where.line <= 1U + std::count(text.content.begin(), text.content.end(), '\n'));

  const std::string shown = kw::render(text, fault);
  require(shown.starts_with("a.toml:"));
  require(std::none_of(shown.begin(), shown.end(), is_control));
  return 0;
}
