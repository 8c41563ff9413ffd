// Comma-separated text (RFC 4180) as cells with their places.
//
// Besides the standard: `;` separates where the first line has one and no comma; empty lines and
// lines that begin with `#` are left out; blanks around a cell without quotes do not count.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"

namespace kw {

struct CsvCell {
  std::string text = {};  // without its quotes
  Span at = {};           // of the text within the quotes
};

struct CsvRow {
  std::vector<CsvCell> cells = {};
  Span at = {};
};

// Errors: csv.open-quote (never closed), csv.after-quote (something behind the closing quote),
// csv.too-many (over 100,000 cells; the rest is not read).
[[nodiscard]] Reading<std::vector<CsvRow>> read_csv(const Text& text);

}  // namespace kw
