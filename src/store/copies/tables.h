// The tables of the newest form as data, for what copies whole cabinets; and a row as a line of
// JSON (RFC 8259). Private to store.
#pragma once

#include "driver.h"

namespace kw::storing {

enum class Holds : std::uint8_t { number, text, bytes, change };

struct Column {
  std::string_view name = {};
  Holds holds = Holds::number;
};

struct Table {
  std::string_view name = {};
  std::vector<Column> columns = {};
  std::size_t keys = 1;        // the first so many columns; rows are ordered by them
  std::int64_t at_once = 500;  // rows that are read in one go: fewer where they are large
};

// Each after those that it refers to.
[[nodiscard]] const std::vector<Table>& tables();

// `{"name":"stool","saved":3}`, without an end of line. What is not UTF-8 is `{"hex":"00ff"}`; a
// change is a list of [begin, was, now].
[[nodiscard]] std::string line_of(const Table& table, const Row& row);
// The values of a line, in the order of the columns. Error: store.bad-export, with words only.
[[nodiscard]] Outcome<std::vector<Value>> values_of(const Table& table, std::string_view line);

}  // namespace kw::storing
