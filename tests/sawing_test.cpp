// Jobs of several pieces, from their text to the lists of the saw, held to what a pencil says.
#include <gtest/gtest.h>
#include <list>
#include <map>
#include <numeric>
#include <random>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/trade/yard_files.h"
#include "kerfwright/wire/plan_json.h"
#include "kerfwright/workbench/recompute.h"

#include "rack.h"
#include "starters.h"

namespace kw {
namespace {

// A rail of this length out of 2x4, `more` lines behind.
std::string rail(const std::string& length, const std::string& more = "") {
  return "format = 1\npiece = \"rail\"\nunit = \"in\"\ncurrency = \"USD\"\n"
         "[saw]\nkerf = \"0\"\ntrim = \"0\"\noffcut = \"10\"\n"
         "[stock.wood]\nsection = \"2x4\"\n"
         "buy = [{ length = \"100\", price = \"10\" }]\n" +
         more +
         "[board.rail]\nstock = \"wood\"\nat = [\"0\", \"0\", \"0\"]\nalong = \"x\"\nlength = \"" +
         length + "\"\n";
}

class Shop {
 public:
  void add(const std::string& text, int count) {
    snapshots_.push_back(recompute({"t.toml", text}, built_in_catalogue(), cache_));
    const Snapshot& now = snapshots_.back();
    EXPECT_FALSE(has_errors(now.diagnostics)) << render({"t.toml", text}, now.diagnostics);
    if (snapshots_.size() == 1) {
      job = job_of(now.piece, now.cut_list);
      job.pieces[0].count = count;
    } else {
      job.pieces.push_back({&now.piece, &now.cut_list, count});
    }
  }
  void add_starter(const std::string& name, int count) { add(test::starter(name).content, count); }

  Sawing sawing() {
    auto reading = saw(job, {.seconds = 20, .work = 20'000'000});
    faults = reading.diagnostics;
    for (const StockPlan& p : reading.value.plans) {
      EXPECT_TRUE(p.problem.strips_per_board > 1 || verify(p.problem.problem, p.plan).empty());
    }
    for (const SheetStockPlan& p : reading.value.sheets)
      EXPECT_TRUE(verify_sheets(p.problem, p.plan).empty());
    return std::move(reading.value);
  }

  Job job = {};
  Diagnostics faults = {};

 private:
  ShapeCache cache_ = {};
  std::list<Snapshot> snapshots_ = {};
};

TEST(Job, PoolsEqualStockOfAllPieces) {
  Shop shop;
  shop.add(rail("60"), 2);
  shop.add(rail("40"), 2);
  const Sawing sawing = shop.sawing();
  // Apart: 2 boards for the rails of 60 and 1 for those of 40; together 2.
  ASSERT_EQ(sawing.plans.size(), 1u);
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 2000);
  EXPECT_TRUE(sawing.plans[0].plan.is_proved);
  EXPECT_EQ(to_csv(buying_table(shop.job, sawing, {})),
            "stock,sold as,wood,length,count,board feet,each,together\r\n"
            "wood,2x4,,\"100\"\"\",2,11.11,10.00 USD,20.00 USD\r\n");
  EXPECT_EQ(to_csv(sticks_table(shop.job, sawing, {})),
            "stock,stick,from,stick length,part,starts at,length,left end,right end,offcut\r\n"
            "wood,1,2x4,\"100\"\"\",1A,\"0\"\"\",\"60\"\"\",square,square,\"0\"\"\"\r\n"
            "wood,1,2x4,\"100\"\"\",2A,\"60\"\"\",\"40\"\"\",square,square,\"0\"\"\"\r\n"
            "wood,2,2x4,\"100\"\"\",1A,\"0\"\"\",\"60\"\"\",square,square,\"0\"\"\"\r\n"
            "wood,2,2x4,\"100\"\"\",2A,\"60\"\"\",\"40\"\"\",square,square,\"0\"\"\"\r\n");
  EXPECT_EQ(to_csv(sequence_table(shop.job, sawing.plans[0], {})),
            "stop,set to,ends,part,count,from sticks,at once,note\r\n"
            "A,\"60\"\"\",square,1A,2,\"1, 2\",,\r\n"
            "B,\"40\"\"\",square,2A,2,\"1, 2\",,\r\n");
  EXPECT_EQ(setups_text(*sawing.plans[0].plan.aims),
            "fewest set-ups for this money: 3 (1 layout, 2 stops), proved");
}

TEST(Job, CountsMultiplyTheParts) {
  Shop shop;
  shop.add(rail("50"), 85);
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 43 * 1000);
  EXPECT_NEAR(yield_of(shop.job, sawing), 85.0 / 86, 1e-9);
}

