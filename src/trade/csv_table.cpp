#include "csv_table.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

namespace kw::trade {
namespace {

constexpr std::size_t most_rows = 1'000;
constexpr int most_count = 10'000;
constexpr std::int64_t most_coins = 100'000'000;

}  // namespace

CsvTable::CsvTable(const Text& text, LengthUnit unit, std::vector<Column> columns)
    : unit_(unit), columns_(std::move(columns)), place_(columns_.size(), -1) {
  rows_ = keep(read_csv(text), faults);
  if (rows_.empty()) {
    fault("trade.no-column", {}, "there is nothing in this file", "begin with the columns' names");
    return;
  }
  for (std::size_t i = 0; i < rows_[0].cells.size(); ++i) name_column(rows_[0].cells[i], i);
  for (std::size_t c = 0; c < columns_.size(); ++c) {
    if (!columns_[c].must_be || place_[c] >= 0) continue;
    fault("trade.no-column", rows_[0].at, fmt::format("there is no column `{}`", columns_[c].name),
          "name it in the first row");
    is_readable_ = false;
  }
  if (rows_.size() - 1 > most_rows) {
    fault("trade.too-many", rows_[most_rows + 1].at,
          fmt::format("there are more than {} rows", most_rows), "leave out what is not needed");
    rows_.resize(most_rows + 1);
  }
}

void CsvTable::begin(std::size_t row) {
  row_ = row + 1;
  is_sound = true;
  const auto& cells = rows_[row_].cells;
  if (cells.size() > rows_[0].cells.size()) {
    wrong("trade.extra-cell", cells[rows_[0].cells.size()].at, "this cell has no column",
          "put cells that hold a comma between quotes");
  }
}

const CsvCell& CsvTable::cell(std::string_view name) const {
  static const CsvCell none;
  const auto c = static_cast<std::size_t>(
      std::find_if(columns_.begin(), columns_.end(),
                   [&](const Column& column) { return column.name == name; }) -
      columns_.begin());
  const auto& cells = rows_[row_].cells;
  const auto at = static_cast<std::size_t>(place_[c]);
  return place_[c] < 0 || at >= cells.size() ? none : cells[at];
}

Length CsvTable::length(std::string_view name, bool must_be) {
  const CsvCell& c = cell(name);
  if (c.text.empty()) {
    if (must_be)
      wrong("trade.no-value", row_at(), fmt::format("this row has no {}", name),
            "write it in its column");
    return {};
  }
  const Length value = length_of(c.text, c.at.begin);
  if (is_sound && value <= Length())
    wrong("trade.bad-size", c.at, fmt::format("this {} is not above zero", name),
          "write what a tape says");
  return value;
}

Length CsvTable::length_of(std::string_view words, std::uint32_t at) {
  auto value = parse_length(words, unit_, at);
  for (Diagnostic d : value.diagnostics()) faults.push_back(std::move(d));
  if (!value) is_sound = false;
  return value ? *value : Length();
}

int CsvTable::count(std::string_view name) {
  const CsvCell& c = cell(name);
  if (c.text.empty()) return 1;
  int value = 0;
  for (const char digit : c.text) {
    if (digit < '0' || digit > '9' || value > most_count) {
      wrong("trade.bad-count", c.at, fmt::format("`{}` is no count", c.text),
            fmt::format("write a whole number, 0 to {}", most_count));
      return 0;
    }
    value = value * 10 + (digit - '0');
  }
  if (value > most_count)
    wrong("trade.bad-count", c.at, fmt::format("`{}` is too many", c.text),
          fmt::format("write a whole number, 0 to {}", most_count));
  return value;
}

Money CsvTable::money(std::string_view name, bool must_be) {
  const CsvCell& c = cell(name);
  std::string_view words = c.text;
  for (const std::string_view sign : {"$", "€", "£"}) {
    if (words.starts_with(sign)) words.remove_prefix(sign.size());
  }
  if (words.empty() && !must_be) return {};
  std::int64_t coins = 0;
  int after = -1, digits = 0;
  bool is_money = true;
  for (const char d : words) {
    if (d == '.' && after < 0) {
      after = 0;
      continue;
    }
    is_money = is_money && d >= '0' && d <= '9' && coins <= most_coins && after < 2;
    if (!is_money) break;
    coins = coins * 10 + (d - '0');
    ++digits;
    if (after >= 0) ++after;
  }
  for (int i = std::max(after, 0); i < 2; ++i) coins *= 10;
  if (!is_money || digits == 0 || coins > most_coins) {
    wrong("trade.bad-money", c.text.empty() ? row_at() : c.at,
          fmt::format("`{}` is no {}", c.text, name), "write it like 4.20");
    return {};
  }
  return {coins};
}

void CsvTable::wrong(std::string_view code, Span at, std::string message, std::string hint) {
  is_sound = false;
  fault(code, at, std::move(message), std::move(hint));
}

void CsvTable::name_column(const CsvCell& c, std::size_t index) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    names.emplace_back(columns_[i].name);
    if (columns_[i].name != c.text) continue;
    if (place_[i] >= 0)
      fault("trade.twice-column", c.at, fmt::format("the column `{}` is there twice", c.text),
            "leave one of them out");
    place_[i] = static_cast<int>(index);
    return;
  }
  const std::string near = nearest_name(c.text, names);
  fault("trade.unknown-column", c.at, fmt::format("no column is called `{}`", c.text),
        near.empty() ? fmt::format("the columns are {}", fmt::join(names, ", "))
                     : fmt::format("did you mean `{}`?", near));
}

void CsvTable::fault(std::string_view code, Span at, std::string message, std::string hint) {
  faults.push_back(
      {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
}

std::string csv_cell(std::string_view text) {
  const bool is_plain = !text.empty() && text.find_first_of(",\"\n\r;#") == text.npos &&
                        text.front() > ' ' && text.back() > ' ';
  if (is_plain || text.empty()) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + "\"";
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::vector<std::string> quoted;
  for (const std::string& cell : cells) quoted.push_back(csv_cell(cell));
  return fmt::format("{}\n", fmt::join(quoted, ","));
}

std::string money_text(Money money) {
  const std::int64_t coins = std::abs(money.coins);
  return fmt::format("{}{}.{:02}", money.coins < 0 ? "-" : "", coins / 100, coins % 100);
}

}  // namespace kw::trade
