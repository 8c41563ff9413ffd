#include "rows.h"

#include <fmt/core.h>

#include "delta.h"

namespace kw::storing {

namespace {

// "a, b" of the first `count` columns; with "$1, $2" instead of the names.
std::string list_of(const Table& table, std::size_t count, bool as_values) {
  std::string list;
  for (std::size_t i = 0; i < count; ++i) {
    if (i > 0) list += ", ";
    list += as_values ? fmt::format("${}", i + 1) : std::string(table.columns[i].name);
  }
  return list;
}

Value value_of(Holds holds, const Cell& cell) {
  if (cell.is_null) return std::monostate();
  if (holds == Holds::number) return cell.number;
  if (holds == Holds::text) return cell.bytes;
  return Blob{cell.bytes};
}

std::vector<Value> values_of(const Table& table, const Row& row, std::size_t count) {
  std::vector<Value> values;
  for (std::size_t i = 0; i < count; ++i)
    values.push_back(value_of(table.columns[i].holds, row[i]));
  return values;
}

}  // namespace

Trouble each_row(Driver& driver, const Table& table, const std::function<bool(const Row&)>& visit) {
  const std::string keys = list_of(table, table.keys, false);
  const std::string begin =
      fmt::format("SELECT {} FROM {}", list_of(table, table.columns.size(), false), table.name);
  const std::string end = fmt::format(" ORDER BY {} LIMIT {}", keys, table.at_once);
  const std::string next =
      fmt::format("{} WHERE ({}) > ({}){}", begin, keys, list_of(table, table.keys, true), end);
  Answer answer = driver.ask(begin + end, {});
  while (answer.trouble == Trouble::none) {
    for (const Row& row : answer.rows) {
      if (!visit(row)) return Trouble::other;
    }
    if (std::ssize(answer.rows) < table.at_once) return Trouble::none;
    answer = driver.ask(next, values_of(table, answer.rows.back(), table.keys));
  }
  return answer.trouble;
}

bool insert_row(Driver& driver, const Table& table, const std::vector<Value>& values) {
  const std::size_t count = table.columns.size();
  const std::string sql = fmt::format("INSERT INTO {} ({}) VALUES ({})", table.name,
                                      list_of(table, count, false), list_of(table, count, true));
  return driver.ask(sql, values).trouble == Trouble::none;
}

bool is_empty(Driver& driver) {
  for (const Table& table : tables()) {
    const Answer answer = driver.ask(fmt::format("SELECT count(*) FROM {}", table.name), {});
    if (answer.rows.size() != 1 || answer.rows[0][0].number != 0) return false;
  }
  return true;
}

bool copy_rows(Driver& from, Driver& to) {
  for (const Table& table : tables()) {
    const Trouble trouble = each_row(from, table, [&](const Row& row) {
      return insert_row(to, table, values_of(table, row, row.size()));
    });
    if (trouble != Trouble::none) return false;
  }
  return true;
}

bool Texts::take(const Row& row) {
  const bool follows = row[0].number == piece_ && row[1].number == number_ + 1;
  const bool is_first = row[0].number != piece_;
  piece_ = row[0].number;
  number_ = row[1].number;
  if (!row[7].is_null && (is_first || !follows)) {
    text_ = row[7].bytes;
    return is_first;
  }
  const auto delta = unpacked(row[6].bytes);
  auto text = follows && delta ? kw::apply(*delta, text_) : std::nullopt;
  // The first revision's change is not looked at.
  if (!row[7].is_null && (!text || *text != row[7].bytes)) {
    text_ = row[7].bytes;
    return false;
  }
  if (!text) return false;
  text_ = *std::move(text);
  return true;
}

}  // namespace kw::storing
