// Private to solid: the characters of a text, for the files that it writes.
#pragma once

#include <cstdint>
#include <string_view>

namespace kw {

inline constexpr char32_t no_character = 0xFFFFFFFF;

// The character of UTF-8 that begins at `at`, which moves past it; no_character for a byte that
// begins none (also the longer forms and surrogates that Unicode forbids).
inline char32_t next_character(std::string_view text, std::size_t& at) {
  const auto byte = static_cast<unsigned char>(text[at++]);
  if (byte < 0x80) return byte;
  const int more = byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : 1;
  if (byte < 0xC2 || byte > 0xF4 || at + static_cast<std::size_t>(more) > text.size())
    return no_character;
  char32_t character = byte & (0x3Fu >> more);
  for (int i = 0; i < more; ++i) {
    const auto next = static_cast<unsigned char>(text[at + static_cast<std::size_t>(i)]);
    if ((next & 0xC0u) != 0x80) return no_character;
    character = (character << 6) | (next & 0x3Fu);
  }
  constexpr char32_t least[] = {0, 0x80, 0x800, 0x10000};
  if (character < least[more] || character > 0x10FFFF ||
      (character >= 0xD800 && character < 0xE000))
    return no_character;
  at += static_cast<std::size_t>(more);
  return character;
}

}  // namespace kw
