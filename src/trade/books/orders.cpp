// Orders from the first word to the last coin.
#include <algorithm>
#include <fmt/format.h>

#include "booking.h"

namespace kw::trade {
namespace {

auto lot_of(Batch& batch, int order) {
  return std::find_if(batch.lots.begin(), batch.lots.end(),
                      [&](const Lot& lot) { return lot.order == order; });
}

std::int64_t weight_of(const Lot& lot) {
  return static_cast<std::int64_t>(lot.count) * lot.weight;
}

// What has gone into the batch moves to the cost of sales by the lot's share of what is left.
void take_out(Booking& booking, Batch& batch, int order) {
  std::int64_t rest = 0;
  for (const Lot& lot : batch.lots)
    if (lot.order != order) rest += weight_of(lot);
  const auto lot = lot_of(batch, order);
  const Money in_work = balance_of(booking.books, Account{AccountKind::in_work, batch.number});
  const Money share = shares_of(in_work, {weight_of(*lot), rest})[0];
  booking.book(AccountKind::in_work, batch.number, Money() - share);
  booking.book(AccountKind::cost_of_sales, share);
  batch.lots.erase(lot);
  if (batch.is_over()) booking.release_all(batch.number);
}

void check_unbilled(Booking& booking, const Order* order) {
  if (order == nullptr) return;
  booking.require(!order->invoiced, "trade.order-closed",
                  fmt::format("order {} is invoiced already", order->number),
                  "undo the invoice first");
}

}  // namespace

void book(Booking& booking, const OrderTaken& event) {
  check(booking, event.facts);
  if (!booking.is_sound()) return;
  booking.books.orders[booking.entry] = {
      .number = booking.entry, .facts = event.facts, .taken = booking.day};
}

void book(Booking& booking, const OrderChanged& event) {
  check(booking, event.facts);
  Order* order = booking.open_order(event.order);
  check_unbilled(booking, order);
  if (!booking.is_sound()) return;
  const OrderFacts& now = order->facts;
  booking.require(
      order->batch == 0 || (now.piece == event.facts.piece && now.sizes == event.facts.sizes &&
                            now.count == event.facts.count),
      "trade.order-in-batch",
      fmt::format("order {} is being made in batch {}", event.order, order->batch),
      "its piece, sizes and count stay; take another order, or drop the batch");
  if (booking.is_sound()) order->facts = event.facts;
}

void book(Booking& booking, const OrderCancelled& event) {
  check(booking, {event.why});
  Order* order = booking.open_order(event.order);
  check_unbilled(booking, order);
  if (!booking.is_sound()) return;
  order->is_cancelled = true;
  if (order->batch != 0) lot_of(booking.books.batches[order->batch], event.order)->order = 0;
}

void book(Booking& booking, const Quoted& event) {
  Order* order = booking.open_order(event.order);
  check_money(booking, event.net);
  check_money(booking, event.tax);
  booking.require(event.valid_until >= first_day && event.valid_until <= last_day,
                  "trade.bad-entry", "the quote holds until no day that the books know");
  if (booking.is_sound()) order->quoted = event;
}

void book(Booking& booking, const Invoiced& event) {
  Order* order = booking.order(event.order);
  check_money(booking, event.net);
  check_money(booking, event.tax);
  if (order != nullptr) {
    booking.require(!order->is_cancelled, "trade.order-closed",
                    fmt::format("order {} is cancelled already", event.order));
    check_unbilled(booking, order);
  }
  if (!booking.is_sound()) return;
  order->invoiced = event;
  booking.book(AccountKind::owed_by_buyer, event.order, event.net + event.tax);
  booking.book(AccountKind::sales, Money() - event.net);
  booking.book(AccountKind::tax, Money() - event.tax);
}

void book(Booking& booking, const Paid& event) {
  Order* order = booking.order(event.order);
  check_money(booking, event.amount, Money() - most_money);
  check_money(booking, event.fee);
  if (!booking.is_sound()) return;
  booking.require(order->paid + event.amount >= Money(), "trade.paid-back",
                  fmt::format("more would be paid back than was paid for order {}", event.order));
  check_money(booking, order->paid + event.amount, Money() - most_money);
  if (!booking.is_sound()) return;
  order->paid = order->paid + event.amount;
  booking.book(AccountKind::cash, event.amount - event.fee);
  booking.book(AccountKind::fees, event.fee);
  booking.book(AccountKind::owed_by_buyer, event.order, Money() - event.amount);
}

void book(Booking& booking, const Delivered& event) {
  Order* order = booking.open_order(event.order);
  if (!booking.is_sound()) return;
  order->delivered = booking.day;
  if (order->batch != 0) take_out(booking, booking.books.batches[order->batch], event.order);
}

void book(Booking& booking, const OrderFromShelf& event) {
  Order* order = booking.open_order(event.order);
  Batch* batch = booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  booking.require(order->batch == 0, "trade.order-in-batch",
                  fmt::format("order {} is made in batch {} already", event.order, order->batch));
  const auto lot = std::find_if(batch->lots.begin(), batch->lots.end(), [&](const Lot& each) {
    return each.order == 0 && each.count >= order->facts.count;
  });
  booking.require(
      lot != batch->lots.end(), "trade.not-on-shelf",
      fmt::format("batch {} has no {} pieces for the shelf", event.batch, order->facts.count));
  if (!booking.is_sound()) return;
  order->batch = event.batch;
  const Lot taken{event.order, order->facts.count, lot->weight};
  lot->count -= taken.count;
  if (lot->count == 0) batch->lots.erase(lot);
  batch->lots.push_back(taken);
}

}  // namespace kw::trade
