// Boards in, out, and sawn up.
#include <fmt/format.h>

#include "kerfwright/trade/board_code.h"

#include "booking.h"

namespace kw::trade {
namespace {

Money value_of(const SawnBoard& sawn) {
  Money sum;
  for (const Offcut& offcut : sawn.offcuts) sum = sum + offcut.facts.value;
  return sum;
}

Length in_offcuts(const SawnBoard& sawn) {
  Length sum;
  for (const Offcut& offcut : sawn.offcuts) sum += offcut.facts.length * offcut.strips;
  return sum;
}

void check_lengths(Booking& booking, const SawnBoard& sawn, Length whole) {
  const bool is_strips = sawn.strips >= 0 && sawn.strips <= 1'000;
  booking.require(is_strips, "trade.bad-entry",
                  fmt::format("{} is no number of strips", sawn.strips), "0 to 1000");
  for (const Offcut& offcut : sawn.offcuts) {
    booking.require(offcut.strips >= 0 && offcut.strips <= sawn.strips, "trade.bad-entry",
                    "an offcut has more strips than its board");
    check(booking, offcut.facts);
  }
  if (!booking.is_sound()) return;
  const bool is_told = sawn.in_parts >= Length() && sawn.in_waste >= Length() &&
                       sawn.in_parts <= whole * sawn.strips && sawn.in_waste <= whole * sawn.strips;
  booking.require(
      is_told && whole * sawn.strips == sawn.in_parts + sawn.in_waste + in_offcuts(sawn),
      "trade.length-lost",
      fmt::format("parts, waste and offcuts of board {} are not as long as the board",
                  code_of(sawn.board)),
      "kerfs and trim belong to the waste");
}

void check_sawn(Booking& booking, const BoardsSawn& event) {
  std::size_t offcuts = 0;
  std::vector<int> boards;
  for (const SawnBoard& sawn : event.boards) {
    offcuts += sawn.offcuts.size();
    boards.push_back(sawn.board);
  }
  check_once(booking, boards);
  check_list(booking, "offcuts", offcuts);
  booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  for (const SawnBoard& sawn : event.boards) {
    const RackedBoard* board = booking.board_on_rack(sawn.board);
    if (board == nullptr) continue;
    booking.require(
        board->state == BoardState::reserved && board->batch == event.batch,
        "trade.board-not-reserved",
        fmt::format("board {} is not reserved for batch {}", code_of(sawn.board), event.batch),
        "reserve it first, so that nobody else takes it");
    check_lengths(booking, sawn, board->facts.length);
    if (booking.is_sound())
      booking.require(
          value_of(sawn) <= board->facts.value, "trade.offcut-dear",
          fmt::format("the offcuts of board {} are worth more than the board", code_of(sawn.board)),
          "value them at a share of it");
  }
}

}  // namespace

void book(Booking& booking, const BoardsBought& event) {
  check(booking, {event.yard});
  check(booking, event.boards);
  check_money(booking, event.tax_back);
  if (event.batch != 0) booking.open_batch(event.batch);
  if (!booking.is_sound()) return;
  const Money value = value_of(event.boards);
  booking.book(AccountKind::boards, value);
  booking.book(AccountKind::tax, event.tax_back);
  booking.book(AccountKind::cash, Money() - value - event.tax_back);
  for (const BoardFacts& facts : event.boards) booking.rack(facts, event.batch);
}

void book(Booking& booking, const BoardsFound& event) {
  check(booking, event.boards);
  if (!booking.is_sound()) return;
  booking.book(AccountKind::boards, value_of(event.boards));
  booking.book(AccountKind::owner, Money() - value_of(event.boards));
  for (const BoardFacts& facts : event.boards) booking.rack(facts, 0);
}

void book(Booking& booking, const BoardMeasured& event) {
  check(booking, event.facts);
  RackedBoard* board = booking.board_on_rack(event.board);
  if (!booking.is_sound()) return;
  const Money more = event.facts.value - board->facts.value;
  booking.book(AccountKind::boards, more);
  booking.book(AccountKind::lost, Money() - more);
  board->facts = event.facts;
}

void book(Booking& booking, const BoardsReserved& event) {
  check_once(booking, event.boards);
  booking.open_batch(event.batch);
  for (const int board : event.boards) booking.free_board(board);
  if (!booking.is_sound()) return;
  for (const int number : event.boards) {
    RackedBoard& board = booking.books.boards[number];
    board.state = BoardState::reserved;
    board.batch = event.batch;
  }
}

void book(Booking& booking, const BoardsReleased& event) {
  check_once(booking, event.boards);
  for (const int number : event.boards) {
    const RackedBoard* board = booking.board_on_rack(number);
    if (board == nullptr) continue;
    booking.require(board->state == BoardState::reserved, "trade.board-not-reserved",
                    fmt::format("board {} is not reserved", code_of(number)));
  }
  if (!booking.is_sound()) return;
  for (const int number : event.boards) {
    RackedBoard& board = booking.books.boards[number];
    board.state = BoardState::on_hand;
    board.batch = 0;
  }
}

void book(Booking& booking, const BoardsGone& event) {
  check(booking, {event.why});
  check_once(booking, event.boards);
  for (const int board : event.boards) booking.board_on_rack(board);
  if (!booking.is_sound()) return;
  for (const int number : event.boards) {
    RackedBoard& board = booking.books.boards[number];
    booking.book(AccountKind::boards, Money() - board.facts.value);
    booking.book(AccountKind::lost, board.facts.value);
    board.state = BoardState::gone;
  }
}

void book(Booking& booking, const BoardsSawn& event) {
  check_sawn(booking, event);
  if (!booking.is_sound()) return;
  SawnLengths& lengths = booking.books.batches[event.batch].lengths;
  for (const SawnBoard& sawn : event.boards) {
    RackedBoard& board = booking.books.boards[sawn.board];
    board.state = BoardState::sawn;
    lengths.sawn += board.facts.length * sawn.strips;
    lengths.in_parts += sawn.in_parts;
    lengths.in_waste += sawn.in_waste;
    lengths.in_offcuts += in_offcuts(sawn);
    booking.book(AccountKind::boards, value_of(sawn) - board.facts.value);
    booking.book(AccountKind::in_work, event.batch, board.facts.value - value_of(sawn));
    for (const Offcut& offcut : sawn.offcuts) booking.rack(offcut.facts, 0, &board, event.batch);
  }
}

void book(Booking& booking, const PriceSeen& event) {
  check(booking, {event.yard, event.stock, event.species});
  booking.require(!event.stock.empty(), "trade.bad-entry", "this price names no stock",
                  "write the stock as it is sold, like 2x4");
  check_money(booking, event.price);
  check_figure(booking, "tax", event.tax_percent, 100);
  booking.require(event.per != PricePer::piece || event.length, "trade.bad-entry",
                  "this price of a piece has no length", "say how long the piece is");
  const Length most = Length::mm(100'000);
  booking.require((!event.length || (*event.length > Length() && *event.length <= most)) &&
                      event.width >= Length() && event.width <= most,
                  "trade.bad-entry", "this price is for a size that no board has");
  if (booking.is_sound()) booking.books.prices.push_back({booking.day, event});
}

}  // namespace kw::trade
