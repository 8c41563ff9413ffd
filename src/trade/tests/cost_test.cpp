#include "kerfwright/trade/cost.h"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "kerfwright/trade/coins.h"
#include "kerfwright/trade/pricing.h"

#include "shop.h"
#include "starters.h"

namespace kw::trade {
namespace {

using test::rail;
using test::Shop;

Cost cost_in(const Shop& shop, const Rates& rates = {}, Diagnostics* told = nullptr) {
  const Sawing sawing = shop.sawing();
  const Work work = work_of(shop.job, sawing, shop.shop);
  const CostAsked asked{.job = &shop.job,
                        .sawing = &sawing,
                        .time = {.minutes = 90, .least = 60, .most = 120, .chance = 0.9},
                        .work = work,
                        .coatings = coatings_of(shop.job, built_in_catalogue()),
                        .gluings = gluings_of(shop.job)};
  auto cost = cost_of(asked, rates, built_in_catalogue());
  if (told != nullptr) *told = cost.diagnostics;
  return std::move(cost.value);
}

TEST(CostOf, CountsBoardsAndCreditsOffcutsAsAPencilDoes) {
  Shop shop;
  shop.add(rail("60"), 3);
  const Cost cost = cost_in(shop);
  EXPECT_EQ(cost.of(CostKind::boards), Money{3000});
  // Each leaves 40 of 100 in at half its price.
  EXPECT_EQ(cost.of(CostKind::offcuts), Money{-600});
  EXPECT_EQ(cost.total, Money{2400});
  EXPECT_EQ(cost.pieces, 3);
  EXPECT_EQ(cost.each, Money{800});
}

TEST(CostOf, OffcutsByLengthWhereTheirWorthIsTyped) {
  Shop shop;
  shop.add(rail("60"), 1);
  shop.job.offcut_worths = {{Length::inches(20), {90}}, {Length::inches(30), {130}}};
  EXPECT_EQ(cost_in(shop).of(CostKind::offcuts), Money{-130});
  shop.job.offcut_worths = {{Length::inches(20), {9'999}}};
  EXPECT_EQ(cost_in(shop).total, Money{0}) << "never more than the board was";
}

TEST(CostOf, TakesWhatIsOnHandAtItsValue) {
  Shop shop;
  shop.add(rail("60"), 2);
  shop.job.rack = {{.label = "R1", .stock = "2x4", .length = Length::inches(61), .value = {111}}};
  const Cost cost = cost_in(shop);
  EXPECT_EQ(cost.of(CostKind::boards), Money{1111});
  EXPECT_EQ(cost.of(CostKind::offcuts), Money{-200});
}

TEST(CostOf, WagesAndOverhead) {
  Shop shop;
  shop.add(rail("100", ""), 1, {{"long", "99"}});
  const Cost cost =
      cost_in(shop, {.wage = {3001}, .overhead_share = 0.2, .overhead_hourly = {100}});
  EXPECT_EQ(cost.of(CostKind::labour), Money{4502});    // 1.5 h at 30.01: 45.015
  EXPECT_EQ(cost.of(CostKind::overhead), Money{1050});  // 9.004 + 1.5
}

TEST(CostOf, NamesEverythingThatHasNoPrice) {
  Shop shop;
  shop.add(test::starter("garden-bench").content, 1);
  Diagnostics told;
  const Cost cost = cost_in(shop, {}, &told);
  std::set<std::string> codes;
  for (const Diagnostic& d : told) codes.emplace(d.code);
  EXPECT_TRUE(codes.contains("trade.no-hardware-price"));
  EXPECT_EQ(cost.of(CostKind::hardware), Money{});
  Rates rates;
  for (const Hardware& hardware : hardware_of(shop.job))
    rates.hardware.push_back({hardware.name, {.holds = 100, .price = {900}}});
  Money expected;
  for (const Hardware& hardware : hardware_of(shop.job))
    expected = expected + Money{hardware.count * 9};
  EXPECT_EQ(cost_in(shop, rates).of(CostKind::hardware), expected);
}

TEST(CostOf, LinesAddUpForEveryStarter) {
  for (const std::string& name : {std::string("garden-bench"), std::string("tote"),
                                  std::string("wall-shelf"), std::string("plywood-case")}) {
    Shop shop;
    shop.add(test::starter(name).content, 3);
    const Cost cost = cost_in(shop, {.wage = {2500}});
    Money sum;
    for (const CostLine& line : cost.lines) {
      sum = sum + line.total;
      EXPECT_FALSE(line.basis.empty()) << line.what;
    }
    EXPECT_EQ(sum, cost.total) << name;
    EXPECT_GE(cost.each * 3, cost.total);
    EXPECT_LT(cost.each * 3, cost.total + Money{3});
    const auto to_buy = to_pay(buying_list_of(shop.job, shop.sawing()));
    EXPECT_EQ(cost.of(CostKind::boards), to_buy.value_or(Money())) << name;
  }
}

TEST(CostOf, RefusesSumsBeyondTheBooks) {
  Shop shop;
  shop.add(rail("60"), 1);
  Diagnostics told;
  const Cost cost = cost_in(shop, {.wage = most_money}, &told);
  EXPECT_EQ(cost.of(CostKind::labour), Money{});
  ASSERT_TRUE(has_errors(told));
  EXPECT_EQ(told[0].code, "trade.money-range");
}

TEST(ChargeFor, WholeBoxesOrTheShare) {
  EXPECT_EQ(charge_for({100, {900}, true}, 48), Money{900});
  EXPECT_EQ(charge_for({100, {900}, true}, 100), Money{900});
  EXPECT_EQ(charge_for({100, {900}, true}, 101), Money{1800});
  EXPECT_EQ(charge_for({100, {900}, false}, 48), Money{432});
  EXPECT_EQ(charge_for({0.3, {300}, true}, 0.9), Money{900}) << "three of 0.3 are 0.9";
  EXPECT_EQ(charge_for({100, {900}, true}, 0), Money{});
}

TEST(WorkOf, SharesSetUpsAndMultipliesCuts) {
  Shop one, ten;
  one.add(test::starter("garden-bench").content, 1);
  ten.add(test::starter("garden-bench").content, 10);
  const Work w = work_of(one.job, one.sawing(), one.shop);
  const Work many = work_of(ten.job, ten.sawing(), ten.shop);
  EXPECT_EQ(many.of(Activity::job), 1);
  EXPECT_EQ(many.of(Activity::set_up), w.of(Activity::set_up));
  for (const Activity a : {Activity::cut, Activity::hole, Activity::screw, Activity::assembly})
    EXPECT_EQ(many.of(a), 10 * w.of(a)) << name_of(a);
  EXPECT_NEAR(many.of(Activity::sanding), 10 * w.of(Activity::sanding), 1e-9);
  EXPECT_LE(many.of(Activity::board), 10 * w.of(Activity::board));
  double screws = 0;
  for (const Hardware& hardware : hardware_of(one.job))
    screws += hardware.name.find("dowel") == std::string::npos ? hardware.count : 0;
  EXPECT_EQ(w.of(Activity::screw), screws);
}

TEST(WorkOf, CountsARailByPencil) {
  Shop shop;
  shop.add(rail("60"), 2);
  shop.shop[0].surface.coats = 2;
  const Work work = work_of(shop.job, shop.sawing(), shop.shop);
  EXPECT_EQ(work.of(Activity::board), 2);
  EXPECT_EQ(work.of(Activity::cut), 4);     // two ends each
  EXPECT_EQ(work.of(Activity::set_up), 2);  // square, and the stop
  // 60 x 3 1/2 x 1 1/2 in: 2 x (210 + 90 + 5.25) = 610.5 in2.
  EXPECT_NEAR(work.of(Activity::sanding), 2 * 610.5 * 0.00064516, 1e-6);
  EXPECT_NEAR(work.of(Activity::coat), 4 * 610.5 * 0.00064516, 1e-6);
}

// Percents of hundredths, reckoned in whole numbers.
std::int64_t percent_of(std::int64_t coins, int hundredths) {
  return (coins * hundredths + 5'000) / 10'000;
}

RC_GTEST_PROP(PriceFor, IsTheLeastThatReachesTheMargin, ()) {
  const std::int64_t cost = *rc::gen::inRange<std::int64_t>(0, 3000);
  const std::int64_t fixed = *rc::gen::inRange<std::int64_t>(0, 60);
  const int margin = *rc::gen::inRange(0, 60), fee = *rc::gen::inRange(0, 3000);
  const int tax = *rc::gen::inRange(0, 2500);
  const bool is_on_tax = *rc::gen::arbitrary<bool>();
  const auto sale = price_for({cost}, margin / 100.0,
                              {.fee_percent = fee / 100.0,
                               .fee_fixed = {fixed},
                               .tax_percent = tax / 100.0,
                               .is_fee_on_tax = is_on_tax});
  if (!sale) {
    RC_ASSERT(1 - margin / 100.0 - fee / 10'000.0 * (1 + tax / 10'000.0) < 0.001);
    return;
  }
  // Every price from nothing up, one after another.
  std::int64_t price = 0, profit = 0;
  for (;; ++price) {
    const std::int64_t on = price + (is_on_tax ? percent_of(price, tax) : 0);
    profit = price - cost - fixed - percent_of(on, fee);
    if (profit * 100 >= margin * price) break;
  }
  RC_ASSERT(sale->price.coins == price);
  RC_ASSERT(sale->profit.coins == profit);
}

TEST(Coins, RoundHalvesAsATillDoes) {
  EXPECT_EQ(part_of({2700}, 17.5 / 100), Money{473});  // 472.5, in binary a hair less
  EXPECT_EQ(part_of({-2700}, 17.5 / 100), Money{-473});
  EXPECT_EQ(part_of({2700}, 0.17499999), Money{472});
  EXPECT_EQ(nearest_coin(1e300).coins, 1'000'000'000'000);
  EXPECT_EQ(nearest_coin(std::nan("")), Money{});
  for (int hundredths = 0; hundredths <= 10'000; hundredths += 7) {
    for (std::int64_t coins = 1; coins < 200'000; coins += 1'013)
      ASSERT_EQ(part_of({coins}, hundredths / 100.0 / 100).coins, percent_of(coins, hundredths));
  }
}

TEST(PriceFor, RefusesWhatNothingCanReach) {
  EXPECT_FALSE(price_for({1000}, 0.95, {.fee_percent = 6.5}));
  EXPECT_FALSE(price_for(most_money, 0.5, {}));
  EXPECT_EQ(price_for({1000}, 0.5, {})->price, Money{2000});
  EXPECT_EQ(sale_of({1000}, {2000}, {.fee_percent = 6.5, .fee_fixed = {30}}).profit, Money{840});
}

TEST(BreakEven, IsWhenWhatWasSpentOnceIsEarned) {
  const Sale sale = sale_of({1000}, {1700}, {});
  EXPECT_EQ(break_even({7000}, sale), 10);
  EXPECT_EQ(break_even({7001}, sale), 11);
  EXPECT_EQ(break_even({0}, sale), 0);
  EXPECT_EQ(break_even({1}, sale_of({1000}, {1000}, {})), std::nullopt);
}

TEST(SensitivityOf, IsWhatADearerBoardCosts) {
  Shop shop, dearer;
  shop.add(rail("60"), 2);
  std::string text = rail("60");
  text.replace(text.find("price = \"10\""), 12, "price = \"11\"");
  dearer.add(text, 2);
  const Rates rates{.wage = {3000}, .overhead_share = 0.1};
  const Cost cost = cost_in(shop, rates), more = cost_in(dearer, rates);
  const Sensitivity s = sensitivity_of(cost, 0.1, 0.4, {.fee_percent = 5});
  EXPECT_EQ(s.cost_for_lumber, more.each - cost.each);
  EXPECT_EQ(s.price_for_lumber, price_for(more.each, 0.4, {.fee_percent = 5})->price -
                                    price_for(cost.each, 0.4, {.fee_percent = 5})->price);
  EXPECT_EQ(s.cost_for_hours, Money{(4500 + 450) / 10 / 2 + 1}) << "247.5, rounded up for each";
}

TEST(UnitCosts, FallAsBoardsAreSharedOut) {
  const auto points = unit_costs({1, 2, 4, 10}, [](int count) -> Outcome<BatchCost> {
    Shop shop;
    shop.add(rail("33"), count);
    const Sawing sawing = shop.sawing();
    return BatchCost{cost_in(shop), sawing.plans[0].plan.is_proved};
  });
  ASSERT_EQ(points.value.size(), 4u);
  // 33 in: three from a board; what is left over is credited at half, where 10 in or more: two and
  // two leave 34 and 34, three and one leave 1 and 67.
  EXPECT_EQ(points.value[0].each, Money{1000 - 335});
  EXPECT_EQ(points.value[1].each, Money{(1000 - 170) / 2});
  EXPECT_EQ(points.value[2].total, Money{2000 - 340});
  EXPECT_EQ(points.value[3].total, Money{4000 - 340});
  EXPECT_TRUE(points.value[3].is_proved);
}

TEST(ParcelFor, IsTheCheapestThatTakesIt) {
  const std::vector<ParcelRate> rates = {{"small", {5}, Length::mm(1500), {900}},
                                         {"large", {30}, Length::mm(3000), {2900}},
                                         {"odd", {30}, Length::mm(1500), {1900}}};
  EXPECT_EQ(parcel_for(rates, {4}, {600, 100, 200})->name, "small");  // 600 + 600
  EXPECT_EQ(parcel_for(rates, {9}, {600, 100, 200})->name, "odd");
  EXPECT_EQ(parcel_for(rates, {9}, {100, 900, 200})->name, "odd");  // 900 + 600: just
  EXPECT_EQ(parcel_for(rates, {9}, {100, 901, 200})->name, "large");
  EXPECT_FALSE(parcel_for(rates, {31}, {600, 100, 200}));
  EXPECT_FALSE(parcel_for({}, {1}, {1, 1, 1}));
}

TEST(PlaceAmong, SaysWhereThePriceLies) {
  const auto place = place_among({200}, {{300}, {100}, {200}, {150}});
  ASSERT_TRUE(place);
  EXPECT_EQ(place->cheaper, 2);
  EXPECT_EQ(place->same, 1);
  EXPECT_EQ(place->dearer, 1);
  EXPECT_EQ(place->middle, Money{150});
  EXPECT_FALSE(place_among({1}, {}));
}

}  // namespace
}  // namespace kw::trade
