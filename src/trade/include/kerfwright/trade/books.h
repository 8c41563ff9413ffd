// What stands in the books, and the one way to change it: an entry is applied as a whole or not at
// all. Money is kept by double entry, so that each entry's lines sum to zero.
//
//   Books books;
//   auto lines = apply(books, {day, BoardsBought{.yard = "Mill", .boards = {board}}});
//   if (!lines) show(lines.diagnostics());  // and `books` is as it was
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/trade/events.h"

namespace kw::trade {

// Where money is, or whither it went. Above zero: what the business has or has spent; below: what
// it owes or has earned.
enum class AccountKind : std::uint8_t {
  cash,
  boards,         // on the rack, also what is reserved
  supplies,       // screws, glue, finish
  in_work,        // by batch: what has gone into it
  owed_by_buyer,  // by order
  cost_of_sales,
  running_costs,
  fees,
  lost,  // boards gone, batches dropped, values put right
  sales,
  tax,    // owed to the state
  owner,  // put in by the owner
};
[[nodiscard]] std::string_view name_of(AccountKind kind);

struct Account {
  AccountKind kind = AccountKind::cash;
  int of = 0;  // the batch or order
  friend constexpr auto operator<=>(const Account&, const Account&) = default;
};
struct Line {
  Account account = {};
  Money amount = {};
  friend bool operator==(const Line&, const Line&) = default;
};

enum class BoardState : std::uint8_t { on_hand, reserved, sawn, gone };
[[nodiscard]] std::string_view name_of(BoardState state);
struct RackedBoard {
  int number = 0;
  BoardFacts facts = {};
  BoardState state = BoardState::on_hand;
  int batch = 0;     // that reserved it or sawed it up
  int cut_from = 0;  // the board that it is an offcut of
  int born_in = 0;   // the batch that left it; 0: came from outside
  Day since = {};
  friend bool operator==(const RackedBoard&, const RackedBoard&) = default;
};

[[nodiscard]] inline bool is_on_rack(const RackedBoard& board) {
  return board.state == BoardState::on_hand || board.state == BoardState::reserved;
}

struct SeenPrice {
  Day day = {};
  PriceSeen seen = {};
  friend bool operator==(const SeenPrice&, const SeenPrice&) = default;
};

struct Order {
  int number = 0;
  OrderFacts facts = {};
  Day taken = {};
  int batch = 0;  // in which it is made; 0: none yet
  std::optional<Quoted> quoted = {};
  std::optional<Invoiced> invoiced = {};
  Money paid = {};
  std::optional<Day> delivered = {};
  bool is_cancelled = false;
  friend bool operator==(const Order&, const Order&) = default;
};

// Strip lengths of boards, as SawnBoard has them: sawn = in_parts + in_waste + in_offcuts.
struct SawnLengths {
  Length sawn = {}, in_parts = {}, in_waste = {}, in_offcuts = {};
  friend bool operator==(const SawnLengths&, const SawnLengths&) = default;
};
struct PartProgress {
  int wanted = 0, done = 0;
  friend bool operator==(const PartProgress&, const PartProgress&) = default;
};
struct Batch {
  int number = 0;
  std::string name = {};
  std::vector<Lot> lots = {};  // not yet delivered
  std::vector<BoardsToBuy> to_buy = {};
  int boards_before =
      0;  // numbers given to boards when it was planned: later ones were bought since
  std::map<std::string, PartProgress> parts = {};
  SawnLengths lengths = {};
  double minutes = 0;  // logged
  bool is_dropped = false;
  [[nodiscard]] bool is_over() const { return is_dropped || lots.empty(); }
  friend bool operator==(const Batch&, const Batch&) = default;
};

struct LoggedTime {
  Day day = {};
  TimeLogged logged = {};
  friend bool operator==(const LoggedTime&, const LoggedTime&) = default;
};

struct Books {
  int entries = 0;       // of the journal, also those undone
  int boards_named = 0;  // numbers given to boards, also of entries undone
  std::map<int, RackedBoard> boards = {};
  std::map<int, Order> orders = {};
  std::map<int, Batch> batches = {};
  std::vector<SeenPrice> prices = {};
  std::vector<LoggedTime> times = {};
  std::map<Account, Money> balances = {};  // those that are not zero
  friend bool operator==(const Books&, const Books&) = default;
};

// Limits, so that no sum can overflow.
inline constexpr Money most_money = {100'000'000'000};  // of one entry
inline constexpr int most_entries = 1'000'000;
inline constexpr std::size_t most_boards = 10'000;  // of one entry; also of other lists in it
inline constexpr int most_numbers = 1'000'000'000;  // given to boards
inline constexpr std::size_t most_text = 400;       // bytes of each text

// Applies the entry as number `books.entries + 1` and gives the lines that it books, or says why
// not and changes nothing. Errors: trade.bad-entry (a text, list or figure beyond its limits),
// trade.money-range, trade.no-such-board, trade.no-such-order, trade.no-such-batch,
// trade.board-not-free, trade.board-not-reserved, trade.twice (a thing named twice in a list),
// trade.length-lost, trade.offcut-dear, trade.batch-over, trade.order-closed,
// trade.order-in-batch, trade.not-on-shelf, trade.no-such-part, trade.too-many-done,
// trade.not-enough-supplies, trade.paid-back, trade.books-full. An `Undone` only counts as an entry
// here: journal.h undoes.
[[nodiscard]] Outcome<std::vector<Line>> apply(Books& books, const Entry& entry);

// Counts an entry that does not stand: its numbers are not given again.
void pass_over(Books& books, const Entry& entry);

[[nodiscard]] Money balance_of(const Books& books, Account account);
// Of all accounts of a kind.
[[nodiscard]] Money balance_of(const Books& books, AccountKind kind);

// `sum` shared out by weights (none below zero), to the coin: each gets its share rounded down, and
// the coins that are left go to the largest remainders, the first of equals (Hamilton's method).
// Empty when no weight is above zero.
[[nodiscard]] std::vector<Money> shares_of(Money sum, const std::vector<std::int64_t>& weights);

}  // namespace kw::trade
