// Surgical edits of a piece file: only the text of the value that changed is touched; every other
// byte, comment and space stays. An edit gives back the edit that undoes it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"

namespace kw {

// Replace bytes [at.begin, at.end) by `with`. The inverse restores the old bytes exactly.
struct TextEdit {
  Span at = {};
  std::string with = {};
};
// Errors: edit.bad-span (the text has no such bytes).
[[nodiscard]] Outcome<Text> apply(const Text& text, const TextEdit& edit);
[[nodiscard]] TextEdit inverse_of(const Text& before, const TextEdit& edit);

// `path` names a value: {"size", "height", "is"}, {"board", "leg-a", "runs", "0"}; a number picks
// an item of a list. Errors: edit.no-such-value (with the nearest path), edit.bad-toml (the new
// text would not be read as one TOML value, or the file with it would not parse), and those of a
// file that cannot be parsed as it is (piece.syntax). A table is found at its header.
[[nodiscard]] Outcome<Span> find_value(const Text& text, const std::vector<std::string>& path);

// `toml` is the new value as TOML text: "\"30 1/2\"", "[\"0\", \"1\", \"2\"]", "true".
// edit.not-a-value: a table with lines of its own stands there.
[[nodiscard]] Outcome<TextEdit> set_value(const Text& text, const std::vector<std::string>& path,
                                          const std::string& toml);

// Adds `key = value` at the end of an existing table's own lines, or, when there is no such table,
// a new [table] at the file's end. edit.already-there, edit.not-a-table.
[[nodiscard]] Outcome<TextEdit> add_value(const Text& text, const std::vector<std::string>& table,
                                          const std::string& key, const std::string& toml);

// Takes away a key with its line, or a whole [table] with its lines and its own comments above it.
[[nodiscard]] Outcome<TextEdit> remove_value(const Text& text,
                                             const std::vector<std::string>& path);

}  // namespace kw
