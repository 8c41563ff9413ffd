// What toml++ says of a broken file, retold with a guess at what was meant.
#include <algorithm>
#include <fmt/core.h>

#include "toml_node.h"

namespace kw::reading {
namespace {

constexpr std::string_view blanks = " \t";

std::string_view trimmed(std::string_view s) {
  const auto begin = s.find_first_not_of(blanks);
  if (begin == std::string_view::npos) return {};
  return s.substr(begin, s.find_last_not_of(blanks) - begin + 1);
}

std::string_view line_around(std::string_view content, std::size_t offset) {
  const auto before = offset == 0 ? std::string_view::npos : content.rfind('\n', offset - 1);
  const std::size_t begin = before == std::string_view::npos ? 0 : before + 1;
  std::string_view line =
      content.substr(begin, std::min(content.find('\n', begin), content.size()) - begin);
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

// `key = value` of a line, split; both empty when it is no such line.
struct Pair {
  std::string_view key = {};
  std::string_view value = {};
};

Pair pair_of(std::string_view line) {
  const auto equals = line.find('=');
  if (equals == std::string_view::npos) return {};
  const std::string_view value = line.substr(equals + 1);
  return {trimmed(line.substr(0, equals)), trimmed(value.substr(0, value.find('#')))};
}

// The value in the quotes that need no backslash before the marks in it.
std::string quoted(std::string_view value) {
  const char quote = value.find('"') == std::string_view::npos ? '"' : '\'';
  return fmt::format("{}{}{}", quote, value, quote);
}

bool is_unquoted(std::string_view value) {
  return !value.empty() && value.find_first_of("\"[]{}\\") == std::string_view::npos &&
         value.front() != '\'';
}

// The value without the quote at its start and the last quote behind that.
std::string_view without_quotes(std::string_view value) {
  value.remove_prefix(1);
  const auto last = value.rfind('"');
  return last == std::string_view::npos ? value : value.substr(0, last);
}

std::string way_out(std::string_view content, std::uint32_t offset, std::string_view said) {
  const std::string_view line = line_around(content, offset);
  const Pair pair = pair_of(line);
  if (line.find("\xE2\x80\x9C") != std::string_view::npos ||
      line.find("\xE2\x80\x9D") != std::string_view::npos) {
    return "put values in straight quotes: \"...\"";
  }
  if (said.find("redefine") != std::string_view::npos) {
    return "a name may stand only once: give one of the two another, or join them";
  }
  if (said.find("escape sequence") != std::string_view::npos) {
    return "a backslash in \"...\" starts an escape: double it, or write the value in '...'";
  }
  if (pair.value.starts_with('"') && pair.value.find('"', 1) != std::string_view::npos &&
      content.substr(offset, 1) == "\"") {
    return fmt::format("an inch mark inside \"...\" ends it; write {} = {}", pair.key,
                       quoted(without_quotes(pair.value)));
  }
  if (pair.value.starts_with('"') && pair.value.find('"', 1) == std::string_view::npos) {
    return "the closing quote is missing";
  }
  if (!pair.key.empty() && is_unquoted(pair.value)) {
    return fmt::format("formulas and words stand in quotes: {} = {}", pair.key, quoted(pair.value));
  }
  if (said.find("end-of-file") != std::string_view::npos) {
    return "a bracket or a quote is not closed, or the value is missing";
  }
  return {};
}

}  // namespace

Diagnostic syntax_fault(const Text& text, std::uint32_t offset, std::string_view said) {
  const std::string_view content = text.content;
  constexpr std::string_view lead = "Error while parsing ";
  std::string message(said);
  if (said.starts_with(lead)) {
    const auto colon = said.find(": ");
    message = fmt::format("in a {}: {}", said.substr(lead.size(), colon - lead.size()),
                          said.substr(std::min(colon + 2, said.size())));
  }
  const bool has_more =
      offset < content.size() && content[offset] != '\n' && content[offset] != '\r';
  std::uint32_t end = offset + (has_more ? 1 : 0);
  while (end < content.size() && (static_cast<unsigned char>(content[end]) & 0xC0U) == 0x80U) ++end;
  return {.code = "piece.syntax",
          .at = {offset, end},
          .message = fmt::format("the file is not TOML here, {}", message),
          .hint = way_out(content, offset, said)};
}

}  // namespace kw::reading
