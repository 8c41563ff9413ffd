#include "kernel/step_text.h"

#include <cstdio>
#include <string>

#include "characters.h"

namespace kw::kernel {
namespace {

const std::string opening = "kw-word-";
constexpr std::size_t digit_count = 8;

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
