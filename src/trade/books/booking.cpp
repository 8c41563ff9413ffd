#include "booking.h"

#include <cmath>
#include <fmt/format.h>

#include "kerfwright/diag/utf8.h"
#include "kerfwright/trade/board_code.h"

namespace kw::trade {
namespace {

const Length longest_board = Length::mm(100'000);

std::string fate_of(const RackedBoard& board) {
  return board.state == BoardState::sawn ? fmt::format("it was sawn up for batch {}", board.batch)
                                         : "it is gone";
}

}  // namespace

bool Booking::require(bool holds, std::string_view code, std::string message, std::string hint) {
  if (!holds)
    faults.push_back({.code = code, .message = std::move(message), .hint = std::move(hint)});
  return holds;
}

RackedBoard* Booking::board_on_rack(int number) {
  const auto found = books.boards.find(number);
  if (!require(found != books.boards.end(), "trade.no-such-board",
               fmt::format("there is no board {}", code_of(number)), "read its label again"))
    return nullptr;
  RackedBoard& board = found->second;
  const bool is_here = is_on_rack(board);
  if (!is_here)
    require(false, "trade.no-such-board",
            fmt::format("board {} is not on the rack: {}", code_of(number), fate_of(board)));
  return is_here ? &board : nullptr;
}

RackedBoard* Booking::free_board(int number) {
  RackedBoard* board = board_on_rack(number);
  if (board == nullptr) return nullptr;
  const bool is_free = board->state == BoardState::on_hand;
  if (!is_free)
    require(false, "trade.board-not-free",
            fmt::format("board {} is reserved for batch {}", code_of(number), board->batch),
            "choose another, or release it first");
  return is_free ? board : nullptr;
}

Order* Booking::order(int number) {
  const auto found = books.orders.find(number);
  if (require(found != books.orders.end(), "trade.no-such-order",
              fmt::format("there is no order {}", number)))
    return &found->second;
  return nullptr;
}

Order* Booking::open_order(int number) {
  Order* found = order(number);
  if (found == nullptr) return nullptr;
  const bool is_open = !found->is_cancelled && !found->delivered;
  require(is_open, "trade.order-closed",
          fmt::format("order {} is {} already", number,
                      found->is_cancelled ? "cancelled" : "delivered"));
  return is_open ? found : nullptr;
}

Batch* Booking::batch(int number) {
  const auto found = books.batches.find(number);
  if (require(found != books.batches.end(), "trade.no-such-batch",
              fmt::format("there is no batch {}", number)))
    return &found->second;
  return nullptr;
}

Batch* Booking::open_batch(int number) {
  Batch* found = batch(number);
  if (found == nullptr) return nullptr;
  require(!found->is_over(), "trade.batch-over",
          fmt::format("batch {} is over: {}", number,
                      found->is_dropped ? "it was dropped" : "all of it is delivered"),
          "what is spent now belongs to the running costs, or to another batch");
  return found->is_over() ? nullptr : found;
}

void Booking::book(AccountKind kind, int of, Money amount) {
  if (amount != Money()) lines.push_back({{kind, of}, amount});
}

void Booking::rack(const BoardFacts& facts, int batch, const RackedBoard* cut_from, int born_in) {
  const int number = ++books.boards_named;
  books.boards[number] = {.number = number,
                          .facts = facts,
                          .state = batch == 0 ? BoardState::on_hand : BoardState::reserved,
                          .batch = batch,
                          .cut_from = cut_from == nullptr ? 0 : cut_from->number,
                          .born_in = born_in,
                          .since = day};
}

void Booking::release_all(int batch) {
  for (auto& [number, board] : books.boards) {
    if (board.state != BoardState::reserved || board.batch != batch) continue;
    board.state = BoardState::on_hand;
    board.batch = 0;
  }
}

void check(Booking& booking, std::initializer_list<std::string_view> texts) {
  for (const std::string_view text : texts) {
    booking.require(first_not_utf8(text) == text.npos, "trade.bad-entry",
                    "a text of the entry is not UTF-8");
    booking.require(text.size() <= most_text, "trade.bad-entry",
                    fmt::format("`{}...` is too long", text.substr(0, 20)),
                    fmt::format("use at most {} bytes", most_text));
  }
}

void check_money(Booking& booking, Money amount, Money least) {
  booking.require(amount >= least && amount <= most_money, "trade.money-range",
                  fmt::format("{} coins are no sum that the books take here", amount.coins),
                  fmt::format("{} to {} coins", least.coins, most_money.coins));
}

void check_count(Booking& booking, std::string_view what, std::int64_t count, std::int64_t most) {
  booking.require(count >= 1 && count <= most, "trade.bad-entry",
                  fmt::format("{} is no number of {}", count, what), fmt::format("1 to {}", most));
}

void check_figure(Booking& booking, std::string_view what, double figure, double most) {
  booking.require(std::isfinite(figure) && figure >= 0 && figure <= most, "trade.bad-entry",
                  fmt::format("{} is no figure for {}", figure, what),
                  fmt::format("0 to {}", most));
}

void check_list(Booking& booking, std::string_view what, std::size_t size) {
  booking.require(size <= most_boards, "trade.bad-entry",
                  fmt::format("these are {} {}", size, what),
                  fmt::format("at most {} in one entry", most_boards));
}

void check_once(Booking& booking, const std::vector<int>& boards) {
  check_list(booking, "boards", boards.size());
  booking.require(!boards.empty(), "trade.bad-entry", "no board is named");
  std::set<int> seen;
  for (const int board : boards)
    booking.require(seen.insert(board).second, "trade.twice",
                    fmt::format("board {} is named twice", code_of(board)));
}

void check(Booking& booking, const BoardFacts& facts) {
  check(booking, {facts.stock, facts.species, facts.note});
  const auto is_size = [](Length size) { return size >= Length() && size <= longest_board; };
  booking.require(is_size(facts.thickness) && is_size(facts.width) && is_size(facts.length) &&
                      facts.length > Length(),
                  "trade.bad-entry", "a board has a size that no board has",
                  "write what tape and caliper say");
  booking.require(!facts.stock.empty() || (facts.thickness > Length() && facts.width > Length()),
                  "trade.bad-entry", "a board has neither a stock nor its thickness and width",
                  "write the stock as it is sold, like 2x4, or both sizes");
  check_list(booking, "faulty zones", facts.faults.size());
  for (const auto& [from, to] : facts.faults)
    booking.require(from >= Length() && from < to && to <= facts.length, "trade.bad-entry",
                    "a faulty zone does not lie on its board",
                    "measure along the board, the nearer end first");
  if (facts.moisture) check_figure(booking, "moisture", *facts.moisture, 300);
  check_money(booking, facts.value);
}

Money value_of(const std::vector<BoardFacts>& boards) {
  Money sum;
  for (const BoardFacts& facts : boards) sum = sum + facts.value;
  return sum;
}

void check(Booking& booking, const std::vector<BoardFacts>& boards) {
  check_list(booking, "boards", boards.size());
  booking.require(!boards.empty(), "trade.bad-entry", "no board is named");
  for (const BoardFacts& facts : boards) check(booking, facts);
  if (booking.is_sound()) check_money(booking, value_of(boards));
}

void check(Booking& booking, const OrderFacts& facts) {
  check(booking, {facts.buyer, facts.piece, facts.note});
  check_list(booking, "sizes", facts.sizes.size());
  for (const auto& [name, formula] : facts.sizes) check(booking, {name, formula});
  check_count(booking, "pieces", facts.count, 100'000);
  check_money(booking, facts.each);
  if (booking.is_sound()) check_money(booking, facts.each * facts.count);
  booking.require(!facts.due || (*facts.due >= first_day && *facts.due <= last_day),
                  "trade.bad-entry", "the due date is no day that the books know");
}

}  // namespace kw::trade
