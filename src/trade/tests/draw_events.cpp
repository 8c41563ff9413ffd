#include "draw_events.h"

namespace kw::trade {
namespace {

const std::vector<std::string> odd_words = {"",         "2x4",        "plywood 3/4", "\"quoted\"",
                                            "Müller",   "a,b;c\n",    "\\ / \t",     "木",
                                            "size.top", "2' 3 1/8\"", "{}",          "oak, white"};

Money any_money(Dice& dice) {
  return {dice.from(0, 200'000)};
}
Length any_length(Dice& dice) {
  return Length::ticks(dice.from(1, 2'000'000'000)) * 20;
}
double any_figure(Dice& dice, int most) {
  return dice.below(most * 1000) / 1000.0;
}
Day any_day(Dice& dice) {
  return {dice.from(20'000, 22'000)};
}

BoardFacts any_facts(Dice& dice) {
  BoardFacts facts{.stock = "2x4", .species = dice.word(), .length = any_length(dice)};
  if (dice.one_in(2)) {
    facts.stock = "";
    facts.thickness = any_length(dice);
    facts.width = any_length(dice);
  }
  if (dice.one_in(3)) facts.faults = {{Length(), divide(facts.length, 3)}};
  if (dice.one_in(3)) facts.moisture = any_figure(dice, 30);
  facts.value = any_money(dice);
  facts.note = dice.word();
  return facts;
}

std::vector<BoardFacts> any_boards(Dice& dice) {
  std::vector<BoardFacts> boards;
  for (int n = dice.from(1, 5); n > 0; --n) boards.push_back(any_facts(dice));
  return boards;
}

OrderFacts any_order(Dice& dice) {
  OrderFacts facts{.buyer = dice.word(), .piece = dice.word(), .count = dice.from(1, 5)};
  for (int n = dice.below(3); n > 0; --n) facts.sizes.emplace_back(dice.word(), dice.word());
  if (dice.one_in(2)) facts.due = any_day(dice);
  facts.each = any_money(dice);
  facts.note = dice.word();
  return facts;
}

// A number of what stands, or now and then one that may not be there.
template <class Map>
int some_of(Dice& dice, const Map& map) {
  if (map.empty() || dice.one_in(20)) return dice.from(0, 40);
  auto at = map.begin();
  std::advance(at, dice.below(static_cast<int>(map.size())));
  return at->first;
}

std::vector<int> some_boards(Dice& dice, const Books& books, BoardState state) {
  std::vector<int> boards;
  for (const auto& [number, board] : books.boards)
    if (board.state == state && dice.one_in(2) && boards.size() < 4) boards.push_back(number);
  if (boards.empty() || dice.one_in(20)) boards.push_back(some_of(dice, books.boards));
  return boards;
}

SawnBoard sawn(Dice& dice, const RackedBoard& board) {
  SawnBoard sawn{.board = board.number, .strips = dice.from(1, 4)};
  Length left = board.facts.length * sawn.strips;
  Money worth = board.facts.value;
  for (int n = dice.below(3); n > 0; --n) {
    Offcut offcut{.facts = any_facts(dice), .strips = dice.from(1, sawn.strips + 1)};
    offcut.facts.length = divide(board.facts.length, dice.from(7, 20));
    offcut.facts.faults = {};
    offcut.facts.value = {dice.below(static_cast<int>(worth.coins / 2) + 1)};
    worth = worth - offcut.facts.value;
    left -= offcut.facts.length * offcut.strips;
    sawn.offcuts.push_back(offcut);
  }
  sawn.in_waste = divide(left, dice.from(2, 9));
  sawn.in_parts = left - sawn.in_waste;
  if (dice.one_in(20)) sawn.in_parts += Length::ticks(1);
  return sawn;
}

BoardsSawn some_sawing(Dice& dice, const Books& books) {
  BoardsSawn event{.batch = some_of(dice, books.batches)};
  for (const auto& [number, board] : books.boards) {
    const bool is_ours = board.state == BoardState::reserved && board.batch == event.batch;
    if ((is_ours && dice.one_in(2)) || dice.one_in(100)) event.boards.push_back(sawn(dice, board));
  }
  return event;
}

BatchPlanned some_batch(Dice& dice, const Books& books) {
  BatchPlanned event{.name = dice.word()};
  for (const auto& [number, order] : books.orders) {
    const bool is_free = order.batch == 0 && !order.is_cancelled && !order.delivered;
    if ((is_free && dice.one_in(2)) || dice.one_in(50))
      event.lots.push_back({number, order.facts.count, dice.from(1, 500)});
  }
  if (dice.one_in(2)) event.lots.push_back({0, dice.from(1, 9), dice.from(1, 500)});
  if (dice.one_in(2)) event.boards = some_boards(dice, books, BoardState::on_hand);
  if (dice.one_in(2)) event.parts = {{"A", dice.from(1, 9)}, {"B", dice.from(1, 9)}};
  if (dice.one_in(3))
    event.to_buy.push_back({.yard = dice.word(),
                            .stock = "2x4",
                            .length = any_length(dice),
                            .count = dice.from(1, 9),
                            .each = any_money(dice)});
  return event;
}

TimeLogged some_time(Dice& dice, const Books& books) {
  TimeLogged event{.batch = some_of(dice, books.batches), .minutes = any_figure(dice, 600)};
  for (double& amount : event.work.amount) amount = any_figure(dice, 90);
  event.note = dice.word();
  return event;
}

MoneySpent some_spending(Dice& dice, const Books& books) {
  MoneySpent event{.on = static_cast<SpentOn>(dice.below(5)), .what = dice.word()};
  if (event.on == SpentOn::batch) event.batch = some_of(dice, books.batches);
  event.paid = any_money(dice);
  event.tax_back = {dice.below(static_cast<int>(event.paid.coins / 5) + 1)};
  return event;
}

PriceSeen some_price(Dice& dice) {
  PriceSeen event{.yard = dice.word(), .stock = "2x4", .species = dice.word()};
  event.per = static_cast<PricePer>(dice.below(4));
  if (event.per == PricePer::piece || dice.one_in(2)) event.length = any_length(dice);
  if (dice.one_in(2)) event.width = any_length(dice);
  event.price = any_money(dice);
  event.tax_percent = any_figure(dice, 25);
  return event;
}

Event board_event(Dice& dice, const Books& books) {
  switch (dice.below(8)) {
    case 0:
      return BoardsBought{dice.word(), any_boards(dice), any_money(dice),
                          dice.one_in(3) ? some_of(dice, books.batches) : 0};
    case 1:
      return BoardsFound{any_boards(dice)};
    case 2:
      return BoardMeasured{some_of(dice, books.boards), any_facts(dice)};
    case 3:
      return BoardsReserved{some_of(dice, books.batches),
                            some_boards(dice, books, BoardState::on_hand)};
    case 4:
      return BoardsReleased{some_boards(dice, books, BoardState::reserved)};
    case 5:
      return BoardsGone{{some_of(dice, books.boards)}, dice.word()};
    case 6:
      return some_sawing(dice, books);
    default:
      return some_price(dice);
  }
}

Event order_event(Dice& dice, const Books& books) {
  const int order = some_of(dice, books.orders);
  switch (dice.below(9)) {
    case 0:
    case 1:
      return OrderTaken{any_order(dice)};
    case 2:
      return OrderChanged{order, any_order(dice)};
    case 3:
      return dice.one_in(3) ? Event(OrderCancelled{order, dice.word()})
                            : Event(OrderTaken{any_order(dice)});
    case 4:
      return Quoted{order, any_money(dice), any_money(dice), any_day(dice)};
    case 5:
      return Invoiced{order, any_money(dice), any_money(dice)};
    case 6:
      return Paid{order, {dice.from(-50'000, 200'000)}, {dice.below(900)}};
    case 7:
      return Delivered{order};
    default:
      return OrderFromShelf{order, some_of(dice, books.batches)};
  }
}

Event work_event(Dice& dice, const Books& books) {
  switch (dice.below(7)) {
    case 0:
    case 1:
      return some_batch(dice, books);
    case 2:
      return dice.one_in(4) ? Event(BatchDropped{some_of(dice, books.batches)})
                            : Event(some_batch(dice, books));
    case 3:
      return PartsDone{some_of(dice, books.batches), dice.one_in(2) ? "A" : "B", dice.from(-2, 6)};
    case 4:
      return some_time(dice, books);
    case 5:
      return dice.one_in(2) ? Event(SuppliesUsed{
                                  some_of(dice, books.batches), dice.word(), {dice.below(9000)}})
                            : Event(OwnerPaid{{dice.from(-9000, 90'000)}, dice.word()});
    default:
      return some_spending(dice, books);
  }
}

}  // namespace

std::uint64_t Dice::next() {
  state += 0x9E3779B97F4A7C15U;
  std::uint64_t z = state;
  z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
  z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
  return z ^ (z >> 31U);
}

std::string Dice::word() {
  return odd_words[static_cast<std::size_t>(below(static_cast<int>(odd_words.size())))];
}

Entry draw_entry(Dice& dice, const Books& books) {
  Entry entry{.day = any_day(dice)};
  const int kind = dice.below(10);
  if (kind < 4) {
    entry.event = board_event(dice, books);
  } else if (kind < 7) {
    entry.event = order_event(dice, books);
  } else if (kind < 9 || books.entries == 0) {
    entry.event = work_event(dice, books);
  } else {
    entry.event = Undone{dice.from(books.entries > 12 ? books.entries - 12 : 0, books.entries + 2)};
  }
  return entry;
}

Journal draw_journal(Dice& dice, int tries) {
  Journal journal;
  for (int i = 0; i < tries; ++i) {
    Entry entry = draw_entry(dice, journal.books);
    const auto lines = enter(journal, std::move(entry));
  }
  return journal;
}

}  // namespace kw::trade
