// A place in a text that is being read, and the characters that people write in more than one way.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "kerfwright/diag/diagnostic.h"

namespace kw {

[[nodiscard]] constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
[[nodiscard]] constexpr bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

struct Cursor {
  std::string_view text = {};
  std::uint32_t at = 0;  // where the text stands in its file
  std::size_t place = 0;

  [[nodiscard]] bool at_end() const { return place >= text.size(); }
  // The byte here, or further on; zero past the end.
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return place + ahead < text.size() ? text[place + ahead] : '\0';
  }
  [[nodiscard]] std::string_view rest() const { return text.substr(place); }
  [[nodiscard]] std::string_view since(std::size_t from) const {
    return text.substr(from, place - from);
  }
  [[nodiscard]] Span span(std::size_t from, std::size_t to) const {
    return {at + static_cast<std::uint32_t>(from), at + static_cast<std::uint32_t>(to)};
  }
  [[nodiscard]] Span span_since(std::size_t from) const { return span(from, place); }

  bool take(std::string_view word) {
    if (!rest().starts_with(word)) return false;
    place += word.size();
    return true;
  }
  // Blanks, no-break and thin spaces.
  void skip_spaces();
  // A hyphen or the minus sign U+2212.
  bool take_minus() { return take("-") || take("\u2212"); }
  // The whole code point here, so that a caret never points into the middle of one.
  [[nodiscard]] Span span_here() const;
};

// `text` in back-quotes where it is short plain ASCII; else `otherwise` (a message stays valid
// UTF-8).
[[nodiscard]] std::string quoted(std::string_view text, std::string_view otherwise);

}  // namespace kw
