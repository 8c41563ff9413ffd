#include "kerfwright/trade/yard_files.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"
#include "kerfwright/trade/board_code.h"

#include "csv_table.h"

namespace kw {
namespace {

using trade::csv_row;
using trade::CsvTable;
using trade::money_text;

// "12 to 14; 30 3/4 to 31"
std::vector<std::pair<Length, Length>> faults_of(CsvTable& table, Length length) {
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

std::string faults_text(const RackBoard& board, LengthUnit unit) {
  std::vector<std::string> zones;
  for (const auto& [from, to] : board.faults)
    zones.push_back(exact_text(from, unit) + " to " + exact_text(to, unit));
  return fmt::format("{}", fmt::join(zones, "; "));
}

std::string size_text(Length size, LengthUnit unit) {
  return size == Length() ? "" : exact_text(size, unit);
}

trade::PricePer per_in(CsvTable& table) {
  const CsvCell& cell = table.cell("per");
  const auto found =
      std::find(trade::price_per_words.begin(), trade::price_per_words.end(), cell.text);
  if (found != trade::price_per_words.end() || cell.text.empty())
    return cell.text.empty() ? trade::PricePer::piece
                             : static_cast<trade::PricePer>(found - trade::price_per_words.begin());
  table.wrong("trade.bad-per", cell.at, fmt::format("`{}` is nothing that is priced", cell.text),
              fmt::format("write one of {}", fmt::join(trade::price_per_words, ", ")));
  return {};
}

double tax_in(CsvTable& table) {
  const CsvCell& cell = table.cell("tax");
  double percent = 0;
  const char* end = cell.text.data() + cell.text.size();
  const auto read = std::from_chars(cell.text.data(), end, percent);
  const bool is_tax = read.ec == std::errc() && read.ptr == end && percent >= 0 && percent <= 100;
  if (is_tax || cell.text.empty()) return percent;
  table.wrong("trade.bad-tax", cell.at, fmt::format("`{}` is no tax in percent", cell.text),
              "write a number, like 8.25");
  return 0;
}

trade::SeenPrice seen_price_in(CsvTable& table) {
  trade::SeenPrice price;
  const CsvCell& day = table.cell("day");
  if (const auto parsed = trade::parse_day(day.text, day.at.begin))
    price.day = *parsed;
  else
    table.wrong("trade.bad-day", day.text.empty() ? table.row_at() : day.at,
                parsed.diagnostics()[0].message, parsed.diagnostics()[0].hint);
  price.seen = {.yard = table.cell("yard").text,
                .stock = table.cell("stock").text,
                .species = table.cell("species").text,
                .width = table.length("width", false),
                .per = per_in(table),
                .price = table.money("price", true),
                .tax_percent = tax_in(table)};
  const Length length = table.length("length", price.seen.per == trade::PricePer::piece);
  if (length != Length()) price.seen.length = length;
  return price;
}

}  // namespace

std::string exact_text(Length length, LengthUnit unit) {
  const bool is_fraction = length.in_ticks() % (Length::ticks_per_inch / 256) == 0;
  if (unit == LengthUnit::inch && is_fraction) return format_length(length, {.unit = unit});
  return format_length(length, {.unit = LengthUnit::mm, .decimals = 8});
}

Reading<std::vector<RackBoard>> read_rack(const Text& text, LengthUnit unit) {
  Reading<std::vector<RackBoard>> reading;
  CsvTable table(text, unit,
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
  CsvTable table(text, unit,
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
  CsvTable table(text, unit, {{"length", true}, {"worth", true}});
  for (std::size_t r = 0; r < table.rows(); ++r) {
    table.begin(r);
    const OffcutWorth worth{table.length("length", true), table.money("worth", true)};
    if (table.is_sound) reading.value.push_back(worth);
  }
  reading.diagnostics = std::move(table.faults);
  return reading;
}

Reading<std::vector<trade::SeenPrice>> read_seen_prices(const Text& text, LengthUnit unit) {
  Reading<std::vector<trade::SeenPrice>> reading;
  CsvTable table(text, unit,
                 {{"day", true},
                  {"yard", true},
                  {"stock", true},
                  {"species"},
                  {"length"},
                  {"width"},
                  {"per"},
                  {"price", true},
                  {"tax"}});
  for (std::size_t r = 0; r < table.rows(); ++r) {
    table.begin(r);
    trade::SeenPrice price = seen_price_in(table);
    if (price.seen.stock.empty())
      table.wrong("trade.no-value", table.row_at(), "this row has no stock",
                  "write it as it is sold, like 2x4");
    if (table.is_sound) reading.value.push_back(std::move(price));
  }
  reading.diagnostics = std::move(table.faults);
  return reading;
}

std::vector<trade::BoardFacts> boards_of(const std::vector<RackBoard>& rack) {
  std::vector<trade::BoardFacts> boards;
  for (const RackBoard& board : rack) {
    const trade::BoardFacts facts{.stock = board.stock,
                                  .species = board.species,
                                  .thickness = board.thickness,
                                  .width = board.width,
                                  .length = board.length,
                                  .faults = board.faults,
                                  .value = board.value,
                                  .note = trade::read_code(board.label) ? "" : board.label};
    boards.insert(boards.end(), static_cast<std::size_t>(std::max(board.count, 0)), facts);
  }
  return boards;
}

std::string write_rack(const std::vector<RackBoard>& rack, LengthUnit unit) {
  std::string text = "label,stock,species,thickness,width,length,count,value,faults\n";
  for (const RackBoard& b : rack) {
    text += csv_row({b.label, b.stock, b.species, size_text(b.thickness, unit),
                     size_text(b.width, unit), exact_text(b.length, unit), std::to_string(b.count),
                     money_text(b.value), faults_text(b, unit)});
  }
  return text;
}

std::string write_prices(const std::vector<YardPrice>& prices, LengthUnit unit) {
  std::string text = "stock,species,length,width,price\n";
  for (const YardPrice& p : prices) {
    text += csv_row({p.stock, p.species, exact_text(p.length, unit), size_text(p.width, unit),
                     money_text(p.price)});
  }
  return text;
}

std::string write_seen_prices(const std::vector<trade::SeenPrice>& prices, LengthUnit unit) {
  std::string text = "day,yard,stock,species,length,width,per,price,tax\n";
  for (const trade::SeenPrice& p : prices) {
    text +=
        csv_row({format_day(p.day), p.seen.yard, p.seen.stock, p.seen.species,
                 size_text(p.seen.length.value_or(Length()), unit), size_text(p.seen.width, unit),
                 std::string(trade::price_per_words[static_cast<std::size_t>(p.seen.per)]),
                 money_text(p.seen.price), fmt::format("{}", p.seen.tax_percent)});
  }
  return text;
}

}  // namespace kw
