// What toml++ says of a broken file, retold with a guess at what was meant.
#include <algorithm>
#include <fmt/core.h>

#include "toml_node.h"

namespace kw::reading {
namespace {

constexpr std::string_view blanks = " \t";

// A stretch of the file.
struct Piece {
  std::string_view text = {};
  std::size_t begin = 0;

  [[nodiscard]] Span span() const {
    return {static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(begin + text.size())};
  }
  [[nodiscard]] bool has(std::size_t offset) const {
    return begin <= offset && offset <= begin + text.size();
  }
};

Piece part_of(Piece whole, std::size_t from, std::size_t to) {
  std::string_view text = whole.text.substr(from, to - from);
  const auto first = std::min(text.find_first_not_of(blanks), text.size());
  text.remove_prefix(first);
  text = text.substr(0, text.find_last_not_of(blanks) + 1);
  return {text, whole.begin + from + first};
}

Piece line_around(std::string_view content, std::size_t offset) {
  const auto before = offset == 0 ? std::string_view::npos : content.rfind('\n', offset - 1);
  const std::size_t begin = before == std::string_view::npos ? 0 : before + 1;
  const std::size_t end = std::min(content.find_first_of("\r\n", begin), content.size());
  return {content.substr(begin, end - begin), begin};
}

// What was probably meant: the words to underline, and the way out.
struct Guess {
  Span at = {};
  std::string hint = {};
};

// The value in the quotes that need no backslash before the marks in it.
std::string quoted(std::string_view value) {
  const char quote = value.find('"') == std::string_view::npos ? '"' : '\'';
  return fmt::format("{}{}{}", quote, value, quote);
}

// The value without the quote at its start and the last quote behind that.
std::string_view without_quotes(std::string_view value) {
  value.remove_prefix(1);
  return value.substr(0, value.rfind('"'));
}

// A value that begins with a quote, or lacks its quotes.
Guess guess_of_value(Piece key, Piece value, Span here, std::string_view content) {
  const bool is_closed = value.text.find('"', 1) != std::string_view::npos;
  if (value.text.starts_with('"') && is_closed && content.substr(here.begin, 1) == "\"") {
    return {here, fmt::format("an inch mark inside \"...\" ends it; write {} = {}", key.text,
                              quoted(without_quotes(value.text)))};
  }
  if (value.text.starts_with('"') && !is_closed) {
    return {value.span(), "the closing quote is missing"};
  }
  const bool is_unquoted = !value.text.empty() && value.text.front() != '\'' &&
                           value.text.find_first_of("\"[]{}\\;=") == std::string_view::npos;
  if (is_unquoted && value.has(here.begin)) {
    return {value.span(), fmt::format("formulas and words stand in quotes: {} = {}", key.text,
                                      quoted(value.text))};
  }
  return {here, {}};
}

Guess guess_of_line(Piece line, Span here, std::string_view content) {
  const auto equals = line.text.find('=');
  if (equals == std::string_view::npos) return {here, {}};
  const std::size_t comment = std::min(line.text.find('#', equals), line.text.size());
  return guess_of_value(part_of(line, 0, equals), part_of(line, equals + 1, comment), here,
                        content);
}

// The key or header that stands a second time.
Guess guess_of_repeat(Piece line, Span here) {
  const auto equals = line.text.find('=');
  const bool is_first_value = line.text.find('=', equals + 1) >= here.begin - line.begin;
  const std::size_t end = equals == std::string_view::npos ? line.text.rfind(']') + 1 : equals;
  return {is_first_value ? part_of(line, 0, end).span() : here,
          "a name may stand only once: give one of the two another, or join them"};
}

Guess guess(std::string_view content, Span here, std::string_view said) {
  const Piece line = line_around(content, here.begin);
  const auto says = [&](std::string_view words) {
    return said.find(words) != std::string_view::npos;
  };
  if (says("redefine")) return guess_of_repeat(line, here);
  if (says("cannot insert")) {  // told behind the header's line
    const Piece above = line_around(content, here.begin - std::min(here.begin, 1U));
    return {part_of(above, 0, above.text.rfind(']') + 1).span(), "set the whole value in braces"};
  }
  if (says("escape sequence")) {
    const bool is_behind = here.begin > 0 && content[here.begin - 1] == '\\';
    return {{here.begin - (is_behind ? 1U : 0U), here.end},
            "a backslash in \"...\" starts an escape: double it, or write the value in '...'"};
  }
  for (const std::string_view curly : {"\xE2\x80\x9C", "\xE2\x80\x9D"}) {
    if (line.text.find(curly) != std::string_view::npos) {
      return {here, "put values in straight quotes: \"...\""};
    }
  }
  Guess found = guess_of_line(line, here, content);
  if (found.hint.empty() && says("end-of-file")) {
    found.hint = "a bracket or a quote is not closed, or the value is missing";
  }
  if (found.hint.empty() && content.substr(here.begin, 1) == ";") {
    found.hint = "each key stands on a line of its own";
  }
  return found;
}

// The character at `offset`, or the point itself at the end of a line.
Span character_at(std::string_view content, std::uint32_t offset) {
  const bool is_inside =
      offset < content.size() && content[offset] != '\n' && content[offset] != '\r';
  std::uint32_t end = offset + (is_inside ? 1 : 0);
  while (end < content.size() && (static_cast<unsigned char>(content[end]) & 0xC0U) == 0x80U) ++end;
  return {offset, end};
}

}  // namespace

Diagnostic syntax_fault(const Text& text, std::uint32_t offset, std::string_view said) {
  constexpr std::string_view lead = "Error while parsing ";
  std::string message(said);
  if (const auto colon = said.find(": ");
      said.starts_with(lead) && colon != std::string_view::npos) {
    const std::string_view where = said.substr(lead.size(), colon - lead.size());
    const bool has_vowel = std::string_view("aeiou").find(where.front()) != std::string_view::npos;
    message = fmt::format("in {} {}: {}", has_vowel ? "an" : "a", where, said.substr(colon + 2));
  }
  Guess found = guess(text.content, character_at(text.content, offset), said);
  return {.code = "piece.syntax",
          .at = found.at,
          .message = fmt::format("the file is not TOML here, {}", message),
          .hint = std::move(found.hint)};
}

}  // namespace kw::reading
