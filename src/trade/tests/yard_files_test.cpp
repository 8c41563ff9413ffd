#include "kerfwright/trade/yard_files.h"

#include <gtest/gtest.h>

namespace kw {
namespace {

std::string faults_of(const Text& text, const Diagnostics& faults) {
  std::string all;
  for (const Diagnostic& d : faults) {
    const Position at = position_of(text, d.at.begin);
    all +=
        std::string(d.code) + "@" + std::to_string(at.line) + ":" + std::to_string(at.column) + " ";
  }
  return all;
}

std::string rack_faults(const std::string& content) {
  const Text text{"rack.csv", content};
  return faults_of(text, read_rack(text, LengthUnit::inch).diagnostics);
}

TEST(ReadRack, TakesBoardsWithTheirFaults) {
  const auto reading = read_rack({"rack.csv",
                                  "label,stock,length,count,value,faults\n"
                                  "R1,2x4,\"61 1/2\",2,1.50,\"20 to 22; 40 to 41 1/4\"\n"
                                  "R2,2x4,1500 mm,,,\n"},
                                 LengthUnit::inch);
  EXPECT_TRUE(reading.diagnostics.empty());
  ASSERT_EQ(reading.value.size(), 2u);
  const RackBoard& board = reading.value[0];
  EXPECT_EQ(board.length, Length::inches(61.5));
  EXPECT_EQ(board.count, 2);
  EXPECT_EQ(board.value.coins, 150);
  ASSERT_EQ(board.faults.size(), 2u);
  EXPECT_EQ(board.faults[1].second, Length::inches(41.25));
  EXPECT_EQ(reading.value[1].length, Length::mm(1500));
  EXPECT_EQ(reading.value[1].count, 1);
}

TEST(ReadRack, NamesEachFaultWithItsPlace) {
  EXPECT_EQ(rack_faults(""), "trade.no-column@1:1 ");
  EXPECT_EQ(rack_faults("stock,count\n2x4,1\n"), "trade.no-column@1:1 ");
  EXPECT_EQ(rack_faults("stock,length,colour\n"), "trade.unknown-column@1:14 ");
  EXPECT_EQ(rack_faults("stock,length,length\n"), "trade.twice-column@1:14 ");
  EXPECT_EQ(rack_faults("stock,length\n2x4,\n"), "trade.no-value@2:1 ");
  EXPECT_EQ(rack_faults("stock,length\n,12\n"), "trade.no-value@2:1 ");
  EXPECT_EQ(rack_faults("stock,length\n2x4,-3\n"), "trade.bad-size@2:5 ");
  EXPECT_EQ(rack_faults("stock,length\n2x4,12 1/0\n"), "measure.zero-below@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,count\n2x4,12,two\n"), "trade.bad-count@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,count\n2x4,12,99999\n"), "trade.bad-count@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,value\n2x4,12,1.234\n"), "trade.bad-money@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,faults\n2x4,12,3-4\n"), "trade.bad-fault@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,faults\n2x4,12,9 to 13\n"), "trade.bad-fault@2:8 ");
  EXPECT_EQ(rack_faults("stock,length,faults\n2x4,12,x to 3\n"), "measure.not-a-length@2:8 ");
}

TEST(ReadRack, GoesOnBehindAFaultyRow) {
  const auto reading =
      read_rack({"rack.csv", "stock,length\n2x4,long\n2x4,50\n"}, LengthUnit::inch);
  EXPECT_EQ(reading.diagnostics.size(), 1u);
  ASSERT_EQ(reading.value.size(), 1u);
  EXPECT_EQ(reading.value[0].length, Length::inches(50));
}

TEST(ReadRack, TakesAThousandRowsAtMost) {
  std::string rows = "stock,length\n";
  for (int i = 0; i < 1001; ++i) rows += "2x4,12\n";
  EXPECT_EQ(rack_faults(rows), "trade.too-many@1002:1 ");
}

TEST(ReadPrices, TakesMoneyAsItIsWritten) {
  const auto reading =
      read_prices({"p.csv", "price,length,stock\n4,8 ft,2x4\n$5.9,10 ft,2x4\n7.10,12 ft,2x4\n"},
                  LengthUnit::inch);
  EXPECT_TRUE(reading.diagnostics.empty());
  ASSERT_EQ(reading.value.size(), 3u);
  EXPECT_EQ(reading.value[0].price.coins, 400);
  EXPECT_EQ(reading.value[1].price.coins, 590);
  EXPECT_EQ(reading.value[2].price.coins, 710);
  EXPECT_EQ(reading.value[2].length, Length::inches(144));
}

TEST(ReadPrices, WantsAPriceInEachRow) {
  const Text text{"p.csv", "stock,length,price\n2x4,8 ft,\n,8 ft,1\n2x4,8 ft,1,2\n"};
  EXPECT_EQ(faults_of(text, read_prices(text, LengthUnit::inch).diagnostics),
            "trade.bad-money@2:1 trade.no-value@3:1 trade.extra-cell@4:12 ");
}

TEST(ReadOffcutWorths, TakesSteps) {
  const auto reading =
      read_offcut_worths({"w.csv", "length,worth\n12,0.50\n24,1.25\n"}, LengthUnit::inch);
  ASSERT_EQ(reading.value.size(), 2u);
  EXPECT_EQ(reading.value[1].worth.coins, 125);
}

}  // namespace
}  // namespace kw
