#include "cursor.h"

#include <algorithm>
#include <array>
#include <fmt/core.h>

namespace kw {
namespace {

// Unicode general category Zs (UnicodeData.txt), the ASCII blank apart.
constexpr std::array<std::string_view, 15> wide_spaces = {
    "\u00A0", "\u2000", "\u2001", "\u2002", "\u2003", "\u2004", "\u2005", "\u2006",
    "\u2007", "\u2008", "\u2009", "\u200A", "\u202F", "\u205F", "\u3000"};

bool is_ascii(char c) {
  return static_cast<unsigned char>(c) < 0x80U;
}
bool is_blank(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
bool continues_code_point(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

}  // namespace

void Cursor::skip_spaces() {
  while (!at_end()) {
    if (is_blank(peek())) {
      ++place;
    } else if (is_ascii(peek()) ||
               std::none_of(wide_spaces.begin(), wide_spaces.end(),
                            [this](std::string_view space) { return take(space); })) {
      return;
    }
  }
}

Span Cursor::span_here() const {
  std::size_t end = std::min(place + 1, text.size());
  while (end < text.size() && end < place + 4 && continues_code_point(text[end])) ++end;
  return span(place, end);
}

std::string quoted(std::string_view text, std::string_view otherwise) {
  constexpr std::size_t most = 40;
  const bool is_plain =
      std::all_of(text.begin(), text.end(), [](char c) { return c >= ' ' && c <= '~'; });
  if (text.empty() || text.size() > most || !is_plain) return std::string(otherwise);
  return fmt::format("`{}`", text);
}

}  // namespace kw
