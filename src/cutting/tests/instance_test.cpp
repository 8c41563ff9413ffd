#include "kerfwright/cutting/instance.h"

#include <cmath>
#include <gtest/gtest.h>

namespace kw {
namespace {

std::string faults_of(const std::string& content) {
  const Text text{"i", content};
  std::string all;
  const auto instance = read_instance(text);
  for (const Diagnostic& d : instance.diagnostics()) {
    const Position at = position_of(text, d.at.begin);
    all +=
        std::string(d.code) + "@" + std::to_string(at.line) + ":" + std::to_string(at.column) + " ";
  }
  return all;
}

template <class P>
P read(const std::string& content) {
  const auto instance = read_instance({"i", content});
  if (!instance || !std::holds_alternative<P>(instance->problem)) {
    ADD_FAILURE() << faults_of(content);
    return {};
  }
  return std::get<P>(instance->problem);
}

TEST(ReadInstance, TakesOneStock) {
  const auto p = read<Problem>("2\r\n100\r\n45 3\r\n\r\n10\t2\r\n");
  ASSERT_EQ(p.stocks.size(), 1u);
  EXPECT_EQ(p.stocks[0].length, Length::ticks(100));
  ASSERT_EQ(p.demands.size(), 2u);
  EXPECT_EQ(p.demands[1].length, Length::ticks(10));
  EXPECT_EQ(p.demands[1].count, 2);
  const auto plan = optimise(p);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->cost.coins, 2);
}

TEST(ReadInstance, TakesSeveralStocks) {
  const auto p = read<Problem>("2\n70 84 -1\n100 100 3\n1\n50 4\n");
  ASSERT_EQ(p.stocks.size(), 2u);
  EXPECT_FALSE(p.stocks[0].count);
  EXPECT_EQ(p.stocks[1].count, 3);
  EXPECT_EQ(p.stocks[1].price.coins, 100);
  EXPECT_EQ(p.demands[0].count, 4);
}

TEST(ReadInstance, TakesSheetsForMoneyOrWorth) {
  const auto money = read<SheetProblem>("1\n10 8 -1\n2\n5 4 3 0\n4 2 1 0\n");
  EXPECT_EQ(money.aim, SheetAim::least_money);
  EXPECT_EQ(money.parts[0].count, 3);
  const auto worth = read<SheetProblem>("1\n10 8 1\n1\n5 4 0 7\n");
  EXPECT_EQ(worth.aim, SheetAim::most_worth);
  EXPECT_EQ(worth.parts[0].count, 4);
  const auto plan = optimise_sheets(worth);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->worth, 28);
}

TEST(ReadInstance, TakesCsvWithUnitsAnglesAndPrices) {
  const auto p = read<Problem>(
      "row,name,length,count,price,left,right,lie\n"
      "unit,mm\nkerf,,3\ntrim,,5\noffcut,,300\nwidth,,89\n"
      "stock,8 ft,8 ft,,4.2\nstock,rack,1500,2,\n"
      "part,leg,762,4,,15 deg,-15 deg,turn\n");
  EXPECT_EQ(p.saw.kerf, Length::mm(3));
  EXPECT_EQ(p.stocks[0].length, Length::inches(96));
  EXPECT_EQ(p.stocks[0].price.coins, 420);
  EXPECT_FALSE(p.stocks[0].count);
  EXPECT_EQ(p.stocks[1].count, 2);
  EXPECT_NEAR(p.demands[0].left_slope, std::tan(15 * 3.14159265358979 / 180), 1e-12);
  EXPECT_FALSE(p.demands[0].may_flip);
  EXPECT_TRUE(p.demands[0].may_turn);
}

TEST(ReadInstance, TakesFaultsOfAStock) {
  const auto p = read<Problem>(
      "row,name,length,faults\nstock,s,96,12 to 14; 30 3/4 to 31\nstock,t,96,\npart,a,30\n");
  ASSERT_EQ(p.stocks[0].faults.size(), 2u);
  EXPECT_EQ(p.stocks[0].faults[1].from, Length::inches(30.75));
  EXPECT_EQ(p.stocks[0].faults[1].length, Length::inches(0.25));
  EXPECT_TRUE(p.stocks[1].faults.empty());
}

TEST(ReadInstance, TakesCsvWithWidthsAsSheets) {
  const auto p = read<SheetProblem>(
      "row,name,length,width,count,price,lie\nkerf,,1/8\nstock,ply,96,48,,62\n"
      "part,shelf,30,11 1/4,6,,turn\n");
  EXPECT_EQ(p.kerf, Length::inches(0.125));
  EXPECT_EQ(p.sheets[0].width, Length::inches(48));
  EXPECT_EQ(p.sheets[0].price.coins, 6200);
  EXPECT_TRUE(p.parts[0].may_turn);
  EXPECT_EQ(p.parts[0].count, 6);
}

TEST(ReadInstance, NamesEachFaultWithItsPlace) {
  EXPECT_EQ(faults_of(""), "solve.no-shape@1:1 ");
  EXPECT_EQ(faults_of("1 2\n3 4\n"), "solve.no-shape@1:1 ");
  EXPECT_EQ(faults_of("1\n100\n45 -3\n"), "solve.too-many@3:4 ");
  EXPECT_EQ(faults_of("1\n100\n45\n"), "solve.too-few@3:1 ");
  EXPECT_EQ(faults_of("2\n100\n45 3\n"), "solve.too-few@4:1 ");
  EXPECT_EQ(faults_of("1\n100\n45 3\n45 3\n"), "solve.too-many@4:1 ");
  EXPECT_EQ(faults_of("1\n100\n45 3.5\n"), "solve.not-a-number@3:4 ");
  EXPECT_EQ(faults_of("1\n100\n45 99999999999999999999\n"), "solve.not-a-number@3:4 ");
  EXPECT_EQ(faults_of("row,size\n"), "solve.no-shape@1:5 ");
  EXPECT_EQ(faults_of("name,length\n"), "solve.no-shape@1:1 ");
  EXPECT_EQ(faults_of("row,name,length\nplank,a,3\n"), "solve.unknown-row@2:1 ");
  EXPECT_EQ(faults_of("row,name,length\nunit,cm\n"), "solve.unknown-row@2:6 ");
  EXPECT_EQ(faults_of("row,name,length\npart,a\n"), "solve.no-value@2:1 ");
  EXPECT_EQ(faults_of("row,name,length,count\npart,a,3,x\n"), "solve.not-a-number@2:10 ");
  EXPECT_EQ(faults_of("row,name,length,price\nstock,a,3,4.205\n"), "solve.not-a-number@2:11 ");
  EXPECT_EQ(faults_of("row,name,length,left\npart,a,3,15\n"), "measure.bare-angle@2:10 ");
  EXPECT_EQ(faults_of("row,name,length,faults\nstock,a,30,9 to 31\n"), "solve.bad-fault@2:12 ");
  EXPECT_EQ(faults_of("row,name,length,faults\nstock,a,30,9 to 8\n"), "solve.bad-fault@2:12 ");
  EXPECT_EQ(faults_of("row,name,length,faults\nstock,a,30,9 to x\n"), "measure.not-a-length@2:17 ");
  EXPECT_EQ(faults_of("row,name,length,faults,width\nstock,a,30,9 to 10,20\n"),
            "solve.bad-fault@2:12 ");
  EXPECT_EQ(faults_of("row,name,length,lie\npart,a,3,over\n"), "solve.unknown-row@2:10 ");
}

}  // namespace
}  // namespace kw
