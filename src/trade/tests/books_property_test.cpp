// What must hold of the books after any entries: nothing is made or lost.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "draw_events.h"

namespace kw::trade {
namespace {

Dice drawn_dice() {
  return {*rc::gen::arbitrary<std::uint64_t>()};
}

Money sum_of(const std::vector<Line>& lines) {
  Money sum;
  for (const Line& line : lines) sum = sum + line.amount;
  return sum;
}

Money sum_of_all(const Books& books) {
  Money sum;
  for (const auto& [account, amount] : books.balances) sum = sum + amount;
  return sum;
}

// What each rule reckons straight from boards, orders and batches.
void expect_sound(const Books& books) {
  RC_ASSERT(sum_of_all(books) == Money());
  Money on_rack;
  for (const auto& [number, board] : books.boards) {
    const bool is_here = board.state == BoardState::on_hand || board.state == BoardState::reserved;
    if (is_here) on_rack = on_rack + board.facts.value;
    if (board.state == BoardState::reserved) RC_ASSERT(!books.batches.at(board.batch).is_over());
    if (board.state == BoardState::on_hand) RC_ASSERT(board.batch == 0);
    RC_ASSERT(number >= 1 && number <= books.boards_named);
  }
  RC_ASSERT(balance_of(books, AccountKind::boards) == on_rack);
  for (const auto& [number, order] : books.orders) {
    const Money billed = order.invoiced ? order.invoiced->net + order.invoiced->tax : Money();
    RC_ASSERT(balance_of(books, Account{AccountKind::owed_by_buyer, number}) ==
              billed - order.paid);
  }
  RC_ASSERT(balance_of(books, AccountKind::supplies) >= Money());
  for (const auto& [number, batch] : books.batches) {
    const Money in_work = balance_of(books, Account{AccountKind::in_work, number});
    RC_ASSERT((batch.is_over() ? in_work == Money() : in_work >= Money()));
    const SawnLengths& l = batch.lengths;
    RC_ASSERT(l.sawn == l.in_parts + l.in_waste + l.in_offcuts);
    for (const auto& [part, progress] : batch.parts)
      RC_ASSERT(progress.done >= 0 && progress.done <= progress.wanted);
    if (batch.is_dropped) continue;
    for (const Lot& lot : batch.lots) {
      if (lot.order == 0) continue;
      RC_ASSERT(books.orders.at(lot.order).batch == number);
      RC_ASSERT(books.orders.at(lot.order).facts.count == lot.count);
    }
  }
}

RC_GTEST_PROP(BooksProperty, BalanceAfterAnyEntries, ()) {
  Dice dice = drawn_dice();
  Journal journal;
  Money cash;  // a second way to reckon it
  for (int i = *rc::gen::inRange(0, 120); i > 0; --i) {
    const Entry entry = draw_entry(dice, journal.books);
    const Journal before = journal;
    const auto lines = enter(journal, entry);
    if (!lines) {
      RC_ASSERT(journal == before);
      RC_ASSERT(!lines.diagnostics().front().message.empty());
      continue;
    }
    RC_ASSERT(sum_of(*lines) == Money());
    for (const Line& line : *lines) {
      if (line.account.kind == AccountKind::cash) cash = cash + line.amount;
    }
    RC_ASSERT(balance_of(journal.books, AccountKind::cash) == cash);
    expect_sound(journal.books);
  }
}

// What the lines of all entries came to, by the one that paid them: no account is told of twice.
RC_GTEST_PROP(BooksProperty, CashIsWhatEventsSayWasPaid, ()) {
  Dice dice = drawn_dice();
  const Journal journal = draw_journal(dice, *rc::gen::inRange(0, 120));
  const std::vector<bool> stands = standing_of(journal.entries);
  Money cash;
  for (std::size_t i = 0; i < journal.entries.size(); ++i) {
    if (!stands[i]) continue;
    const Event& event = journal.entries[i].event;
    if (const auto* e = std::get_if<BoardsBought>(&event)) {
      for (const BoardFacts& facts : e->boards) cash = cash - facts.value;
      cash = cash - e->tax_back;
    }
    if (const auto* e = std::get_if<Paid>(&event)) cash = cash + e->amount - e->fee;
    if (const auto* e = std::get_if<MoneySpent>(&event)) cash = cash - e->paid;
    if (const auto* e = std::get_if<OwnerPaid>(&event)) cash = cash + e->amount;
  }
  RC_ASSERT(balance_of(journal.books, AccountKind::cash) == cash);
}

// Of the wood: each board that came in is on the rack, gone, in parts, in waste.
RC_GTEST_PROP(BooksProperty, LoseNoLength, ()) {
  Dice dice = drawn_dice();
  const Journal journal = draw_journal(dice, *rc::gen::inRange(0, 120));
  const std::vector<bool> stands = standing_of(journal.entries);
  std::map<int, SawnLengths> told;
  for (std::size_t i = 0; i < journal.entries.size(); ++i) {
    const auto* sawn = std::get_if<BoardsSawn>(&journal.entries[i].event);
    if (sawn == nullptr || !stands[i]) continue;
    for (const SawnBoard& board : sawn->boards) {
      SawnLengths& sum = told[sawn->batch];
      const RackedBoard& racked = journal.books.boards.at(board.board);
      RC_ASSERT(racked.state == BoardState::sawn);
      sum.sawn += racked.facts.length * board.strips;
      sum.in_parts += board.in_parts;
      sum.in_waste += board.in_waste;
      for (const Offcut& offcut : board.offcuts)
        sum.in_offcuts += offcut.facts.length * offcut.strips;
    }
  }
  for (const auto& [number, batch] : journal.books.batches)
    RC_ASSERT(batch.lengths == told[number]);
}

RC_GTEST_PROP(BooksProperty, ReplayOfAPrefixIsWhatStoodThen, ()) {
  Dice dice = drawn_dice();
  Journal journal;
  std::vector<Books> then = {journal.books};
  for (int i = *rc::gen::inRange(0, 60); i > 0; --i)
    if (enter(journal, draw_entry(dice, journal.books))) then.push_back(journal.books);
  const std::size_t length = *rc::gen::inRange<std::size_t>(0, then.size());
  const auto again = replay(
      {journal.entries.begin(), journal.entries.begin() + static_cast<std::ptrdiff_t>(length)});
  RC_ASSERT(bool(again));
  RC_ASSERT(again->books == then[length]);
}

RC_GTEST_PROP(BooksProperty, UndoneAndBroughtBackIsAsBefore, ()) {
  Dice dice = drawn_dice();
  Journal journal = draw_journal(dice, 60);
  const Books before = journal.books;
  const Day day{20'000};
  // From some entry back to the first that nothing rests on.
  int number = *rc::gen::inRange(1, before.entries + 1);
  auto undone = enter(journal, {day, Undone{number}});
  while (!undone && number > 1) undone = enter(journal, {day, Undone{--number}});
  if (!undone) RC_DISCARD("all are needed");
  RC_ASSERT(sum_of(*undone) == Money());
  RC_ASSERT(journal.books.boards_named == before.boards_named);
  RC_ASSERT(bool(enter(journal, {day, Undone{journal.books.entries}})));
  Books after = journal.books;
  RC_ASSERT(after.entries == before.entries + 2);
  after.entries = before.entries;
  RC_ASSERT(after == before);
}

// Undoing is as if something that changes nothing had been written there.
RC_GTEST_PROP(BooksProperty, UndoneIsAsIfItHadNeverBeen, ()) {
  Dice dice = drawn_dice();
  Journal journal = draw_journal(dice, 60);
  const int number = *rc::gen::inRange(1, journal.books.entries + 1);
  std::vector<Entry> without = journal.entries;
  Event& event = without[static_cast<std::size_t>(number) - 1].event;
  const bool names_boards = std::holds_alternative<BoardsBought>(event) ||
                            std::holds_alternative<BoardsFound>(event) ||
                            std::holds_alternative<BoardsSawn>(event);
  if (names_boards || !standing_of(without)[static_cast<std::size_t>(number) - 1] ||
      std::holds_alternative<Undone>(event))
    RC_DISCARD("its boards would have other numbers");
  event = OwnerPaid{};
  auto expected = replay(without);
  const bool is_undone = bool(enter(journal, {Day{20'000}, Undone{number}}));
  RC_ASSERT(bool(expected) == is_undone);
  if (!is_undone) return;
  expected->books.entries += 1;
  RC_ASSERT(expected->books == journal.books);
}

TEST(DrawEvents, EveryKindIsEnteredAndRefused) {
  std::map<std::string_view, int> entered, refused;
  for (std::uint64_t seed = 0; seed < 15; ++seed) {
    Dice dice{seed};
    Journal journal;
    for (int i = 0; i < 120; ++i) {
      const Entry entry = draw_entry(dice, journal.books);
      const bool holds = bool(enter(journal, entry));
      ++(holds ? entered : refused)[name_of(entry.event)];
    }
  }
  EXPECT_EQ(entered.size(), std::variant_size_v<Event>);
  EXPECT_GE(refused.size(), 18u);
}

RC_GTEST_PROP(Shares, AddUpAndAreWithinACoin, ()) {
  const Money sum{*rc::gen::inRange<std::int64_t>(-1'000'000, 1'000'000)};
  const auto weights =
      *rc::gen::container<std::vector<std::int64_t>>(rc::gen::inRange<std::int64_t>(0, 1000));
  std::int64_t all = 0;
  for (const std::int64_t w : weights) all += w;
  const auto shares = shares_of(sum, weights);
  if (all == 0) {
    RC_ASSERT(shares.empty());
    return;
  }
  Money total;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    total = total + shares[i];
    const std::int64_t error = shares[i].coins * all - sum.coins * weights[i];
    RC_ASSERT(std::abs(error) < all);  // within a coin of the exact share
  }
  RC_ASSERT(total == sum);
}

}  // namespace
}  // namespace kw::trade
