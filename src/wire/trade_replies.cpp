#include "kerfwright/wire/trade_replies.h"

#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/planbook/trade_lists.h"
#include "kerfwright/trade/board_code.h"
#include "kerfwright/wire/trade_requests.h"

#include "json_writer.h"

namespace kw {
namespace {

using trade::AccountKind;
using wire::JsonWriter;

constexpr std::size_t most_prices = 1000, most_journal = 300;
constexpr int days_of_a_week = 7;

std::string text_of(Length length, LengthUnit unit) {
  return length == Length() ? "" : format_length(length, {.unit = unit});
}

void write(JsonWriter& json, std::string_view key, Length length, LengthUnit unit) {
  json.key(key).object();
  json.key("text").text(text_of(length, unit));
  json.key("ticks").number(length.in_ticks()).end();
}

void write(JsonWriter& json, std::string_view key, Money money) {
  json.key(key).number(money.coins);
}

void write(JsonWriter& json, std::string_view key, const std::optional<Money>& money) {
  json.key(key);
  if (money)
    json.number(money->coins);
  else
    json.null();
}

void write(JsonWriter& json, std::string_view key, const std::optional<trade::Day>& day) {
  json.key(key).text_or_null(day ? std::optional(trade::format_day(*day)) : std::nullopt);
}

std::string faults_text(const std::vector<std::pair<Length, Length>>& faults, LengthUnit unit) {
  std::string text;
  for (const auto& [from, to] : faults) {
    text += fmt::format("{}{} to {}", text.empty() ? "" : "; ", format_length(from, {.unit = unit}),
                        format_length(to, {.unit = unit}));
  }
  return text;
}

void write_board(JsonWriter& json, const trade::RackedBoard& board, LengthUnit unit) {
  const trade::BoardFacts& facts = board.facts;
  json.object();
  json.key("number").number(board.number);
  json.key("code").text(trade::code_of(board.number));
  json.key("stock").text(facts.stock).key("species").text(facts.species);
  write(json, "thickness", facts.thickness, unit);
  write(json, "width", facts.width, unit);
  write(json, "length", facts.length, unit);
  json.key("faults").text(faults_text(facts.faults, unit));
  json.key("moisture");
  if (facts.moisture)
    json.number(*facts.moisture);
  else
    json.null();
  write(json, "value", facts.value);
  json.key("note").text(facts.note).key("state").text(name_of(board.state));
  json.key("batch").number(board.batch).key("cut_from").number(board.cut_from);
  json.key("born_in").number(board.born_in);
  json.key("since").text(trade::format_day(board.since)).end();
}

void write_to_buy(JsonWriter& json, std::string_view key,
                  const std::vector<trade::BoardsToBuy>& boards, LengthUnit unit) {
  json.key(key).array();
  for (const auto& b : boards) {
    json.object().key("yard").text(b.yard).key("stock").text(b.stock).key("species").text(
        b.species);
    write(json, "length", b.length, unit);
    write(json, "width", b.width, unit);
    json.key("count").number(b.count);
    write(json, "each", b.each);
    json.end();
  }
  json.end();
}

const trade::ScheduledLoad* load_of(const trade::Schedule& schedule, int batch) {
  const auto found = std::find_if(schedule.loads.begin(), schedule.loads.end(),
                                  [&](const auto& load) { return load.of == batch; });
  return found == schedule.loads.end() ? nullptr : &*found;
}

std::string_view state_of(const trade::Order& order) {
  if (order.is_cancelled) return "cancelled";
  if (order.delivered) return "delivered";
  return order.batch > 0 ? "in batch" : "open";
}

void write_order(JsonWriter& json, const trade::Order& order, const TradeReply& reply) {
  const trade::OrderFacts& facts = order.facts;
  json.object().key("number").number(order.number);
  json.key("buyer").text(facts.buyer).key("piece").text(facts.piece).key("sizes").array();
  for (const auto& [name, formula] : facts.sizes) json.array().text(name).text(formula).end();
  json.end().key("count").number(facts.count);
  write(json, "due", facts.due);
  write(json, "each", facts.each);
  json.key("note").text(facts.note).key("taken").text(trade::format_day(order.taken));
  json.key("batch").number(order.batch).key("state").text(state_of(order));
  const auto sum = [](const auto& paper) {
    return paper ? std::optional(paper->net + paper->tax) : std::nullopt;
  };
  write(json, "quoted", sum(order.quoted));
  write(json, "invoiced", sum(order.invoiced));
  write(json, "paid", order.paid);
  write(json, "owed", balance_of(reply.journal->books, {AccountKind::owed_by_buyer, order.number}));
  const auto* load = order.batch > 0 ? load_of(reply.schedule, order.batch) : nullptr;
  write(json, "promise", load ? std::optional(load->promise) : std::nullopt);
  const bool is_open = !order.is_cancelled && !order.delivered;
  json.key("is_late").truth(is_open && facts.due &&
                            (load ? load->promise > *facts.due : reply.today > *facts.due));
  json.end();
}

void write_batch(JsonWriter& json, const trade::Batch& batch, const TradeReply& reply) {
  json.object().key("number").number(batch.number).key("name").text(batch.name);
  json.key("is_over").truth(batch.is_over()).key("lots").array();
  for (const auto& lot : batch.lots)
    json.object().key("order").number(lot.order).key("count").number(lot.count).end();
  json.end().key("parts").array();
  for (const auto& [part, progress] : batch.parts) {
    json.object().key("part").text(part).key("wanted").number(progress.wanted);
    json.key("done").number(progress.done).end();
  }
  json.end();
  write_to_buy(json, "to_buy", still_to_buy(reply.journal->books, batch.number), reply.unit);
  json.key("minutes").number(batch.minutes);
  json.key("is_sawn").truth(batch.lengths.sawn > Length());
  write(json, "spent", balance_of(reply.journal->books, {AccountKind::in_work, batch.number}));
  const auto* load = load_of(reply.schedule, batch.number);
  write(json, "promise", load ? std::optional(load->promise) : std::nullopt);
  json.end();
}

void write_price(JsonWriter& json, const trade::SeenPrice& price, LengthUnit unit) {
  const trade::PriceSeen& seen = price.seen;
  json.object().key("day").text(trade::format_day(price.day)).key("yard").text(seen.yard);
  json.key("stock").text(seen.stock).key("species").text(seen.species);
  write(json, "length", seen.length.value_or(Length()), unit);
  write(json, "width", seen.width, unit);
  json.key("per").text(trade::price_per_words[static_cast<std::size_t>(seen.per)]);
  write(json, "price", seen.price);
  json.key("tax_percent").number(seen.tax_percent).end();
}

void write_journal(JsonWriter& json, const trade::Journal& journal, const std::string& currency) {
  const std::vector<bool> stands = standing_of(journal.entries);
  json.key("journal").array();
  const std::size_t count = journal.entries.size();
  for (std::size_t i = count; i-- > count - std::min(count, most_journal);) {
    const trade::Entry& entry = journal.entries[i];
    const int number = static_cast<int>(i) + 1;
    json.object().key("number").number(number).key("day").text(trade::format_day(entry.day));
    json.key("event").text(name_of(entry.event)).key("words").text(story_of(entry.event, currency));
    json.key("stands").truth(stands[i]).end();
  }
  json.end();
}

void write_accounts(JsonWriter& json, const trade::Books& books) {
  json.key("accounts").array();
  for (const auto& [account, amount] : books.balances) {
    json.object().key("kind").text(name_of(account.kind)).key("of").number(account.of);
    write(json, "amount", amount);
    json.end();
  }
  json.end();
}

void write_activities(JsonWriter& json, const trade::LabourModel& model) {
  json.key("activities").array();
  for (std::size_t a = 0; a < trade::activities; ++a) {
    json.object().key("name").text(name_of(static_cast<trade::Activity>(a)));
    json.key("minutes").number(model.minutes[a]).key("error").number(model.error[a]).end();
  }
  json.end();
}

// ---- Work

void write_lines(JsonWriter& json, const trade::Cost& cost) {
  json.key("lines").array();
  for (const trade::CostLine& line : cost.lines) {
    json.object().key("kind").text(name_of(line.kind)).key("what").text(line.what);
    json.key("quantity").number(line.quantity).key("unit").text(line.unit);
    write(json, "each", line.each);
    write(json, "total", line.total);
    json.key("basis").text(line.basis).end();
  }
  json.end();
}

void write_sensitivity(JsonWriter& json, const std::optional<trade::Sensitivity>& s) {
  json.key("sensitivity");
  if (!s) {
    json.null();
    return;
  }
  json.object();
  write(json, "lumber_cost", s->cost_for_lumber);
  write(json, "lumber_price", s->price_for_lumber);
  write(json, "hours_cost", s->cost_for_hours);
  write(json, "hours_price", s->price_for_hours);
  json.end();
}

void write_market(JsonWriter& json, const std::optional<trade::MarketPlace>& m) {
  json.key("market");
  if (!m) {
    json.null();
    return;
  }
  json.object().key("cheaper").number(m->cheaper).key("same").number(m->same);
  json.key("dearer").number(m->dearer);
  write(json, "least", m->least);
  write(json, "middle", m->middle);
  write(json, "most", m->most);
  json.end();
}

void write_cost(JsonWriter& json, const CostTold& told) {
  json.object();
  write_lines(json, told.cost);
  write(json, "total", told.cost.total);
  json.key("pieces").number(told.cost.pieces);
  write(json, "each", told.cost.each);
  const trade::Sale sale = told.sale.value_or(trade::Sale{});
  write(json, "price", told.sale ? std::optional(sale.price) : std::nullopt);
  write(json, "tax", sale.tax);
  write(json, "fee", sale.fee);
  write(json, "profit", sale.profit);
  json.key("margin_percent").number(sale.margin * 100);
  write_sensitivity(json, told.sensitivity);
  write_market(json, told.market);
  json.key("parcel");
  if (told.parcel) {
    json.object().key("name").text(told.parcel->name);
    write(json, "price", told.parcel->price);
    json.end();
  } else {
    json.null();
  }
  json.key("minutes").number(told.time.minutes).key("least_minutes").number(told.time.least);
  json.key("most_minutes").number(told.time.most).key("curve").array();
  for (const trade::BatchPoint& point : told.curve) {
    json.object().key("count").number(point.count);
    write(json, "each", point.each);
    write(json, "total", point.total);
    json.key("is_proved").truth(point.is_proved).end();
  }
  json.end().key("words").texts(told.words).end();
}

void write_told(JsonWriter& json, const OrderTold& order) {
  json.object().key("order").number(order.order).key("buyer").text(order.buyer);
  json.key("piece").text(order.piece).key("count").number(order.count);
  write(json, "cost_each", order.cost_each);
  write(json, "price_each", order.price_each);
  write(json, "agreed_each", order.agreed_each);
  json.key("ends").text(trade::format_day(order.load.ends));
  json.key("promise").text(trade::format_day(order.load.promise));
  write(json, "due", order.load.due);
  json.key("is_late").truth(order.load.is_risky).end();
}

void write_batch(JsonWriter& json, const BatchTold& told, LengthUnit unit) {
  json.object().key("name").text(told.name).key("proof").texts(told.proof).key("cost");
  write_cost(json, told.cost);
  json.key("orders").array();
  for (const OrderTold& order : told.orders) write_told(json, order);
  json.end();
  write_to_buy(json, "to_buy", told.to_buy, unit);
  json.key("boards").array();
  for (const int board : told.boards) json.text(trade::code_of(board));
  json.end().key("days").array();
  for (const trade::SawDay& day : told.days) {
    json.object().key("day").text(trade::format_day(day.day)).key("set_ups").number(day.count);
    json.key("minutes").number(day.minutes).end();
  }
  json.end().key("entries").number(told.entries).end();
}

}  // namespace

std::string trade_json(const TradeReply& reply) {
  const trade::Books& books = reply.journal->books;
  JsonWriter json;
  json.object().key("entries").number(books.entries);
  json.key("today").text(trade::format_day(reply.today)).key("shop").raw(shop_json(*reply.shop));
  json.key("boards").array();
  for (const auto& [number, board] : books.boards) {
    if (trade::is_on_rack(board)) write_board(json, board, reply.unit);
  }
  json.end().key("orders").array();
  for (const auto& [number, order] : books.orders) write_order(json, order, reply);
  json.end().key("batches").array();
  for (const auto& [number, batch] : books.batches) write_batch(json, batch, reply);
  json.end().key("prices").array();
  const std::size_t prices = books.prices.size();
  for (std::size_t i = prices; i-- > prices - std::min(prices, most_prices);)
    write_price(json, books.prices[i], reply.unit);
  json.end();
  write_accounts(json, books);
  write_journal(json, *reply.journal, reply.shop->currency);
  write_activities(json, reply.labour);
  write_to_buy(json, "buy_this_week",
               to_buy_until(books, reply.schedule, reply.today + days_of_a_week), reply.unit);
  return json.end().take();
}

std::string bench_batch_json(const trade::Batch& batch, const std::string& token, LengthUnit unit,
                             const std::vector<BenchTick>& ticks) {
  JsonWriter json;
  json.object().key("piece").text(fmt::format("batch-{}", batch.number));
  json.key("title").text(batch.name.empty() ? fmt::format("Batch {}", batch.number) : batch.name);
  json.key("revision").number(0).key("token").text(token);
  json.key("unit").text(unit == LengthUnit::inch ? "in" : "mm").key("cuts").array();
  for (const auto& [part, progress] : batch.parts) {
    json.object().key("id").text(part).key("machine").text("make").key("setting").text("");
    json.key("part").text(part).key("what").text("all of this part");
    json.key("stop").null().key("count").number(std::max(1, progress.wanted));
    json.key("boards").array().end().end();
  }
  json.end().key("ticks").raw(ticks_json(ticks)).end();
  return json.take();
}

std::string trade_work_json(const TradeWorkReply& reply) {
  const TaskReport& report = reply.report;
  JsonWriter json;
  json.object().key("id").number(report.id).key("kind").text(reply.is_batch ? "batch" : "cost");
  json.key("state").text(name_of(report.state)).key("stage").text(report.stage).key("fraction");
  if (report.fraction)
    json.number(*report.fraction);
  else
    json.null();
  json.key("words").text(report.words).key("batch");
  if (reply.batch != nullptr)
    write_batch(json, *reply.batch, reply.unit);
  else
    json.null();
  json.key("cost");
  if (reply.cost != nullptr)
    write_cost(json, *reply.cost);
  else
    json.null();
  return json.end().take();
}

}  // namespace kw
