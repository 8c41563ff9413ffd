// Batches: planned, made part by part, given up.
#include <fmt/format.h>

#include "booking.h"

namespace kw::trade {
namespace {

void check_lots(Booking& booking, const std::vector<Lot>& lots) {
  check_list(booking, "lots", lots.size());
  booking.require(!lots.empty(), "trade.bad-entry", "this batch makes nothing");
  std::set<int> seen;
  for (const Lot& lot : lots) {
    check_count(booking, "pieces", lot.count, 100'000);
    check_count(booking, "a lot's weight", lot.weight, 1'000'000'000);
    if (lot.order == 0) continue;
    const Order* order = booking.open_order(lot.order);
    booking.require(seen.insert(lot.order).second, "trade.twice",
                    fmt::format("order {} is named twice", lot.order));
    if (order == nullptr) continue;
    booking.require(order->batch == 0, "trade.order-in-batch",
                    fmt::format("order {} is made in batch {} already", lot.order, order->batch));
    booking.require(order->facts.count == lot.count, "trade.bad-entry",
                    fmt::format("order {} is for {} pieces, its lot for {}", lot.order,
                                order->facts.count, lot.count));
  }
}

void check_parts(Booking& booking, const std::vector<PartToMake>& parts) {
  check_list(booking, "parts", parts.size());
  std::set<std::string> seen;
  for (const PartToMake& part : parts) {
    check(booking, {part.part});
    check_count(booking, "parts", part.count, 100'000'000);
    booking.require(seen.insert(part.part).second, "trade.twice",
                    fmt::format("part {} is named twice", part.part));
  }
}

void check_to_buy(Booking& booking, const std::vector<BoardsToBuy>& to_buy) {
  check_list(booking, "boards to buy", to_buy.size());
  const Length most = Length::mm(100'000);
  for (const BoardsToBuy& buy : to_buy) {
    check(booking, {buy.yard, buy.stock, buy.species});
    check_count(booking, "boards", buy.count, 100'000);
    check_money(booking, buy.each);
    booking.require(
        buy.length > Length() && buy.length <= most && buy.width >= Length() && buy.width <= most,
        "trade.bad-entry", "a board to buy has a size that no board has");
  }
}

}  // namespace

void book(Booking& booking, const BatchPlanned& event) {
  check(booking, {event.name});
  check_lots(booking, event.lots);
  check_parts(booking, event.parts);
  check_to_buy(booking, event.to_buy);
  if (!event.boards.empty()) check_once(booking, event.boards);
  for (const int board : event.boards) booking.free_board(board);
  if (!booking.is_sound()) return;
  Batch batch{.number = booking.entry,
              .name = event.name,
              .lots = event.lots,
              .to_buy = event.to_buy,
              .boards_before = booking.books.boards_named};
  for (const PartToMake& part : event.parts) batch.parts[part.part] = {part.count, 0};
  for (const Lot& lot : event.lots)
    if (lot.order != 0) booking.books.orders[lot.order].batch = batch.number;
  for (const int number : event.boards) {
    RackedBoard& board = booking.books.boards[number];
    board.state = BoardState::reserved;
    board.batch = batch.number;
  }
  booking.books.batches[batch.number] = std::move(batch);
}

void book(Booking& booking, const BatchDropped& event) {
  Batch* batch = booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  batch->is_dropped = true;
  for (const Lot& lot : batch->lots)
    if (lot.order != 0) booking.books.orders[lot.order].batch = 0;
  booking.release_all(event.batch);
  const Money in_work = balance_of(booking.books, Account{AccountKind::in_work, event.batch});
  booking.book(AccountKind::in_work, event.batch, Money() - in_work);
  booking.book(AccountKind::lost, in_work);
}

void book(Booking& booking, const PartsDone& event) {
  Batch* batch = booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  const auto found = batch->parts.find(event.part);
  if (!booking.require(
          found != batch->parts.end(), "trade.no-such-part",
          fmt::format("batch {} has no part {}", event.batch, event.part.substr(0, most_text))))
    return;
  PartProgress& progress = found->second;
  const std::int64_t done = static_cast<std::int64_t>(progress.done) + event.count;
  if (booking.require(
          done >= 0 && done <= progress.wanted, "trade.too-many-done",
          fmt::format("of part {} there would be {} of {}", event.part, done, progress.wanted),
          "count them again"))
    progress.done = static_cast<int>(done);
}

void book(Booking& booking, const TimeLogged& event) {
  check(booking, {event.note});
  Batch* batch = booking.batch(event.batch);
  check_figure(booking, "minutes", event.minutes, 1e6);
  for (std::size_t a = 0; a < activities; ++a)
    check_figure(booking, name_of(static_cast<Activity>(a)), event.work.amount[a], 1e9);
  if (!booking.is_sound()) return;
  batch->minutes += event.minutes;
  booking.books.times.push_back({booking.day, event});
}

}  // namespace kw::trade
