#include "instance_csv.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/diag/csv.h"
#include "kerfwright/measure/text.h"

namespace kw::cutting {
namespace {

constexpr std::array<std::string_view, 10> columns = {"row",   "name",   "length", "width", "count",
                                                      "price", "faults", "left",   "right", "lie"};
constexpr int most_count = 1'000'000;

class Reader {
 public:
  explicit Reader(const Text& text) { rows_ = keep(read_csv(text), faults_); }

  Outcome<Instance> run() {
    if (has_errors(faults_) || !read_head()) return std::move(faults_);
    for (std::size_t r = 1; r < rows_.size(); ++r) {
      row_ = &rows_[r];
      read_row();
    }
    if (has_errors(faults_)) return std::move(faults_);
    if (is_flat_) return Instance{std::move(sheets_), false};
    return Instance{std::move(problem_), false};
  }

 private:
  bool read_head() {
    place_.fill(-1);
    if (rows_.empty()) {
      fault("solve.no-shape", {}, "there is nothing in this file",
            "docs/sawing.md has the layouts");
      return false;
    }
    for (std::size_t i = 0; i < rows_[0].cells.size(); ++i) {
      const CsvCell& c = rows_[0].cells[i];
      const auto column = std::find(columns.begin(), columns.end(), c.text);
      if (column == columns.end()) {
        fault("solve.no-shape", c.at, fmt::format("no column is called `{}`", c.text),
              fmt::format("the columns are {}", fmt::join(columns, ", ")));
      } else {
        place_[static_cast<std::size_t>(column - columns.begin())] = static_cast<int>(i);
      }
    }
    if (place_[0] < 0 && faults_.empty())
      fault("solve.no-shape", rows_[0].at, "there is no column `row`", "begin with it");
    return faults_.empty();
  }

  [[nodiscard]] const CsvCell& cell(std::string_view name) const {
    static const CsvCell none;
    const auto at = place_[static_cast<std::size_t>(
        std::find(columns.begin(), columns.end(), name) - columns.begin())];
    const auto i = static_cast<std::size_t>(at);
    return at < 0 || i >= row_->cells.size() ? none : row_->cells[i];
  }

  void read_row() {
    const std::string& kind = cell("row").text;
    if (kind == "unit") {
      const CsvCell& c = cell("name");
      if (c.text != "mm" && c.text != "in")
        fault("solve.unknown-row", c.text.empty() ? row_->at : c.at,
              fmt::format("`{}` is no unit", c.text), "in or mm");
      unit_ = c.text == "mm" ? LengthUnit::mm : LengthUnit::inch;
      problem_.unit = sheets_.unit = unit_;
    } else if (kind == "kerf") {
      problem_.saw.kerf = sheets_.kerf = length("length");
    } else if (kind == "trim") {
      const Length trim = length("length");
      problem_.saw.end_trim = trim;
      sheets_.trim = {trim, trim, trim, trim};
    } else if (kind == "offcut") {
      problem_.shortest_offcut = length("length");
    } else if (kind == "width") {
      problem_.width = length("length");
    } else if (kind == "stock") {
      read_stock();
    } else if (kind == "part") {
      read_part();
    } else {
      fault("solve.unknown-row", cell("row").at, fmt::format("no row is called `{}`", kind),
            "unit, kerf, trim, offcut, width, stock or part");
    }
  }

  void read_stock() {
    const Money price = money();
    const CsvCell& c = cell("count");
    std::optional<int> count;
    if (!c.text.empty()) count = number(c);
    const Length along = length("length");
    if (!cell("width").text.empty()) {
      is_flat_ = true;
      if (const CsvCell& f = cell("faults"); !f.text.empty())
        fault("solve.bad-fault", f.at, "sheets are not planned round faults",
              "leave the faults out, or the sheet");
      sheets_.sheets.push_back({cell("name").text, along, length("width"), price, count});
    }
    problem_.stocks.push_back({cell("name").text, along, price, count, faults_on(along)});
  }

