#include "kerfwright/trade/price_list.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "kerfwright/trade/board_code.h"
#include "kerfwright/trade/yard_files.h"

#include "draw_events.h"

namespace kw::trade {
namespace {

const Day today{20'800};
const Length eight_feet = Length::inches(96);

Books books_with(std::vector<SeenPrice> prices) {
  Books books;
  for (SeenPrice& price : prices) EXPECT_TRUE(apply(books, {price.day, std::move(price.seen)}));
  return books;
}

PriceSeen seen(const std::string& yard, std::int64_t coins, PricePer per = PricePer::piece) {
  PriceSeen price{.yard = yard, .stock = "2x4", .per = per, .price = {coins}};
  if (per == PricePer::piece) price.length = eight_feet;
  return price;
}

std::int64_t coins_of(const Books& books, const PriceQuery& query,
                      const BoardAsked& board = {"2x4", "", eight_feet}) {
  const auto price = price_of(books, board, query, built_in_catalogue());
  return price ? price->price.coins : -1;
}

TEST(PriceOf, TheNewestOfEachYardAndTheCheapestOfThose) {
  const Books books = books_with({{today + (-30), seen("Mill", 500)},
                                  {today + (-2), seen("Mill", 650)},
                                  {today + (-9), seen("Depot", 600)},
                                  {today + 5, seen("Depot", 1)}});
  EXPECT_EQ(coins_of(books, {.as_of = today}), 600);
  EXPECT_EQ(coins_of(books, {.as_of = today, .yard = "Mill"}), 650);
  EXPECT_EQ(coins_of(books, {.as_of = today + (-3), .yard = "Mill"}), 500);
  EXPECT_EQ(coins_of(books, {.as_of = today + (-31)}), -1);
  EXPECT_EQ(coins_of(books, {.as_of = today, .yard = "Nowhere"}), -1);
}

TEST(PriceOf, OfOneDayTheOneThatSaysMoreThenTheLater) {
  PriceSeen by_foot = seen("Mill", 75, PricePer::foot);
  EXPECT_EQ(coins_of(books_with({{today, seen("Mill", 580)}, {today, by_foot}}), {.as_of = today}),
            580)
      << "this length is said more than any length";
  EXPECT_EQ(coins_of(books_with({{today, seen("Mill", 580)}, {today, seen("Mill", 585)}}),
                     {.as_of = today}),
            585)
      << "a slip put right on the same day";
}

TEST(PriceOf, ByThePieceByLengthAndByTheBoardFoot) {
  const PriceQuery query{.as_of = today};
  EXPECT_EQ(coins_of(books_with({{today, seen("A", 75, PricePer::foot)}}), query), 600);
  EXPECT_EQ(coins_of(books_with({{today, seen("A", 250, PricePer::metre)}}), query),
            610);  // 2.4384 m
  // A 2x4 of 8 ft has 2 x 4 x 96 / 144 = 5 1/3 board feet.
  EXPECT_EQ(coins_of(books_with({{today, seen("A", 120, PricePer::board_foot)}}), query), 640);
  EXPECT_EQ(
      coins_of(books_with({{today, seen("A", 600)}}), query, {"2x4", "", Length::inches(120)}), -1)
      << "a price by the piece tells nothing of another length";
}

TEST(PriceOf, WithTaxOrWithout) {
  PriceSeen price = seen("A", 599);
  price.tax_percent = 8.25;
  const Books books = books_with({{today, price}});
  EXPECT_EQ(coins_of(books, {.as_of = today}), 599 + 49);  // 49.4
  EXPECT_EQ(coins_of(books, {.as_of = today, .with_tax = false}), 599);
}

TEST(PriceOf, SaysWhatIsMissingOrOld) {
  const Books books = books_with({{today + (-90), seen("A", 599)}});
  const auto old = price_of(books, {"2x4", "", eight_feet}, {.as_of = today, .old_after = 60},
                            built_in_catalogue());
  ASSERT_TRUE(old);
  ASSERT_EQ(old.diagnostics().size(), 1u);
  EXPECT_EQ(old.diagnostics()[0].code, "trade.old-price");
  const auto none =
      price_of(books, {"2x6", "", eight_feet}, {.as_of = today}, built_in_catalogue());
  ASSERT_FALSE(none);
  EXPECT_EQ(none.diagnostics()[0].code, "trade.no-price");
  EXPECT_EQ(none.diagnostics()[0].message, "no price of 2x6, 96\" is known by 2026-12-13");
}

TEST(PriceOf, OfASpeciesThatIsNamed) {
  PriceSeen cedar = seen("A", 900);
  cedar.species = "western redcedar";
  const Books books = books_with({{today, cedar}});
  const std::string name = find_species(built_in_catalogue(), "western redcedar")->name;
  EXPECT_EQ(coins_of(books, {.as_of = today}, {"2x4", name, eight_feet}), 900);
  EXPECT_EQ(coins_of(books, {.as_of = today}, {"2x4", "", eight_feet}), -1);
}

TEST(RackOf, HoldsWhatIsFreeAndWhatIsReservedForTheBatch) {
  Journal j;
  const BoardFacts board{.stock = "2x4", .length = eight_feet, .value = {100}};
  ASSERT_TRUE(enter(j, {today, BoardsFound{{board, board, board}}}));
  ASSERT_TRUE(enter(j, {today, BatchPlanned{.lots = {{}}, .boards = {2}}}));
  ASSERT_TRUE(enter(j, {today, BoardsGone{{3}}}));
  ASSERT_EQ(rack_of(j.books).size(), 1u);
  EXPECT_EQ(*read_code(rack_of(j.books)[0].label), 1);
  EXPECT_EQ(rack_of(j.books, 2).size(), 2u);
}

TEST(BoardsOf, TakesAListIntoTheBooks) {
  const auto rack = read_rack({"rack.csv",
                               "label,stock,length,count,value,faults\n"
                               "R1,2x4,\"61 1/2\",2,1.50,\"20 to 22\"\n"},
                              LengthUnit::inch);
  Journal j;
  ASSERT_TRUE(enter(j, {today, BoardsFound{boards_of(rack.value)}}));
  ASSERT_EQ(j.books.boards.size(), 2u);
  EXPECT_EQ(j.books.boards.at(2).facts.note, "R1");
  EXPECT_EQ(balance_of(j.books, AccountKind::boards), Money{300});
}

// Lengths as they may come: 256ths, millimetres, whole ticks.
Length any_length(Dice& dice) {
  switch (dice.below(3)) {
    case 0:
      return Length::ticks(dice.from(1, 60'000) * (Length::ticks_per_inch / 256));
    case 1:
      return Length::mm(dice.from(1, 9'000));
    default:
      return Length::ticks(1 + static_cast<std::int64_t>(dice.next() % 100'000'000'000U));
  }
}

LengthUnit any_unit(Dice& dice) {
  return dice.one_in(2) ? LengthUnit::inch : LengthUnit::mm;
}

RC_GTEST_PROP(YardFiles, ARackReadsBackAsItWasWritten, ()) {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  std::vector<RackBoard> rack;
  for (int n = *rc::gen::inRange(0, 20); n > 0; --n) {
    RackBoard board{.label = dice.word(),
                    .stock = dice.word(),
                    .species = dice.word(),
                    .thickness = any_length(dice),
                    .length = any_length(dice),
                    .count = dice.below(9),
                    .value = {dice.below(90'000)}};
    if (dice.one_in(2)) board.width = any_length(dice);
    if (dice.one_in(2)) board.faults = {{Length(), divide(board.length, 2) + Length::ticks(1)}};
    rack.push_back(board);
  }
  const LengthUnit unit = any_unit(dice);
  const auto again = read_rack({"rack.csv", write_rack(rack, unit)}, unit);
  RC_ASSERT(again.diagnostics.empty());
  RC_ASSERT(again.value == rack);
}

RC_GTEST_PROP(YardFiles, PricesReadBackAsTheyWereWritten, ()) {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  std::vector<YardPrice> prices;
  std::vector<SeenPrice> history;
  for (int n = *rc::gen::inRange(0, 20); n > 0; --n) {
    prices.push_back(
        {"2x4", dice.word(), any_length(dice), any_length(dice), {dice.below(90'000)}});
    SeenPrice price{{dice.from(0, 80'000)}, {.yard = dice.word(), .stock = "2x4"}};
    price.seen.per = static_cast<PricePer>(dice.below(4));
    if (price.seen.per == PricePer::piece || dice.one_in(2)) price.seen.length = any_length(dice);
    price.seen.price = {dice.below(90'000)};
    price.seen.tax_percent = dice.below(100'000) / 1000.0;
    history.push_back(price);
  }
  const LengthUnit unit = any_unit(dice);
  const auto again = read_prices({"prices.csv", write_prices(prices, unit)}, unit);
  RC_ASSERT(again.diagnostics.empty());
  RC_ASSERT(again.value == prices);
  const auto seen_again = read_seen_prices({"seen.csv", write_seen_prices(history, unit)}, unit);
  RC_ASSERT(seen_again.diagnostics.empty());
  RC_ASSERT(seen_again.value == history);
}

TEST(ReadSeenPrices, NamesEachFaultWithItsPlace) {
  const auto faults_of = [](const std::string& row) {
    const Text text{"seen.csv", "day,yard,stock,length,per,price,tax\n" + row + "\n"};
    std::string codes;
    for (const Diagnostic& d : read_seen_prices(text, LengthUnit::inch).diagnostics)
      codes += std::string(d.code) + " ";
    return codes;
  };
  EXPECT_EQ(faults_of("2026-11-30,Mill,2x4,96,piece,4.20,8.25"), "");
  EXPECT_EQ(faults_of("2026-11-30,Mill,2x4,,,4.20,"), "trade.no-value ");
  EXPECT_EQ(faults_of("yesterday,Mill,2x4,96,piece,4.20,"), "trade.bad-day ");
  EXPECT_EQ(faults_of("2026-11-30,Mill,2x4,96,pound,4.20,"), "trade.bad-per ");
  EXPECT_EQ(faults_of("2026-11-30,Mill,2x4,96,piece,4.20,eight"), "trade.bad-tax ");
  EXPECT_EQ(faults_of("2026-11-30,Mill,,96,piece,4.20,"), "trade.no-value ");
}

}  // namespace
}  // namespace kw::trade