TEST(Job, SawsTheRackRoundItsFaultsBeforeItBuys) {
  Shop shop;
  shop.add(rail("40"), 2);
  const auto rack = read_rack(
      {"r.csv", "label,stock,length,faults\nR1,2x4,90,45 to 50\nR2,1x4,90,\n"}, LengthUnit::inch);
  ASSERT_TRUE(rack.diagnostics.empty());
  shop.job.rack = rack.value;
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 0);
  ASSERT_EQ(sawing.plans[0].plan.sticks.size(), 1u);
  ASSERT_EQ(sawing.plans[0].plan.sticks[0].parts.size(), 2u);
  EXPECT_GE(sawing.plans[0].plan.sticks[0].parts[1].from, Length::inches(50));
  const auto lines = buying_list_of(shop.job, sawing);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_EQ(lines[0].label, "R1");
  EXPECT_EQ(lines[0].count, 1);
  EXPECT_EQ(to_pay(lines), Money{});
}

TEST(Job, UsesABoardOfTheRackOnce) {
  Shop shop;
  shop.add(rail("40", "rip = \"3\"\n"), 1);
  std::string angled = rail("40", "rip = \"2\"\n");
  angled += "end = { mitre = \"20 deg\" }\n";
  shop.add(angled, 1);
  shop.job.rack = {{.label = "R1", .stock = "2x4", .length = Length::inches(70)}};
  const Sawing sawing = shop.sawing();
  int on_hand = 0;
  for (const BuyLine& line : buying_list_of(shop.job, sawing))
    on_hand += line.is_on_hand ? line.count : 0;
  EXPECT_EQ(on_hand, 1);
}

// The first stock would save 1 USD by the board of the rack, the second one 10.
TEST(Job, GivesTheRackToTheStockThatSavesMost) {
  Shop shop;
  shop.add(rail("40", "rip = \"3\"\n"), 1);
  shop.add(rail("60", "rip = \"2\"\n") + "end = { mitre = \"20 deg\" }\n", 1);
  shop.job.prices = {{.stock = "2x4", .length = Length::inches(100), .price = {1000}},
                     {.stock = "2x4", .length = Length::inches(45), .price = {100}}};
  shop.job.rack = {{.label = "R1", .stock = "2x4", .length = Length::inches(70)}};
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(to_pay(buying_list_of(shop.job, sawing)), Money{100});
  EXPECT_TRUE(sawing.is_rack_shared_best);
}

// Stocks with random savings from every set of boards, against all ways to share the boards out.
class RandomStocks {
 public:
  explicit RandomStocks(unsigned seed) : random_(seed) {
    for (std::size_t b = 0; b < 3; ++b) counts.push_back(1 + below(2));
    for (std::size_t s = 0; s < 3; ++s) {
      std::map<Allowance, int> costs;
      for (const Allowance& use : up_to(counts)) {
        const int boards = std::accumulate(use.begin(), use.end(), 0);
        costs[use] = boards == 0 ? 100 : 100 - below(30 * boards);
      }
      costs_.push_back(std::move(costs));
    }
  }

  [[nodiscard]] RackAnswer answer(std::size_t stock, const Allowance& allowance) const {
    RackAnswer best;
    for (const Allowance& use : up_to(allowance)) {
      const int cost = costs_[stock].at(use);
      if (!best.is_found || cost < best.cost) best = {true, cost, cost, use};
    }
    return best;
  }

  [[nodiscard]] std::int64_t cheapest(std::size_t stock, const Allowance& left) const {
    if (stock == costs_.size()) return 0;
    std::int64_t best = std::numeric_limits<std::int64_t>::max();
    for (const Allowance& use : up_to(left)) {
      Allowance rest = left;
      for (std::size_t b = 0; b < rest.size(); ++b) rest[b] -= use[b];
      best = std::min(best, costs_[stock].at(use) + cheapest(stock + 1, rest));
    }
    return best;
  }

  Allowance counts = {};

 private:
  int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

  static std::vector<Allowance> up_to(const Allowance& most) {
    std::vector<Allowance> all = {{}};
    for (const int n : most) {
      std::vector<Allowance> longer;
      for (const Allowance& a : all) {
        for (int i = 0; i <= n; ++i) longer.push_back(a), longer.back().push_back(i);
      }
      all = std::move(longer);
    }
    return all;
  }

  std::mt19937 random_;
  std::vector<std::map<Allowance, int>> costs_ = {};
};

TEST(Rack, IsSharedOutAtLeastCost) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    const RandomStocks stocks(seed);
    const std::vector<std::vector<bool>> suits(3, std::vector<bool>(3, true));
    const Sharing sharing = share_rack(
        stocks.counts, suits,
        [&](std::size_t s, const Allowance& a) { return stocks.answer(s, a); },
        [] { return true; });
    std::int64_t cost = 0;
    Allowance left = stocks.counts;
    for (std::size_t s = 0; s < 3; ++s) {
      const RackAnswer got = stocks.answer(s, sharing.of_stock[s]);
      cost += got.cost;
      for (std::size_t b = 0; b < 3; ++b) left[b] -= got.used[b];
    }
    EXPECT_GE(*std::min_element(left.begin(), left.end()), 0) << seed;
    EXPECT_EQ(cost, stocks.cheapest(0, stocks.counts)) << seed;
    EXPECT_TRUE(sharing.is_proved) << seed;
  }
}

