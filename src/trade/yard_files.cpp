#include "kerfwright/trade/yard_files.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/diag/csv.h"
#include "kerfwright/measure/text.h"

namespace kw {
namespace {

constexpr std::size_t most_rows = 1'000;
constexpr int most_count = 10'000;
constexpr std::int64_t most_coins = 100'000'000;

struct Column {
  std::string_view name = {};
  bool must_be = false;
};

// A table whose first row names its columns, and everything wrong with it.
class Table {
 public:
  Table(const Text& text, LengthUnit unit, std::vector<Column> columns)
      : unit_(unit), columns_(std::move(columns)), place_(columns_.size(), -1) {
    rows_ = keep(read_csv(text), faults);
    if (rows_.empty()) {
      fault("trade.no-column", {}, "there is nothing in this file",
            "begin with the columns' names");
      return;
    }
    for (std::size_t i = 0; i < rows_[0].cells.size(); ++i) name_column(rows_[0].cells[i], i);
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      if (!columns_[c].must_be || place_[c] >= 0) continue;
      fault("trade.no-column", rows_[0].at,
            fmt::format("there is no column `{}`", columns_[c].name), "name it in the first row");
      is_readable_ = false;
    }
    if (rows_.size() - 1 > most_rows) {
      fault("trade.too-many", rows_[most_rows + 1].at,
            fmt::format("there are more than {} rows", most_rows), "leave out what is not needed");
      rows_.resize(most_rows + 1);
    }
  }

  [[nodiscard]] std::size_t rows() const {
    return is_readable_ && !rows_.empty() ? rows_.size() - 1 : 0;
  }

  // The row that is read from now on; false from `is_sound` once something in it was wrong.
  void begin(std::size_t row) {
    row_ = row + 1;
    is_sound = true;
    const auto& cells = rows_[row_].cells;
    if (cells.size() > rows_[0].cells.size()) {
      wrong("trade.extra-cell", cells[rows_[0].cells.size()].at, "this cell has no column",
            "put cells that hold a comma between quotes");
    }
  }
  bool is_sound = true;
  Diagnostics faults = {};

  [[nodiscard]] const CsvCell& cell(std::string_view name) const {
    static const CsvCell none;
    const auto c = static_cast<std::size_t>(
        std::find_if(columns_.begin(), columns_.end(),
                     [&](const Column& column) { return column.name == name; }) -
        columns_.begin());
    const auto& cells = rows_[row_].cells;
    const auto at = static_cast<std::size_t>(place_[c]);
    return place_[c] < 0 || at >= cells.size() ? none : cells[at];
  }
  [[nodiscard]] Span row_at() const { return rows_[row_].at; }

