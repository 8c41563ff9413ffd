// A table of a CSV file whose first row names its columns, and everything wrong with it. Private to
// trade.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/diag/csv.h"
#include "kerfwright/measure/length.h"
#include "kerfwright/measure/money.h"

namespace kw::trade {

struct Column {
  std::string_view name = {};
  bool must_be = false;
};

class CsvTable {
 public:
  CsvTable(const Text& text, LengthUnit unit, std::vector<Column> columns);

  [[nodiscard]] std::size_t rows() const {
    return is_readable_ && !rows_.empty() ? rows_.size() - 1 : 0;
  }

  // The row that is read from now on; `is_sound` is false once something in it was wrong.
  void begin(std::size_t row);
  bool is_sound = true;
  Diagnostics faults = {};

  [[nodiscard]] const CsvCell& cell(std::string_view name) const;
  [[nodiscard]] Span row_at() const { return rows_[row_].at; }

  // Zero, 1 for a count, or no money, when the cell is empty.
  Length length(std::string_view name, bool must_be);
  Length length_of(std::string_view words, std::uint32_t at);
  int count(std::string_view name);
  Money money(std::string_view name, bool must_be);  // "4.20", "$4.20", "4.2", "4"

  void wrong(std::string_view code, Span at, std::string message, std::string hint);

 private:
  void name_column(const CsvCell& cell, std::size_t index);
  void fault(std::string_view code, Span at, std::string message, std::string hint);

  LengthUnit unit_;
  std::vector<Column> columns_;
  std::vector<int> place_;
  std::vector<CsvRow> rows_ = {};
  std::size_t row_ = 1;
  bool is_readable_ = true;
};

// Written so that it reads back: a cell in quotes where it needs them (RFC 4180), a length exactly,
// in `unit` where that can be, money with its two digits.
[[nodiscard]] std::string csv_cell(std::string_view text);
[[nodiscard]] std::string csv_row(const std::vector<std::string>& cells);
[[nodiscard]] std::string money_text(Money money);

}  // namespace kw::trade
