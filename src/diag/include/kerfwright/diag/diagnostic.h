// A user's mistake as data: where it stands in their text, what is wrong, and the way out.
//
// Guarantees: plain values; order of diagnostics is the order in which they were found.
// Will not do: throw, print, or open files.
//
//   Text text{"stool.toml", "width = \"12 1/0\""};
//   Diagnostic d{.code = "measure.zero-below", .at = {9, 15}, .message = "the lower number is
//   zero"}; std::cerr << render(text, d);
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace kw {

// A named text: `name` is what messages call it (a file name), `content` its bytes (UTF-8
// expected).
struct Text {
  std::string name = {};
  std::string content = {};
};

// Bytes [begin, end) of a Text. begin == end marks a point. {0, 0} is also "no place known".
struct Span {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  friend bool operator==(const Span&, const Span&) = default;
};

// 1-based line and 1-based column; the column counts code points, not bytes.
struct Position {
  std::uint32_t line = 1;
  std::uint32_t column = 1;
  friend bool operator==(const Position&, const Position&) = default;
};

enum class Severity : std::uint8_t { error, warning, advice };

// Another place that matters for a diagnostic.
struct Note {
  Span at = {};
  std::string message = {};
};

struct Diagnostic {
  std::string_view code = {};  // "piece.unknown-key": stable, has a page docs/diagnostics/<code>.md
  Severity severity = Severity::error;
  Span at = {};
  std::string message = {};  // what is wrong, with their words and numbers
  std::vector<Note> notes = {};
  std::string hint = {};  // the way out
};

using Diagnostics = std::vector<Diagnostic>;

// True when at least one diagnostic is an error.
[[nodiscard]] bool has_errors(const Diagnostics& diagnostics);

// Line and column of byte `offset` (clamped to the text's end). A byte-order mark counts no column.
[[nodiscard]] Position position_of(const Text& text, std::uint32_t offset);

// "stool.toml:3:9: error: ... [code]", the source line, a caret line under the words, notes, hint.
// Long lines are shortened around the place; control characters, in messages too, are shown as
// spaces.
[[nodiscard]] std::string render(const Text& text, const Diagnostic& diagnostic);
[[nodiscard]] std::string render(const Text& text, const Diagnostics& diagnostics);

// The candidate nearest to `word` by edit distance (transpositions count one), or "" when none is
// within a third of the word's length (at least 1, at most 3). Ties go to the first candidate.
// Cost is bounded: at most 64 bytes of each word are compared and at most 2,000 candidates.
[[nodiscard]] std::string nearest_name(std::string_view word,
                                       const std::vector<std::string>& candidates);

}  // namespace kw
