#include <array>
#include <fmt/format.h>

#include "booking.h"

namespace kw::trade {
namespace {

// In the order of `Event`.
constexpr std::array<std::string_view, std::variant_size_v<Event>> event_names = {
    "boards-bought",    "boards-found",  "board-measured",  "boards-reserved",
    "boards-released",  "boards-gone",   "boards-sawn",     "price-seen",
    "order-taken",      "order-changed", "order-cancelled", "quoted",
    "invoiced",         "paid",          "delivered",       "batch-planned",
    "order-from-shelf", "batch-dropped", "parts-done",      "time-logged",
    "money-spent",      "supplies-used", "owner-paid",      "undone"};

// How many boards an entry gives numbers to.
int boards_named_by(const Event& event) {
  std::size_t count = 0;
  if (const auto* bought = std::get_if<BoardsBought>(&event)) count = bought->boards.size();
  if (const auto* found = std::get_if<BoardsFound>(&event)) count = found->boards.size();
  if (const auto* sawn = std::get_if<BoardsSawn>(&event))
    for (const SawnBoard& board : sawn->boards) count += board.offcuts.size();
  return static_cast<int>(count);
}

void post(std::map<Account, Money>& balances, const Line& line) {
  Money& balance = balances[line.account];
  balance = balance + line.amount;
  if (balance == Money()) balances.erase(line.account);
}

}  // namespace

std::string_view name_of(const Event& event) {
  return event_names[event.index()];
}

Outcome<std::vector<Line>> apply(Books& books, const Entry& entry) {
  Booking booking{.books = books, .day = entry.day, .entry = books.entries + 1};
  booking.require(books.entries < most_entries && books.boards_named < most_numbers,
                  "trade.books-full", fmt::format("the books hold {} entries", most_entries),
                  "close them and begin new ones with what stands");
  booking.require(entry.day >= first_day && entry.day <= last_day, "trade.bad-entry",
                  "the entry is of no day that the books know");
  if (booking.is_sound()) std::visit([&](const auto& event) { book(booking, event); }, entry.event);
  if (!booking.is_sound()) return std::move(booking.faults);
  Money sum;
  for (const Line& line : booking.lines) {
    post(books.balances, line);
    sum = sum + line.amount;
  }
  KW_ASSERT(sum == Money());
  ++books.entries;
  return std::move(booking.lines);
}

void pass_over(Books& books, const Entry& entry) {
  ++books.entries;
  books.boards_named += boards_named_by(entry.event);
}

Money balance_of(const Books& books, Account account) {
  const auto found = books.balances.find(account);
  return found == books.balances.end() ? Money() : found->second;
}

Money balance_of(const Books& books, AccountKind kind) {
  Money sum;
  for (auto i = books.balances.lower_bound({kind, 0});
       i != books.balances.end() && i->first.kind == kind; ++i)
    sum = sum + i->second;
  return sum;
}

}  // namespace kw::trade
