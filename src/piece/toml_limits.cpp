#include <algorithm>
#include <fmt/core.h>

#include "kerfwright/diag/utf8.h"
#include "kerfwright/piece/document.h"

#include "toml_node.h"

namespace kw::reading {
namespace {

// Just past the string that starts at `i`. A one-line string ends at the line's end at the latest.
std::size_t past_string(std::string_view s, std::size_t i) {
  const char quote = s[i];
  const std::string_view three = quote == '"' ? "\"\"\"" : "'''";
  const bool is_long = s.substr(i, 3) == three;
  for (i += is_long ? 3 : 1; i < s.size(); ++i) {
    if (quote == '"' && s[i] == '\\')
      ++i;
    else if (!is_long && (s[i] == quote || s[i] == '\n'))
      return i + 1;
    else if (is_long && s.substr(i, 3) == three)
      break;
  }
  // Up to two quotes more may stand before the three that close.
  const std::size_t end = s.find_first_not_of(quote, i);
  return std::min({end, i + 5, s.size()});
}

// Where brackets stand, or parts of a dotted key follow one another, deeper than allowed.
std::size_t first_too_deep(std::string_view s) {
  constexpr std::string_view ends_key = "#=,\n[]{}";
  int brackets = 0, dots = 0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    const char c = s[i];
    if (c == '.') ++dots;
    if (c == '[' || c == '{') ++brackets;
    if ((c == ']' || c == '}') && brackets > 0) --brackets;
    if (ends_key.find(c) != std::string_view::npos) dots = 0;
    if (brackets > deepest_nesting || dots >= deepest_nesting) return i;
    if (c == '"' || c == '\'') i = past_string(s, i) - 1;
    if (c == '#') i = std::min(s.find('\n', i), s.size());
  }
  return std::string_view::npos;
}

Span byte_at(std::size_t i) {
  return {static_cast<std::uint32_t>(i), static_cast<std::uint32_t>(i + 1)};
}

}  // namespace

Diagnostics faults_before_parsing(const Text& text) {
  const std::string_view content = text.content;
  if (content.size() > most_bytes) {
    return {{.code = "piece.too-large",
             .message = fmt::format("the file has {} bytes; a piece file has at most {}",
                                    content.size(), most_bytes),
             .hint = "split the piece, or make copies with [repeat] and [use] in place of writing "
                     "boards out"}};
  }
  if (const std::size_t i = first_not_utf8(content); i != std::string_view::npos) {
    return {{.code = "piece.not-utf8",
             .at = byte_at(i),
             .message = fmt::format("byte {:#04x} is not UTF-8 text",
                                    static_cast<unsigned>(static_cast<unsigned char>(content[i]))),
             .hint = "save the file with the encoding UTF-8"}};
  }
  if (const std::size_t i = first_too_deep(content); i != std::string_view::npos) {
    return {{.code = "piece.too-deep",
             .at = byte_at(i),
             .message = fmt::format("lists, tables or the parts of a key go more than {} deep",
                                    deepest_nesting),
             .hint = "no piece needs that: look for a bracket that is not closed"}};
  }
  return {};
}

}  // namespace kw::reading
