#include "kerfwright/planbook/trade_lists.h"

#include <fmt/format.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/trade/batch.h"
#include "kerfwright/trade/board_code.h"

namespace kw {
namespace {

constexpr Align left = Align::left, right = Align::right;

std::string text_of(Length length, LengthUnit unit) {
  return length == Length() ? "" : format_length(length, {.unit = unit});
}

std::string or_nothing(int number) {
  return number == 0 ? "" : fmt::format("{}", number);
}

std::string state_of(const trade::Order& order) {
  if (order.is_cancelled) return "cancelled";
  if (order.delivered) return "delivered " + trade::format_day(*order.delivered);
  return order.batch == 0 ? "open" : fmt::format("in batch {}", order.batch);
}

std::string_view per_of(trade::PricePer per) {
  switch (per) {
    case trade::PricePer::piece:
      return "each";
    case trade::PricePer::foot:
      return "a foot";
    case trade::PricePer::metre:
      return "a metre";
    case trade::PricePer::board_foot:
      return "a board foot";
  }
  return "";
}

}  // namespace

Table rack_table(const trade::Books& books, LengthUnit unit, const std::string& currency) {
  Table table{.heads = {"code", "stock", "wood", "thick", "wide", "long", "worth", "state", "note"},
              .aligns = {left, left, left, right, right, right, right, left, left}};
  for (const auto& [number, board] : books.boards) {
    if (!trade::is_on_rack(board)) continue;
    const trade::BoardFacts& facts = board.facts;
    std::string state(name_of(board.state));
    if (board.batch != 0) state += fmt::format(" for batch {}", board.batch);
    table.rows.push_back({trade::code_of(number), facts.stock, facts.species,
                          text_of(facts.thickness, unit), text_of(facts.width, unit),
                          text_of(facts.length, unit), written(facts.value, currency), state,
                          facts.note});
  }
  return table;
}

Table orders_table(const trade::Books& books, const std::string& currency) {
  Table table{.heads = {"order", "buyer", "piece", "count", "due", "each", "owed", "state"},
              .aligns = {right, left, left, right, left, right, right, left}};
  for (const auto& [number, order] : books.orders) {
    const trade::OrderFacts& facts = order.facts;
    const Money owed = balance_of(books, {trade::AccountKind::owed_by_buyer, number});
    table.rows.push_back({fmt::format("{}", number), facts.buyer, facts.piece,
                          fmt::format("{}", facts.count),
                          facts.due ? trade::format_day(*facts.due) : "",
                          written(facts.each, currency), written(owed, currency), state_of(order)});
  }
  return table;
}

Table batches_table(const trade::Books& books, const std::string& currency) {
  Table table{
      .heads = {"batch", "name", "orders", "parts done", "to buy", "hours", "gone in", "state"},
      .aligns = {right, left, left, right, right, right, right, left}};
  for (const auto& [number, batch] : books.batches) {
    std::string orders;
    for (const trade::Lot& lot : batch.lots)
      orders += (orders.empty() ? "" : ", ") + or_nothing(lot.order);
    int wanted = 0, done = 0, boards = 0;
    for (const auto& [part, progress] : batch.parts)
      wanted += progress.wanted, done += progress.done;
    for (const auto& line : still_to_buy(books, number)) boards += line.count;
    const Money spent = balance_of(books, {trade::AccountKind::in_work, number});
    table.rows.push_back({fmt::format("{}", number), batch.name, orders,
                          fmt::format("{} of {}", done, wanted), fmt::format("{}", boards),
                          fmt::format("{:.1f}", batch.minutes / 60), written(spent, currency),
                          batch.is_dropped                ? "dropped"
                          : batch.is_over()               ? "over"
                          : batch.lengths.sawn > Length() ? "sawn"
                                                          : "planned"});
  }
  return table;
}

Table prices_table(const trade::Books& books, LengthUnit unit, const std::string& currency) {
  Table table{.heads = {"day", "yard", "stock", "wood", "long", "price", "per", "tax"},
              .aligns = {left, left, left, left, right, right, left, right}};
  for (const trade::SeenPrice& price : books.prices) {
    const trade::PriceSeen& seen = price.seen;
    table.rows.push_back({trade::format_day(price.day), seen.yard, seen.stock, seen.species,
                          seen.length ? text_of(*seen.length, unit) : "any",
                          written(seen.price, currency), std::string(per_of(seen.per)),
                          fmt::format("{:g} %", seen.tax_percent)});
  }
  return table;
}

Table to_buy_table(const std::vector<trade::BoardsToBuy>& boards, LengthUnit unit,
                   const std::string& currency) {
  Table table{.heads = {"count", "stock", "wood", "long", "each", "together"},
              .aligns = {right, left, left, right, right, right}};
  for (const trade::BoardsToBuy& b : boards) {
    table.rows.push_back({fmt::format("{}", b.count), b.stock, b.species, text_of(b.length, unit),
                          written(b.each, currency), written(b.each * b.count, currency)});
  }
  return table;
}

Table accounts_table(const trade::Books& books, const std::string& currency) {
  Table table{.heads = {"account", "of", "amount"}, .aligns = {left, right, right}};
  for (const auto& [account, amount] : books.balances) {
    table.rows.push_back(
        {std::string(name_of(account.kind)), or_nothing(account.of), written(amount, currency)});
  }
  return table;
}

Table journal_table(const trade::Journal& journal, const std::string& currency) {
  Table table{.heads = {"entry", "day", "what", ""}, .aligns = {right, left, left, left}};
  const std::vector<bool> stands = standing_of(journal.entries);
  for (std::size_t i = 0; i < journal.entries.size(); ++i) {
    const trade::Entry& entry = journal.entries[i];
    table.rows.push_back({fmt::format("{}", i + 1), trade::format_day(entry.day),
                          story_of(entry.event, currency), stands[i] ? "" : "undone"});
  }
  return table;
}

Table cost_table(const trade::Cost& cost, const std::string& currency) {
  Table table{.heads = {"for", "what", "quantity", "each", "together", "rests on"},
              .aligns = {left, left, right, right, right, left}};
  for (const trade::CostLine& line : cost.lines) {
    table.rows.push_back({std::string(name_of(line.kind)), line.what,
                          fmt::format("{:.4g} {}", line.quantity, line.unit),
                          line.each == Money() ? "" : written(line.each, currency),
                          written(line.total, currency), line.basis});
  }
  table.rows.push_back({"in all", "", "", "", written(cost.total, currency), ""});
  return table;
}

Table curve_table(const std::vector<trade::BatchPoint>& curve, const std::string& currency) {
  Table table{.heads = {"made in one go", "each", "together", "boards"},
              .aligns = {right, right, right, left}};
  for (const trade::BatchPoint& point : curve) {
    table.rows.push_back(
        {fmt::format("{}", point.count), written(point.each, currency),
         written(point.total, currency),
         point.is_proved ? "no cheaper way, proved" : "a cheaper way may be left"});
  }
  return table;
}

}  // namespace kw
