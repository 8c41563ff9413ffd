#include "kerfwright/diag/diagnostic.h"

#include <algorithm>
#include <array>
#include <fmt/core.h>

namespace kw {
namespace {

constexpr std::size_t widest_line = 110;
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool starts_code_point(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

std::size_t code_points(std::string_view s) {
  return static_cast<std::size_t>(std::count_if(s.begin(), s.end(), starts_code_point));
}

std::string_view name_of(Severity severity) {
  switch (severity) {
    case Severity::error:
      return "error";
    case Severity::warning:
      return "warning";
    case Severity::advice:
      return "advice";
  }
  return "error";
}

struct Line {
  std::size_t begin = 0;
  std::size_t end = 0;
};

Line line_around(std::string_view content, std::size_t offset) {
  offset = std::min(offset, content.size());
  const auto before = content.substr(0, offset).rfind('\n');
  Line line;
  line.begin = before == std::string_view::npos ? 0 : before + 1;
  if (line.begin == 0 && content.starts_with(byte_order_mark)) {
    line.begin = std::min(byte_order_mark.size(), content.size());
  }
  const auto after = content.find('\n', std::max(offset, line.begin));
  line.end = after == std::string_view::npos ? content.size() : after;
  if (line.end > line.begin && content[line.end - 1] == '\r') --line.end;
  return line;
}

// Nothing that a terminal would obey: controls become spaces, those of two bytes (U+0080 to U+009F)
// the no-break space, so that the count of code points stays.
std::string printable(std::string_view s) {
  std::string out(s);
  unsigned char before = 0;
  for (char& c : out) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20U || byte == 0x7FU) c = ' ';
    if (before == 0xC2U && byte >= 0x80U && byte < 0xA0U) c = '\xA0';
    before = byte;
  }
  return out;
}

std::string excerpt(std::string_view content, Span at) {
  Line line = line_around(content, at.begin);
  std::size_t from = std::clamp<std::size_t>(at.begin, line.begin, line.end);
  std::size_t to = std::clamp<std::size_t>(at.end, from, line.end);
  to = std::min(to, from + widest_line);
  std::string_view prefix = "";
  if (to - line.begin > widest_line) {
    line.begin = from > 40 + line.begin ? from - 40 : line.begin;
    while (line.begin < from && !starts_code_point(content[line.begin])) ++line.begin;
    prefix = "...";
  }
  line.end = std::min(line.end, line.begin + widest_line + 40);
  while (line.end > to && line.end < content.size() && !starts_code_point(content[line.end]))
    --line.end;
  const auto shown = printable(content.substr(line.begin, line.end - line.begin));
  const auto lead = code_points(content.substr(line.begin, from - line.begin)) + prefix.size();
  const auto width = std::max<std::size_t>(1, code_points(content.substr(from, to - from)));
  return fmt::format("  | {}{}\n  | {}{}\n", prefix, shown, std::string(lead, ' '),
                     std::string(width, '^'));
}

std::string place(const Text& text, Span at) {
  const Position p = position_of(text, at.begin);
  return fmt::format("{}:{}:{}", printable(text.name), p.line, p.column);
}

// Optimal-string-alignment distance (Damerau 1964, restricted form).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  constexpr std::size_t most = 64;
  a = a.substr(0, most);
  b = b.substr(0, most);
  std::array<std::array<std::size_t, most + 1>, 3> rows = {};
  for (std::size_t j = 0; j <= b.size(); ++j) rows[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    auto& now = rows[i % 3];
    const auto& last = rows[(i + 2) % 3];
    const auto& before_last = rows[(i + 1) % 3];
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t swap = a[i - 1] == b[j - 1] ? 0 : 1;
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + swap});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        now[j] = std::min(now[j], before_last[j - 2] + 1);
      }
    }
  }
  return rows[a.size() % 3][b.size()];
}

}  // namespace

bool has_errors(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& d) { return d.severity == Severity::error; });
}

Position position_of(const Text& text, std::uint32_t offset) {
  const std::string_view content = text.content;
  const std::size_t at = std::min<std::size_t>(offset, content.size());
  const auto lines =
      std::count(content.begin(), content.begin() + static_cast<std::ptrdiff_t>(at), '\n');
  const Line line = line_around(content, at);
  const std::size_t column =
      at > line.begin ? code_points(content.substr(line.begin, at - line.begin)) : 0;
  return {static_cast<std::uint32_t>(lines + 1), static_cast<std::uint32_t>(column + 1)};
}

std::string render(const Text& text, const Diagnostic& d) {
  std::string out = fmt::format("{}: {}: {} [{}]\n", place(text, d.at), name_of(d.severity),
                                printable(d.message), d.code);
  out += excerpt(text.content, d.at);
  for (const Note& note : d.notes) {
    out += fmt::format("{}: note: {}\n", place(text, note.at), printable(note.message));
    out += excerpt(text.content, note.at);
  }
  if (!d.hint.empty()) out += fmt::format("  = hint: {}\n", printable(d.hint));
  return out;
}

std::string render(const Text& text, const Diagnostics& diagnostics) {
  std::string out;
  for (const Diagnostic& d : diagnostics) out += render(text, d);
  return out;
}

std::string nearest_name(std::string_view word, const std::vector<std::string>& candidates) {
  constexpr std::size_t most_candidates = 2000;
  const std::size_t allowed = std::clamp<std::size_t>(word.size() / 3, 1, 3);
  std::string best;
  std::size_t best_distance = allowed + 1;
  for (std::size_t i = 0; i < std::min(candidates.size(), most_candidates); ++i) {
    const std::size_t distance = edit_distance(word, candidates[i]);
    if (distance < best_distance) {
      best_distance = distance;
      best = candidates[i];
    }
  }
  return best;
}

}  // namespace kw
