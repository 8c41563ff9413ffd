#include "kerfwright/trade/books.h"

#include <gtest/gtest.h>

#include "kerfwright/trade/board_code.h"
#include "kerfwright/trade/journal.h"

namespace kw::trade {
namespace {

const Day monday{20'787};  // 2026-11-30

BoardFacts board(double inches, std::int64_t coins) {
  return {.stock = "2x4", .length = Length::inches(inches), .value = {coins}};
}

// The code of the refusal, or "".
std::string enter_code(Journal& journal, Event event) {
  const auto lines = enter(journal, {monday, std::move(event)});
  return lines ? "" : std::string(lines.diagnostics().front().code);
}

Money on(const Journal& journal, AccountKind kind) {
  return balance_of(journal.books, kind);
}

TEST(Books, FollowABenchFromTheYardToTheBuyer) {
  Journal j;
  ASSERT_EQ(enter_code(j, OwnerPaid{{50'000}, "to begin with"}), "");
  ASSERT_EQ(
      enter_code(j, OrderTaken{{.buyer = "Ann", .piece = "bench", .count = 2, .each = {18'000}}}),
      "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.name = "two benches",
                                       .lots = {{.order = 2, .count = 2}},
                                       .parts = {{"A", 8}}}),
            "");
  ASSERT_EQ(enter_code(j, BoardsBought{"Mill", {board(96, 600), board(96, 600)}, {96}, 3}), "");
  EXPECT_EQ(on(j, AccountKind::cash), Money{50'000 - 1'296});
  EXPECT_EQ(on(j, AccountKind::boards), Money{1'200});
  EXPECT_EQ(on(j, AccountKind::tax), Money{96});

  // 96 in: parts 70, waste 2, an offcut of 24 worth 150.
  ASSERT_EQ(enter_code(j, BoardsSawn{3,
                                     {{.board = 1,
                                       .in_parts = Length::inches(70),
                                       .in_waste = Length::inches(2),
                                       .offcuts = {{board(24, 150)}}}}}),
            "");
  EXPECT_EQ(on(j, AccountKind::boards), Money{750});
  EXPECT_EQ(balance_of(j.books, Account{AccountKind::in_work, 3}), Money{450});
  EXPECT_EQ(j.books.boards.at(3).born_in, 3);
  EXPECT_EQ(j.books.boards.at(3).cut_from, 1);

  ASSERT_EQ(enter_code(j, MoneySpent{SpentOn::supplies, "screws", 0, {900}, {}}), "");
  ASSERT_EQ(enter_code(j, SuppliesUsed{3, "48 screws", {240}}), "");
  ASSERT_EQ(enter_code(j, PartsDone{3, "A", 8}), "");
  ASSERT_EQ(enter_code(j, Invoiced{2, {36'000}, {2'880}}), "");
  ASSERT_EQ(enter_code(j, Paid{2, {38'880}, {1'158}}), "");
  ASSERT_EQ(enter_code(j, Delivered{2}), "");

  EXPECT_EQ(on(j, AccountKind::owed_by_buyer), Money{});
  EXPECT_EQ(on(j, AccountKind::in_work), Money{});
  EXPECT_EQ(on(j, AccountKind::cost_of_sales), Money{690});
  EXPECT_EQ(on(j, AccountKind::sales), Money{-36'000});
  EXPECT_EQ(on(j, AccountKind::tax), Money{96 - 2'880});
  EXPECT_EQ(on(j, AccountKind::fees), Money{1'158});
  EXPECT_EQ(on(j, AccountKind::supplies), Money{660});
  EXPECT_EQ(on(j, AccountKind::cash), Money{50'000 - 1'296 - 900 + 38'880 - 1'158});
  EXPECT_TRUE(j.books.batches.at(3).is_over());
  EXPECT_EQ(j.books.boards.at(2).state, BoardState::on_hand) << "what was left over is free";
}

TEST(Books, ShareTheCostOfABatchByWeight) {
  Journal j;
  ASSERT_EQ(enter_code(j, OrderTaken{{.buyer = "Ann", .count = 1}}), "");
  ASSERT_EQ(enter_code(j, OrderTaken{{.buyer = "Bob", .count = 2}}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{1, 1, 300}, {2, 2, 100}}}), "");
  ASSERT_EQ(enter_code(j, MoneySpent{SpentOn::batch, "help", 3, {1'001}, {}}), "");
  ASSERT_EQ(enter_code(j, Delivered{1}), "");
  EXPECT_EQ(on(j, AccountKind::cost_of_sales), Money{601});  // 600.6
  ASSERT_EQ(enter_code(j, Delivered{2}), "");
  EXPECT_EQ(on(j, AccountKind::cost_of_sales), Money{1'001});
}

TEST(Books, NoBoardIsReservedTwice) {
  Journal j;
  ASSERT_EQ(enter_code(j, BoardsFound{{board(50, 100)}}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{}}, .boards = {1}}), "");
  EXPECT_EQ(enter_code(j, BatchPlanned{.lots = {{}}, .boards = {1}}), "trade.board-not-free");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{}}}), "");
  EXPECT_EQ(enter_code(j, BoardsReserved{3, {1}}), "trade.board-not-free");
  EXPECT_EQ(enter_code(j, BoardsSawn{3, {{.board = 1, .in_parts = Length::inches(50)}}}),
            "trade.board-not-reserved");
  ASSERT_EQ(enter_code(j, BoardsReleased{{1}}), "");
  EXPECT_EQ(enter_code(j, BoardsReserved{3, {1}}), "");
}

TEST(Books, RefuseWhatDoesNotHold) {
  Journal j;
  ASSERT_EQ(enter_code(j, BoardsFound{{board(50, 100), board(50, 100)}}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{}}, .boards = {1}, .parts = {{"A", 2}}}), "");
  ASSERT_EQ(enter_code(j, OrderTaken{{.buyer = "Ann"}}), "");
  const Journal before = j;
  EXPECT_EQ(enter_code(j, BoardsGone{{9}}), "trade.no-such-board");
  EXPECT_EQ(enter_code(j, BoardsGone{{2, 2}}), "trade.twice");
  EXPECT_EQ(enter_code(j, BoardsReleased{{2}}), "trade.board-not-reserved");
  EXPECT_EQ(enter_code(j, BoardsReserved{7, {2}}), "trade.no-such-batch");
  EXPECT_EQ(enter_code(j, Delivered{7}), "trade.no-such-order");
  EXPECT_EQ(enter_code(j, BoardsFound{{board(0, 1)}}), "trade.bad-entry");
  EXPECT_EQ(enter_code(j, BoardsFound{{board(9, -1)}}), "trade.money-range");
  EXPECT_EQ(enter_code(j, OwnerPaid{{most_money.coins + 1}}), "trade.money-range");
  EXPECT_EQ(enter_code(j, BoardsFound{{board(9, most_money.coins), board(9, 1)}}),
            "trade.money-range");
  EXPECT_EQ(enter_code(j, BoardsSawn{2, {{.board = 1, .in_parts = Length::inches(49)}}}),
            "trade.length-lost");
  EXPECT_EQ(
      enter_code(
          j,
          BoardsSawn{
              2, {{.board = 1, .in_parts = Length::inches(25), .offcuts = {{board(25, 101)}}}}}),
      "trade.offcut-dear");
  EXPECT_EQ(enter_code(j, PartsDone{2, "B", 1}), "trade.no-such-part");
  EXPECT_EQ(enter_code(j, PartsDone{2, "A", 3}), "trade.too-many-done");
  EXPECT_EQ(enter_code(j, PartsDone{2, "A", -1}), "trade.too-many-done");
  EXPECT_EQ(enter_code(j, SuppliesUsed{2, "glue", {1}}), "trade.not-enough-supplies");
  EXPECT_EQ(enter_code(j, Paid{3, {-1}, {}}), "trade.paid-back");
  EXPECT_EQ(enter_code(j, OrderTaken{{.buyer = std::string(401, 'x')}}), "trade.bad-entry");
  EXPECT_EQ(j, before);
}

TEST(Books, AnOrderThatIsBeingMadeKeepsItsSizes) {
  Journal j;
  const OrderFacts facts{.buyer = "Ann", .piece = "bench", .count = 2};
  ASSERT_EQ(enter_code(j, OrderTaken{facts}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{1, 2}}}), "");
  OrderFacts later = facts;
  later.due = monday + 7;
  EXPECT_EQ(enter_code(j, OrderChanged{1, later}), "");
  later.count = 3;
  EXPECT_EQ(enter_code(j, OrderChanged{1, later}), "trade.order-in-batch");
  EXPECT_EQ(enter_code(j, BatchPlanned{.lots = {{1, 2}}}), "trade.order-in-batch");
  ASSERT_EQ(enter_code(j, OrderCancelled{1, "moved away"}), "");
  EXPECT_EQ(enter_code(j, Delivered{1}), "trade.order-closed");
  ASSERT_EQ(enter_code(j, OrderTaken{facts}), "") << "its pieces are on the shelf now";
  EXPECT_EQ(enter_code(j, OrderFromShelf{5, 2}), "");
  EXPECT_EQ(enter_code(j, Delivered{5}), "");
  EXPECT_EQ(enter_code(j, PartsDone{2, "A", 1}), "trade.batch-over");
  ASSERT_EQ(enter_code(j, OrderTaken{facts}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{0, 1}}}), "");
  EXPECT_EQ(enter_code(j, OrderFromShelf{8, 9}), "trade.not-on-shelf");
}

TEST(Journal, UndoNamesTheEntryThatNeedsIt) {
  Journal j;
  ASSERT_EQ(enter_code(j, BoardsFound{{board(50, 100)}}), "");
  ASSERT_EQ(enter_code(j, BatchPlanned{.lots = {{}}}), "");
  ASSERT_EQ(enter_code(j, BoardsReserved{2, {1}}), "");
  const auto refused = enter(j, {monday, Undone{1}});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.diagnostics()[0].code, "trade.still-needed");
  EXPECT_NE(refused.diagnostics()[0].message.find("entry 3 (boards reserved, 2026-11-30)"),
            std::string::npos)
      << refused.diagnostics()[0].message;
  EXPECT_EQ(enter_code(j, Undone{3}), "");
  EXPECT_EQ(enter_code(j, Undone{3}), "trade.cannot-undo");
  EXPECT_EQ(enter_code(j, Undone{9}), "trade.cannot-undo");
  EXPECT_EQ(enter_code(j, Undone{1}), "");
  EXPECT_TRUE(j.books.boards.empty());
  ASSERT_EQ(enter_code(j, BoardsFound{{board(50, 100)}}), "");
  EXPECT_EQ(j.books.boards.begin()->first, 2) << "a label never names two boards";
}

TEST(BoardCode, IsShortAndReadsBack) {
  EXPECT_EQ(code_of(1).size(), 4u);
  EXPECT_EQ(code_of(24'388).size(), 4u);
  EXPECT_EQ(code_of(24'389).size(), 5u);
  for (int board = 1; board < 100'000; board += 7) ASSERT_EQ(*read_code(code_of(board)), board);
  EXPECT_EQ(*read_code(code_of(2'000'000'000)), 2'000'000'000);
  EXPECT_FALSE(read_code(""));
  EXPECT_FALSE(read_code("0000"));
  EXPECT_FALSE(read_code("12"));
  EXPECT_FALSE(read_code(std::string(9, '0') + "11"));
}

TEST(BoardCode, NoticesEveryWrongCharacterAndEveryTwoThatChangedPlaces) {
  const std::string digits = "0123456789BCDFGHJKMNPQRTVWXYZ";
  for (int board = 1; board < 24'389; board += 97) {
    const std::string code = code_of(board);
    for (std::size_t i = 0; i < code.size(); ++i) {
      for (const char digit : digits) {
        std::string wrong = code;
        wrong[i] = digit;
        ASSERT_EQ(bool(read_code(wrong)), wrong == code) << code << " " << wrong;
      }
      for (std::size_t k = 0; k < i; ++k) {
        std::string wrong = code;
        std::swap(wrong[i], wrong[k]);
        ASSERT_EQ(bool(read_code(wrong)), wrong == code) << code << " " << wrong;
      }
    }
  }
}

TEST(BoardCode, TakesWhatAnEyeTakesForADigit) {
  for (int board = 1; board < 24'389; board += 11) {
    std::string seen = code_of(board);
    for (char& c : seen) {
      if (c == '0') c = 'o';
      if (c == '1') c = 'l';
      if (c == '5') c = 's';
    }
    seen.insert(2, "-");
    ASSERT_EQ(*read_code(seen), board) << seen;
  }
}

TEST(Day, ReadsAndWritesTheCalendar) {
  EXPECT_EQ(parse_day("1970-01-01")->number, 0);
  EXPECT_EQ(*parse_day("2199-12-31"), last_day);
  EXPECT_EQ(*parse_day("2026-11-30"), monday);
  EXPECT_EQ(weekday_of(monday), 1);
  EXPECT_EQ(format_day(*parse_day("2024-02-29")), "2024-02-29");
  for (const char* wrong : {"", "2026-02-29", "2026-13-01", "2026-00-10", "1969-12-31",
                            "2200-01-01", "26-01-01", "2026/01/01", "2026-1-1-1", "-026-01-01"})
    EXPECT_FALSE(parse_day(wrong)) << wrong;
  for (Day day = first_day; day <= last_day; day = day + 13)
    ASSERT_EQ(*parse_day(format_day(day)), day);
}

}  // namespace
}  // namespace kw::trade
