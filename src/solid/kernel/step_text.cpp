#include "kernel/step_text.h"

#include <cstdint>
#include <cstdio>
#include <string>

namespace kw::kernel {
namespace {

const std::string opening = "kw-word-";
constexpr std::size_t digit_count = 8;
constexpr char32_t no_character = 0xFFFFFFFF;

// The character that begins at `at`, which moves past it; no_character for what is no UTF-8.
char32_t next_character(std::string_view text, std::size_t& at) {
  const auto byte = static_cast<unsigned char>(text[at++]);
  if (byte < 0x80) return byte;
  const int more = byte >= 0xF0 ? 3 : byte >= 0xE0 ? 2 : 1;
  if (byte < 0xC2 || byte > 0xF4) return no_character;
  char32_t character = byte & (0x3Fu >> more);
  for (int i = 0; i < more; ++i) {
    if (at >= text.size() || (static_cast<unsigned char>(text[at]) & 0xC0u) != 0x80)
      return no_character;
    character = (character << 6) | (static_cast<unsigned char>(text[at++]) & 0x3Fu);
  }
  return character;
}

std::string as_directive(char32_t character) {
  char hex[24] = {};
  const auto value = static_cast<unsigned>(character);
  if (value < 0x10000)
    std::snprintf(hex, sizeof hex, "\\X2\\%04X\\X0\\", value);
  else
    std::snprintf(hex, sizeof hex, "\\X4\\%08X\\X0\\", value);
  return hex;
}

}  // namespace

std::string to_step_text(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const char32_t character = next_character(text, at);
    if (character == no_character)
      out += '?';
    else if (character < 0x20 || character == 0x7F)
      out += ' ';
    else if (character < 0x7F)
      out.append(character == '\'' || character == '\\' ? 2 : 1, static_cast<char>(character));
    else
      out += as_directive(character);
  }
  return out;
}

std::string StepWords::token_for(std::string_view word) {
  char digits[16] = {};
  std::snprintf(digits, sizeof digits, "%08zu", words_.size());
  words_.push_back(to_step_text(word));
  return opening + digits;
}

std::string StepWords::put_into(const std::string& text) const {
  std::string out;
  std::size_t from = 0;
  for (std::size_t at = text.find(opening); at != std::string::npos;
       at = text.find(opening, from)) {
    const std::size_t digits = at + opening.size();
    out.append(text, from, at - from);
    out += words_[std::stoul(text.substr(digits, digit_count))];
    from = digits + digit_count;
  }
  return out.append(text, from);
}

}  // namespace kw::kernel
