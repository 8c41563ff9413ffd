// A TOML text as a tree of values with their places in bytes, in the order of the text. Everything
// else in the module sees this tree; toml++ is included by toml_node.cpp alone.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/diag/outcome.h"

namespace kw::reading {

enum class NodeKind : std::uint8_t { text, integer, real, truth, date, list, table };

// How a table came about: by its own header, by `{ ... }`, or only as the first part of dotted keys
// and of headers below it.
enum class TableForm : std::uint8_t { implied, inline_braces, header };

struct TomlNode {
  NodeKind kind = NodeKind::table;
  TableForm form = TableForm::implied;
  bool is_true = false;
  std::int64_t integer = 0;
  double real = 0;
  // The value; the header of a table that has one; else the first place that implies the table.
  Span at = {};
  std::string key = {};   // "" for items of a list and the root
  Span key_at = {};       // with its quotes, where it has any
  std::string text = {};  // of a text: without quotes, escapes resolved
  std::vector<TomlNode> items = {};

  [[nodiscard]] const TomlNode* find(std::string_view wanted) const;
};

// "a text", "a number", "a list" ... for messages.
[[nodiscard]] std::string_view name_of(NodeKind kind);

// Where the contents of a text value stand in the file, when they stand there byte for byte.
struct Inside {
  bool is_exact = false;
  Span at = {};  // without the quotes when exact, else the whole value
};
[[nodiscard]] Inside inside_of(const TomlNode& text_node, std::string_view content);

// Errors: piece.too-large, piece.not-utf8, piece.too-deep (all three before toml++ sees the text,
// so that nothing it does can overflow the stack), piece.syntax (the first fault only).
[[nodiscard]] Outcome<TomlNode> parse_toml(const Text& text);

// As parse_toml. The trees of the last few texts are remembered, as one change of a piece looks at
// the text before it and the text after it several times. May be called by several threads.
[[nodiscard]] Outcome<std::shared_ptr<const TomlNode>> tree_of(const Text& text);

// The first of the faults that forbid parsing at all, or nothing.
[[nodiscard]] Diagnostics faults_before_parsing(const Text& text);

// What toml++ says at `offset`, in the words of a woodworker and with a way out where one can be
// guessed.
[[nodiscard]] Diagnostic syntax_fault(const Text& text, std::uint32_t offset,
                                      std::string_view said);

}  // namespace kw::reading