  // Zero when the cell is empty.
  Length length(std::string_view name, bool must_be) {
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

  Length length_of(std::string_view words, std::uint32_t at) {
    auto value = parse_length(words, unit_, at);
    for (Diagnostic d : value.diagnostics()) faults.push_back(std::move(d));
    if (!value) is_sound = false;
    return value ? *value : Length();
  }

  int count(std::string_view name) {
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

  // Coins: "4.20", "$4.20", "4.2", "4".
  Money money(std::string_view name, bool must_be) {
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

  void wrong(std::string_view code, Span at, std::string message, std::string hint) {
    is_sound = false;
    fault(code, at, std::move(message), std::move(hint));
  }

 private:
  void name_column(const CsvCell& c, std::size_t index) {
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

  void fault(std::string_view code, Span at, std::string message, std::string hint) {
    faults.push_back(
        {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
  }

  LengthUnit unit_;
  std::vector<Column> columns_;
  std::vector<int> place_;
  std::vector<CsvRow> rows_ = {};
  std::size_t row_ = 1;
  bool is_readable_ = true;
};

// "12 to 14; 30 3/4 to 31"
std::vector<std::pair<Length, Length>> faults_of(Table& table, Length length) {
  std::vector<std::pair<Length, Length>> zones;
  const CsvCell& c = table.cell("faults");
  std::size_t from = 0;
  while (from < c.text.size()) {
    const std::size_t semicolon = std::min(c.text.find(';', from), c.text.size());
    const std::string_view zone = std::string_view(c.text).substr(from, semicolon - from);
    const std::size_t to = zone.find(" to ");
    if (to == zone.npos) {
      table.wrong("trade.bad-fault", c.at, fmt::format("`{}` is no zone of a board", zone),
                  "write from where to where, like 12 to 14; 30 to 31 1/2");
      return zones;
    }
    const auto at = static_cast<std::uint32_t>(c.at.begin + from);
    const Length begin = table.length_of(zone.substr(0, to), at);
    const Length end =
        table.length_of(zone.substr(to + 4), static_cast<std::uint32_t>(at + to + 4));
    if (!table.is_sound) return zones;
    if (begin < Length() || end <= begin || end > length) {
      table.wrong("trade.bad-fault", c.at, fmt::format("`{}` does not lie on the board", zone),
                  "measure along the board, the nearer end first");
      return zones;
    }
    zones.emplace_back(begin, end);
    from = semicolon + 1;
  }
  return zones;
}

}  // namespace

Reading<std::vector<RackBoard>> read_rack(const Text& text, LengthUnit unit) {
  Reading<std::vector<RackBoard>> reading;
  Table table(text, unit,
              {{"length", true},
               {"stock"},
               {"species"},
               {"thickness"},
               {"width"},
               {"count"},
               {"value"},
               {"faults"},
               {"label"}});
  for (std::size_t r = 0; r < table.rows(); ++r) {
    table.begin(r);
    RackBoard board{.label = table.cell("label").text,
                    .stock = table.cell("stock").text,
                    .species = table.cell("species").text,
                    .thickness = table.length("thickness", false),
                    .width = table.length("width", false),
                    .length = table.length("length", true),
                    .count = table.count("count"),
                    .value = table.money("value", false)};
    if (board.stock.empty() && board.thickness == Length() && table.is_sound)
      table.wrong("trade.no-value", table.row_at(),
                  "this row names neither a stock nor a thickness",
                  "write the stock as it is sold, like 2x4, or its thickness and width");
    if (table.is_sound) board.faults = faults_of(table, board.length);
    if (table.is_sound) reading.value.push_back(std::move(board));
  }
  reading.diagnostics = std::move(table.faults);
  return reading;
}

Reading<std::vector<YardPrice>> read_prices(const Text& text, LengthUnit unit) {
  Reading<std::vector<YardPrice>> reading;
  Table table(text, unit,
              {{"stock", true}, {"length", true}, {"price", true}, {"species"}, {"width"}});
  for (std::size_t r = 0; r < table.rows(); ++r) {
    table.begin(r);
    YardPrice price{.stock = table.cell("stock").text,
                    .species = table.cell("species").text,
                    .length = table.length("length", true),
                    .width = table.length("width", false),
                    .price = table.money("price", true)};
    if (price.stock.empty())
      table.wrong("trade.no-value", table.row_at(), "this row has no stock",
                  "write it as it is sold, like 2x4");
    if (table.is_sound) reading.value.push_back(std::move(price));
  }
  reading.diagnostics = std::move(table.faults);
  return reading;
}

Reading<std::vector<OffcutWorth>> read_offcut_worths(const Text& text, LengthUnit unit) {
  Reading<std::vector<OffcutWorth>> reading;
  Table table(text, unit, {{"length", true}, {"worth", true}});
  for (std::size_t r = 0; r < table.rows(); ++r) {
    table.begin(r);
    const OffcutWorth worth{table.length("length", true), table.money("worth", true)};
    if (table.is_sound) reading.value.push_back(worth);
  }
  reading.diagnostics = std::move(table.faults);
  return reading;
}

}  // namespace kw
