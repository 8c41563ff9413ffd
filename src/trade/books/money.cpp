// Money in and out that is neither a board's nor an order's, and shares to the coin.
#include <algorithm>
#include <fmt/format.h>
#include <numeric>

#include "booking.h"

namespace kw::trade {
namespace {

// sum x weight needs more than 64 bits.
__extension__ using Wide = __int128;

AccountKind account_of(SpentOn on) {
  switch (on) {
    case SpentOn::supplies:
      return AccountKind::supplies;
    case SpentOn::batch:
      return AccountKind::in_work;
    case SpentOn::running:
      return AccountKind::running_costs;
    case SpentOn::fees:
      return AccountKind::fees;
    case SpentOn::tax:
      return AccountKind::tax;
  }
  return AccountKind::running_costs;
}

}  // namespace

void book(Booking& booking, const MoneySpent& event) {
  check(booking, {event.what});
  check_money(booking, event.paid);
  booking.require(event.tax_back >= Money() && event.tax_back <= event.paid, "trade.money-range",
                  "more tax would come back than was paid");
  booking.require((event.on == SpentOn::batch) == (event.batch != 0), "trade.bad-entry",
                  "money is spent on a batch, or else names none");
  if (event.on == SpentOn::batch) booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  booking.book(account_of(event.on), event.batch, event.paid - event.tax_back);
  booking.book(AccountKind::tax, event.tax_back);
  booking.book(AccountKind::cash, Money() - event.paid);
}

void book(Booking& booking, const SuppliesUsed& event) {
  check(booking, {event.what});
  check_money(booking, event.value);
  booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  const Money there = balance_of(booking.books, AccountKind::supplies);
  booking.require(event.value <= there, "trade.not-enough-supplies",
                  fmt::format("supplies for {} coins are used, but there are only some for {}",
                              event.value.coins, there.coins),
                  "book what was bought first");
  if (!booking.is_sound()) return;
  booking.book(AccountKind::in_work, event.batch, event.value);
  booking.book(AccountKind::supplies, Money() - event.value);
}

void book(Booking& booking, const OwnerPaid& event) {
  check(booking, {event.note});
  check_money(booking, event.amount, Money() - most_money);
  if (!booking.is_sound()) return;
  booking.book(AccountKind::cash, event.amount);
  booking.book(AccountKind::owner, Money() - event.amount);
}

void book(Booking& /*booking*/, const Undone& /*event*/) {}

std::vector<Money> shares_of(Money sum, const std::vector<std::int64_t>& weights) {
  const Wide all = std::accumulate(weights.begin(), weights.end(), Wide{0});
  if (all <= 0) return {};
  const Wide whole = sum.coins < 0 ? -Wide{sum.coins} : Wide{sum.coins};
  std::vector<Money> shares(weights.size());
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  Wide left = whole;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    shares[i].coins = static_cast<std::int64_t>(whole * weights[i] / all);
    left -= shares[i].coins;
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return whole * weights[a] % all > whole * weights[b] % all;
  });
  for (std::size_t i = 0; left > 0; ++i, --left) ++shares[order[i]].coins;
  if (sum.coins < 0)
    for (Money& share : shares) share.coins = -share.coins;
  return shares;
}

}  // namespace kw::trade
