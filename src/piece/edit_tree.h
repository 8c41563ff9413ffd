// What the edits of a file's text have in common: the way to a value, and lines.
#pragma once

#include "kerfwright/piece/edit.h"

#include "toml_node.h"

namespace kw::reading {

// A value and the tables and lists it stands in: the root first, the value last.
using Branch = std::vector<const TomlNode*>;

// As far along `path` as the tree goes.
[[nodiscard]] Branch follow(const TomlNode& root, const std::vector<std::string>& path);
// The whole way; edit.no-such-value names the nearest there is.
[[nodiscard]] Outcome<Branch> find_branch(const TomlNode& root,
                                          const std::vector<std::string>& path);

// "board.leg-a.runs"
[[nodiscard]] std::string spoken_path(const std::vector<std::string>& path);
[[nodiscard]] Diagnostic edit_fault(std::string_view code, Span at, std::string message,
                                    std::string hint = {});

// A [table], or the [[tables]] of a list: not a value that stands in one place.
[[nodiscard]] bool has_own_lines(const TomlNode& node);

// The new value without blanks around it, or edit.bad-toml when it is not exactly one TOML value.
[[nodiscard]] Outcome<std::string> one_value(const std::string& toml);
// The edit, or edit.bad-toml when the file would not parse after it.
[[nodiscard]] Outcome<TextEdit> checked(const Text& text, TextEdit edit);

// Lines of the text: where the one with `offset` begins, and where it ends (behind its line break).
[[nodiscard]] std::uint32_t line_begin(std::string_view content, std::uint32_t offset);
[[nodiscard]] std::uint32_t line_end(std::string_view content, std::uint32_t offset);
[[nodiscard]] std::uint32_t skip_blanks(std::string_view content, std::uint32_t offset);

// Where the last value ends that stands in the table itself, not below a header of its own; 0 for
// none.
[[nodiscard]] std::uint32_t end_of_own(const TomlNode& table);

}  // namespace kw::reading