  // "12 to 14; 30 3/4 to 31"
  std::vector<FaultyZone> faults_on(Length along) {
    const CsvCell& c = cell("faults");
    std::vector<FaultyZone> zones;
    for (std::size_t from = 0; from < c.text.size();) {
      const std::size_t semicolon = std::min(c.text.find(';', from), c.text.size());
      const std::string_view zone = std::string_view(c.text).substr(from, semicolon - from);
      const std::size_t middle = std::min(zone.find(" to "), zone.size());
      const std::size_t behind = std::min(middle + 4, zone.size());
      const auto at = static_cast<std::uint32_t>(c.at.begin + from);
      const auto begin = keep(parse_length(zone.substr(0, middle), unit_, at), faults_);
      const auto end =
          keep(parse_length(zone.substr(behind), unit_, static_cast<std::uint32_t>(at + behind)),
               faults_);
      if (!begin || !end) return {};
      if (*begin < Length() || *end <= *begin || *end > along) {
        fault("solve.bad-fault", c.at, fmt::format("`{}` does not lie on the stock", zone),
              "write from where to where, the nearer end first, like 12 to 14; 30 to 31 1/2");
        return {};
      }
      zones.push_back({*begin, *end - *begin});
      from = semicolon + 1;
    }
    return zones;
  }

  void read_part() {
    const CsvCell& c = cell("count");
    const int count = c.text.empty() ? 1 : number(c);
    const Length along = length("length");
    const std::string& lie = cell("lie").text;
    const bool is_known =
        lie.empty() || lie == "fixed" || lie == "flip" || lie == "turn" || lie == "both";
    if (!is_known)
      fault("solve.unknown-row", cell("lie").at, fmt::format("`{}` is no way to lie", lie),
            "fixed, flip, turn or both");
    if (!cell("width").text.empty()) {
      sheets_.parts.push_back({.name = cell("name").text,
                               .length = along,
                               .width = length("width"),
                               .count = count,
                               .may_turn = lie == "turn" || lie == "both"});
    }
    problem_.demands.push_back({.name = cell("name").text,
                                .length = along,
                                .count = count,
                                .left_slope = slope("left"),
                                .right_slope = slope("right"),
                                .may_flip = lie.empty() || lie == "flip" || lie == "both",
                                .may_turn = lie.empty() || lie == "turn" || lie == "both"});
  }

  Length length(std::string_view name) {
    const CsvCell& c = cell(name);
    if (c.text.empty()) {
      fault("solve.no-value", row_->at, fmt::format("this row has no {}", name),
            "write it in its column");
      return {};
    }
    return keep(parse_length(c.text, unit_, c.at.begin), faults_).value_or(Length());
  }

  // Degrees from square, as a slope.
  double slope(std::string_view name) {
    const CsvCell& c = cell(name);
    if (c.text.empty() || c.text == "0") return 0;
    const auto angle = keep(parse_angle(c.text, c.at.begin), faults_);
    return angle ? std::tan(angle->in_radians()) : 0;
  }

  int number(const CsvCell& c) {
    int value = 0;
    const char* const end = c.text.data() + c.text.size();
    const auto [to, error] = std::from_chars(c.text.data(), end, value);
    if (error == std::errc() && to == end && value >= 0 && value <= most_count) return value;
    fault("solve.not-a-number", c.at, fmt::format("`{}` is no count", c.text),
          fmt::format("a whole number, 0 to {}", most_count));
    return 0;
  }

  // In whole coins: a price of 4.20 is 420.
  Money money() {
    const CsvCell& c = cell("price");
    if (c.text.empty()) return {};
    const std::size_t point = std::min(c.text.find('.'), c.text.size());
    std::string digits = c.text.substr(0, point);
    std::string small = point < c.text.size() ? c.text.substr(point + 1) : "";
    const bool is_short = small.size() <= 2;
    small.resize(2, '0');
    digits += small;
    std::int64_t coins = 0;
    const char* const end = digits.data() + digits.size();
    const auto [to, error] = std::from_chars(digits.data(), end, coins);
    if (is_short && error == std::errc() && to == end && coins >= 0) return {coins};
    fault("solve.not-a-number", c.at, fmt::format("`{}` is no price", c.text),
          "write it like 4.20");
    return {};
  }

  void fault(std::string_view code, Span at, std::string message, std::string hint) {
    faults_.push_back(
        {.code = code, .at = at, .message = std::move(message), .hint = std::move(hint)});
  }

  std::vector<CsvRow> rows_ = {};
  const CsvRow* row_ = nullptr;
  std::array<int, columns.size()> place_ = {};
  LengthUnit unit_ = LengthUnit::inch;
  bool is_flat_ = false;
  Problem problem_ = {};
  SheetProblem sheets_ = {};
  Diagnostics faults_ = {};
};

}  // namespace

Outcome<Instance> read_csv_instance(const Text& text) {
  return Reader(text).run();
}

}  // namespace kw::cutting