TEST(Job, TakesTheYardsPricesInsteadOfThePieces) {
  Shop shop;
  shop.add(rail("40"), 2);
  shop.job.prices = {{.stock = "2X4", .length = Length::inches(80), .price = {150}},
                     {.stock = "1x4", .length = Length::inches(80), .price = {1}}};
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 150);
}

TEST(Job, TellsWhenPiecesAskDifferentPrices) {
  Shop shop;
  shop.add(rail("40"), 1);
  std::string cheap = rail("40");
  cheap.replace(cheap.find("price = \"10\""), 12, "price = \"9\" ");
  shop.add(cheap, 1);
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 900);
  ASSERT_EQ(shop.faults.size(), 1u);
  EXPECT_EQ(shop.faults[0].code, "sawing.prices-differ");
}

TEST(Job, SharesBoardsBetweenWidthsThatAreRippedAfterwards) {
  Shop shop;
  shop.add(rail("60", "rip = \"3\"\n"), 1);
  shop.add(rail("40", "rip = \"2\"\n"), 1);
  const Sawing sawing = shop.sawing();
  ASSERT_EQ(sawing.plans.size(), 1u);
  EXPECT_TRUE(sawing.plans[0].problem.is_ripped_after);
  EXPECT_EQ(sawing.plans[0].plan.cost.coins, 1000);
}

TEST(Job, RipsTwoStripsOutOfABoardAndPaysForItOnce) {
  Shop shop;
  shop.add(rail("90", "rip = \"1 3/4\"\n"), 3);
  const Sawing sawing = shop.sawing();
  int boards = 0;
  for (const BuyLine& line : buying_list_of(shop.job, sawing)) boards += line.count;
  EXPECT_EQ(boards, 2);
  EXPECT_EQ(to_pay(buying_list_of(shop.job, sawing)), Money{2000});
}

TEST(Job, StacksBoardsUpToTheSawsDepth) {
  Shop shop;
  shop.add(rail("50"), 8);
  shop.job.saw_depth = Length::inches(3.5);  // a 2x4 is 1 1/2 in thick
  const Sawing sawing = shop.sawing();
  EXPECT_EQ(sawing.plans[0].at_once, 2);
}

TEST(Job, PlansSheetsWithTheGrainAlongThem) {
  Shop shop;
  shop.add_starter("plywood-case", 2);
  const Sawing sawing = shop.sawing();
  ASSERT_EQ(sawing.sheets.size(), 2u);
  EXPECT_TRUE(sawing.is_whole);
  for (const SheetStockPlan& plan : sawing.sheets) {
    int parts = 0;
    for (const SawnSheet& sheet : plan.plan.sheets) {
      for (const SheetPiece& piece : sheet.pieces) {
        if (piece.use != SheetPiece::Use::part) continue;
        EXPECT_FALSE(piece.turned);
        ++parts;
      }
      EXPECT_FALSE(cuts_of(sheet).empty());
    }
    EXPECT_EQ(parts, plan.stock.name == "ply" ? 10 : 2);
  }
}

// The order of work, too, is only put together the short way then; what is planned is whole.
TEST(Job, IsWholeWhereItWasStopped) {
  Shop shop;
  shop.add_starter("garden-bench", 20);
  int asked = 0, told_no = 0;
  const auto goes_on = [&](const Progress&) {
    if (asked++ < 2) return true;
    ++told_no;
    return false;
  };
  const auto reading = saw(shop.job, {.seconds = 60, .on_progress = goes_on});
  EXPECT_EQ(told_no, 1);
  for (const StockPlan& p : reading.value.plans) {
    EXPECT_TRUE(verify(p.problem.problem, p.plan).empty());
    std::size_t parts = 0, cuts = 0;
    for (const SawnStick& stick : p.plan.sticks) parts += stick.parts.size();
    for (const StopSetting& stop : p.sequence.settings) cuts += stop.cuts.size();
    EXPECT_GT(parts, 0u);
    EXPECT_EQ(cuts, parts);
  }
}

TEST(Job, SaysTheSameTwice) {
  std::string first;
  for (int run = 0; run < 2; ++run) {
    Shop shop;
    shop.add_starter("trestle", 3);
    shop.add_starter("garden-bench", 1);
    shop.add_starter("tote", 2);
    const Sawing sawing = shop.sawing();
    const std::string json = sawing_plan_json(shop.job, sawing, {});
    if (run == 0) first = json;
    EXPECT_EQ(json, first);
  }
}

}  // namespace
}  // namespace kw
