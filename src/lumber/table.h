// A TOML text as a tree of plain values, each with its place. The one home of toml++ in this module
// is table.cpp.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"

namespace kw::lumber {

enum class CellKind : std::uint8_t { text, number, list, table, other };

struct Cell {
  CellKind kind = CellKind::other;
  std::string text = {};         // text
  double number = 0;             // number, whole or not
  std::vector<Cell> items = {};  // list, in order; table, by key
  Span at = {};
  std::string key = {};  // of an item of a table
  Span key_at = {};
};

// The value of `key` in a table; null when there is none.
[[nodiscard]] const Cell* find_cell(const Cell& table, std::string_view key);

// Errors: lumber.syntax (the first fault only; the texts of more than 1 MB are one such).
[[nodiscard]] Outcome<Cell> parse_table(const Text& text);

}  // namespace kw::lumber
