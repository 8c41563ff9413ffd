#include "kerfwright/trade/batch.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <numeric>
#include <rapidcheck/gtest.h>

#include "kerfwright/trade/board_code.h"
#include "kerfwright/trade/journal.h"
#include "kerfwright/trade/price_list.h"

#include "draw_events.h"
#include "shop.h"

namespace kw::trade {
namespace {

using test::rail;
using test::Shop;

const Day monday{20'787};  // 2026-11-30
const WorkWeek five_days{.hours = {6, 6, 6, 6, 6, 0, 0}};

void must_enter(Journal& journal, Event event) {
  const auto lines = enter(journal, {monday, std::move(event)});
  ASSERT_TRUE(lines) << lines.diagnostics()[0].message;
}

Work minutes_of_job(double jobs) {
  Work work;
  work.of(Activity::job) = jobs;  // 20 minutes each
  return work;
}

TEST(VariantsOf, PutsEqualOrdersTogether) {
  Journal j;
  must_enter(j, OrderTaken{{.piece = "bench", .sizes = {{"width", "54"}}, .count = 2}});
  must_enter(j, OrderTaken{{.piece = "bench", .count = 1}});
  must_enter(j, OrderTaken{{.piece = "bench", .sizes = {{"width", "54"}}, .count = 3}});
  must_enter(j, OrderTaken{{.piece = "tote"}});
  must_enter(j, OrderCancelled{4});
  const auto variants = variants_of(j.books, {1, 2, 3, 4, 9, 1});
  ASSERT_EQ(variants.value.size(), 2u);
  EXPECT_EQ(variants.value[0].count, 5);
  EXPECT_EQ(variants.value[0].orders, (std::vector<int>{1, 3}));
  EXPECT_EQ(variants.value[1].count, 1);
  ASSERT_EQ(variants.diagnostics.size(), 3u);
  EXPECT_EQ(variants.diagnostics[0].code, "trade.order-closed");
  EXPECT_EQ(variants.diagnostics[1].code, "trade.no-such-order");
  EXPECT_EQ(variants.diagnostics[2].code, "trade.twice");
}

TEST(ScheduleOf, FillsTheDaysInTheOrderOfDueDates) {
  const LabourModel model = learn({});
  // 9, 18 and 36 jobs of 20 minutes: 3, 6 and 12 hours at 6 hours a day.
  const auto schedule = schedule_of({{.of = 1, .work = minutes_of_job(36)},
                                     {.of = 2, .work = minutes_of_job(18), .due = monday + 10},
                                     {.of = 3, .work = minutes_of_job(9), .due = monday + 1}},
                                    model, five_days, monday);
  const auto& loads = schedule.value.loads;
  ASSERT_EQ(loads.size(), 3u);
  EXPECT_EQ(loads[0].of, 3);
  EXPECT_EQ(loads[0].ends, monday);
  EXPECT_EQ(loads[1].of, 2);
  EXPECT_EQ(loads[1].begins, monday);
  EXPECT_EQ(loads[1].ends, monday + 1);
  EXPECT_EQ(loads[2].ends, monday + 3);
  EXPECT_EQ(loads[0].days_late, -1);
  EXPECT_EQ(schedule.value.most_late, -1);
  EXPECT_NEAR(schedule.value.minutes, 63 * 20, 1e-6);
  for (const ScheduledLoad& load : loads) EXPECT_GE(load.promise, load.ends);
}

TEST(ScheduleOf, PromisesByTheErrorOfAllWorkUpToThen) {
  const LabourModel model = learn({});
  const auto schedule = schedule_of({{.of = 1, .work = minutes_of_job(18), .due = monday + 2},
                                     {.of = 2, .work = minutes_of_job(18), .due = monday + 3}},
                                    model, five_days, monday, 0.9);
  const double most = estimate_of(model, minutes_of_job(36), 0.8).value.most;
  const int days = static_cast<int>(std::ceil(most / 360)) - 1;
  ASSERT_LE(days, 4);
  EXPECT_EQ(schedule.value.loads[1].promise, monday + days);
  EXPECT_EQ(schedule.value.loads[1].is_risky, days > 3);
  const auto surer = schedule_of({{.of = 1, .work = minutes_of_job(18), .due = monday + 2}}, model,
                                 five_days, monday, 0.99);
  EXPECT_GE(surer.value.loads[0].promise, schedule.value.loads[0].promise);
}

TEST(ScheduleOf, LeavesOutDaysOffAndWeekends) {
  const LabourModel model = learn({});
  WorkWeek week = five_days;
  week.off = {monday + 1};
  const auto schedule =
      schedule_of({{.of = 1, .work = minutes_of_job(18 * 5)}}, model, week, monday);
  EXPECT_EQ(schedule.value.loads[0].ends, monday + 7);
  EXPECT_EQ(schedule_of({{.of = 1}}, model, {}, monday).diagnostics[0].code, "trade.no-hours");
}

// Against every order of work.
RC_GTEST_PROP(ScheduleOf, NoOrderOfWorkIsLessLate, ()) {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  const LabourModel model = learn({});
  std::vector<Load> loads;
  for (int n = *rc::gen::inRange(1, 7); n > 0; --n)
    loads.push_back({n, minutes_of_job(dice.from(1, 60)), monday + dice.below(20)});
  const int most_late = schedule_of(loads, model, five_days, monday).value.most_late;
  std::vector<std::size_t> order(loads.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  int best = 1'000'000;
  do {
    double minutes = 0;
    int worst = -1'000'000;
    for (const std::size_t i : order) {
      minutes += 20 * loads[i].work.of(Activity::job);
      double room = minutes_on(five_days, monday);
      int day = 0;
      while (room < minutes - 1e-6) room += minutes_on(five_days, monday + ++day);
      worst = std::max(worst, day - (*loads[i].due - monday));
    }
    best = std::min(best, worst);
  } while (std::next_permutation(order.begin(), order.end()));
  RC_ASSERT(most_late == best);
}

RC_GTEST_PROP(SawDays, KeepTheOrderAndBreakNoSetUp, ()) {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  std::vector<double> minutes;
  for (int n = *rc::gen::inRange(0, 30); n > 0; --n) minutes.push_back(dice.from(1, 260));
  WorkWeek week;
  for (double& hours : week.hours) hours = dice.below(5);
  const auto days = saw_days_of(minutes, week, monday);
  if (*std::max_element(week.hours.begin(), week.hours.end()) == 0) {
    RC_ASSERT(days.empty());
    return;
  }
  int next = 0;
  Day last = monday + (-1);
  for (const SawDay& day : days) {
    RC_ASSERT(day.first == next);
    RC_ASSERT(day.count >= 1);
    RC_ASSERT(day.day > last);
    const auto from = minutes.begin() + day.first;
    const double sum = std::accumulate(from, from + day.count, 0.0);
    RC_ASSERT(sum == day.minutes);
    RC_ASSERT((day.is_too_long ? day.count == 1 : sum <= minutes_on(week, day.day)));
    next += day.count;
    last = day.day;
  }
  RC_ASSERT(next == static_cast<int>(minutes.size()));
  // No split ends earlier: how many can be done by each day, by trying all that lie behind.
  const bool fits_all =
      std::none_of(days.begin(), days.end(), [](const SawDay& d) { return d.is_too_long; });
  if (!fits_all || days.empty()) return;
  std::vector<bool> reached(minutes.size() + 1, false);
  reached[0] = true;
  Day day = monday;
  for (; !reached.back(); day = day + 1) {
    std::vector<bool> after = reached;
    for (std::size_t from = 0; from < minutes.size(); ++from) {
      double sum = 0;
      for (std::size_t to = from; reached[from] && to < minutes.size(); ++to) {
        sum += minutes[to];
        if (sum <= minutes_on(week, day)) after[to + 1] = true;
      }
    }
    reached = after;
  }
  RC_ASSERT(days.back().day == day + (-1));
}

TEST(StillToBuy, IsWhatWasPlannedLessWhatCame) {
  Journal j;
  const BoardFacts board{.stock = "2x4", .length = Length::inches(96), .value = {600}};
  must_enter(j, BoardsFound{{board}});
  must_enter(j,
             BatchPlanned{.lots = {{}},
                          .boards = {1},
                          .to_buy = {{.stock = "2x4", .length = Length::inches(96), .count = 3}}});
  must_enter(j,
             BatchPlanned{.lots = {{}},
                          .to_buy = {{.stock = "2x4", .length = Length::inches(96), .count = 2}}});
  EXPECT_EQ(still_to_buy(j.books, 2)[0].count, 3) << "a board from the rack is none of those";
  must_enter(j, BoardsBought{"Mill", {board, board}, {}, 2});
  EXPECT_EQ(still_to_buy(j.books, 2)[0].count, 1);
  Schedule schedule;
  schedule.loads = {{.of = 2, .begins = monday}, {.of = 3, .begins = monday + 3}};
  ASSERT_EQ(to_buy_until(j.books, schedule, monday + 6).size(), 1u);
  EXPECT_EQ(to_buy_until(j.books, schedule, monday + 6)[0].count, 3);
  EXPECT_EQ(to_buy_until(j.books, schedule, monday + 1)[0].count, 1);
  must_enter(j, BoardsBought{"Mill", {board}, {}, 2});
  EXPECT_TRUE(still_to_buy(j.books, 2).empty());
}

// 85 orders of rails in a dozen lengths, from measured boards on the rack and new ones, to the last
// coin.
class ManyOrders : public testing::Test {
 protected:
  void SetUp() override {
    take_orders();
    for (const Variant& v : variants)
      shop.add(rail("20"), v.count, {{v.sizes[0].first, v.sizes[0].second}});
    shop.job.rack = rack_of(j.books);
    sawing = shop.sawing();
    asked = {.job = &shop.job, .sawing = &sawing, .work = work_of(shop.job, sawing, shop.shop)};
    asked.time = estimate_of(model, asked.work).value;
    cost = cost_of(asked, {.wage = {2'500}}, built_in_catalogue()).value;
    each = cost_by_piece(asked, cost, model, shop.shop);
    must_enter(j, batch_of(shop.job, sawing, "rails", lots_of(j.books, variants, each)));
    batch = j.books.entries;
  }

  void take_orders() {
    std::vector<BoardFacts> rack;
    for (int n = 0; n < 40; ++n)
      rack.push_back({.stock = "2x4",
                      .length = Length::inches(41) + Length::ticks(7'000'001LL * n),
                      .value = {131 + n}});
    must_enter(j, OwnerPaid{{200'000}});
    must_enter(j, BoardsFound{rack});
    for (int n = 0; n < 85; ++n) {
      must_enter(j, OrderTaken{{.buyer = "buyer " + std::to_string(n),
                                .piece = "rail",
                                .sizes = {{"long", std::to_string(17 + 3 * (n % 12))}},
                                .count = 1 + n % 2,
                                .due = monday + 3 + n % 30,
                                .each = {1'900 + n}}});
      orders.push_back(j.books.entries);
    }
    variants = variants_of(j.books, orders).value;
  }

  void buy_and_saw() {
    std::vector<BoardFacts> bought;
    for (const BoardsToBuy& buy : still_to_buy(j.books, batch)) {
      for (int n = 0; n < buy.count; ++n)
        bought.push_back({.stock = buy.stock, .length = buy.length, .value = buy.each});
    }
    must_enter(j, BoardsBought{"Mill", bought, {}, batch});
    const auto sawn = sawn_of(planned_boards(shop.job, sawing), j.books, batch);
    ASSERT_TRUE(sawn);
    must_enter(j, *sawn);
  }

  // Gives what was sold, without tax.
  Money deliver_all() {
    const auto parts = j.books.batches.at(batch).parts;
    for (const auto& [part, progress] : parts)
      must_enter(j, PartsDone{batch, part, progress.wanted});
    Money sales;
    for (const int order : orders) {
      const OrderFacts facts = j.books.orders.at(order).facts;
      const Money net = facts.each * facts.count, tax = part_of(net, 0.0825);
      must_enter(j, Invoiced{order, net, tax});
      must_enter(j, Paid{order, net + tax, {}});
      must_enter(j, Delivered{order});
      sales = sales + net;
    }
    return sales;
  }

  Journal j = {};
  std::vector<int> orders = {};
  std::vector<Variant> variants = {};
  Shop shop = {};
  Sawing sawing = {};
  LabourModel model = learn({});
  CostAsked asked = {};
  Cost cost = {};
  std::vector<Money> each = {};
  int batch = 0;
};

TEST_F(ManyOrders, ArePlannedInOneGoAndTheCostIsSharedOut) {
  ASSERT_EQ(variants.size(), 12u);
  ASSERT_EQ(sawing.plans.size(), 1u);
  EXPECT_LE(sawing.plans[0].plan.bound, sawing.plans[0].plan.cost);
  std::int64_t together = 0;
  for (std::size_t v = 0; v < variants.size(); ++v) together += each[v].coins * variants[v].count;
  EXPECT_GE(together, cost.total.coins);
  EXPECT_LT(together, cost.total.coins + cost.pieces);
  const auto too_soon = sawn_of(planned_boards(shop.job, sawing), j.books, batch);
  ASSERT_FALSE(too_soon);
  EXPECT_EQ(too_soon.diagnostics()[0].code, "trade.board-missing");
}

TEST_F(ManyOrders, BalanceToTheCoin) {
  const Money lumber = cost.of(CostKind::boards) + cost.of(CostKind::offcuts);
  buy_and_saw();
  EXPECT_TRUE(still_to_buy(j.books, batch).empty());
  EXPECT_EQ(balance_of(j.books, Account{AccountKind::in_work, batch}), lumber)
      << "what was reckoned is what it came to";
  const Money sales = deliver_all();
  EXPECT_EQ(balance_of(j.books, AccountKind::in_work), Money{});
  EXPECT_EQ(balance_of(j.books, AccountKind::owed_by_buyer), Money{});
  EXPECT_EQ(balance_of(j.books, AccountKind::sales), Money() - sales);
  EXPECT_EQ(balance_of(j.books, AccountKind::cost_of_sales), lumber);
  Money all, on_rack;
  for (const auto& [account, amount] : j.books.balances) all = all + amount;
  EXPECT_EQ(all, Money{});
  for (const RackBoard& board : rack_of(j.books)) on_rack = on_rack + board.value;
  EXPECT_EQ(balance_of(j.books, AccountKind::boards), on_rack);
  EXPECT_EQ(replay(j.entries)->books, j.books);
}

// Wood in is parts, waste and offcuts; the parts are those that were ordered, and the offcuts are
// on the rack again.
TEST_F(ManyOrders, LoseNoWood) {
  buy_and_saw();
  const SawnLengths& lengths = j.books.batches.at(batch).lengths;
  EXPECT_EQ(lengths.sawn, lengths.in_parts + lengths.in_waste + lengths.in_offcuts);
  Length ordered, back;
  for (const Variant& v : variants)
    ordered += Length::inches(std::stod(v.sizes[0].second)) * v.count;
  EXPECT_EQ(lengths.in_parts, ordered);
  for (const auto& [number, board] : j.books.boards) {
    if (board.born_in == batch) back += board.facts.length;
  }
  EXPECT_EQ(back, lengths.in_offcuts);
}

TEST(CostByPiece, SharesWoodByVolume) {
  Shop shop;
  shop.add(rail("60"), 1);
  shop.add(rail("20"), 2);
  const Sawing sawing = shop.sawing();
  const CostAsked asked{.job = &shop.job, .sawing = &sawing};
  const Cost cost = cost_of(asked, {}, built_in_catalogue()).value;
  ASSERT_EQ(cost.total, Money{1000}) << "one board: 60 + 20 + 20";
  const auto each = cost_by_piece(asked, cost, learn({}), shop.shop);
  EXPECT_EQ(each[0], Money{600});
  EXPECT_EQ(each[1], Money{200});
}

TEST(ShareDone, CountsParts) {
  Batch batch;
  EXPECT_EQ(share_done(batch), 1);
  batch.parts = {{"A", {6, 3}}, {"B", {2, 0}}};
  EXPECT_NEAR(share_done(batch), 3.0 / 8, 1e-12);
}

TEST(SawnOf, StripsOfOneBoardAreOneBoard) {
  Shop shop;
  std::string text = rail("60");
  text.replace(text.find("section = \"2x4\"\n"), 16, "section = \"2x4\"\nrip = \"1 1/2\"\n");
  shop.add(text, 3);
  const Sawing sawing = shop.sawing();
  ASSERT_EQ(sawing.plans.size() + sawing.sheets.size(), 1u);
  const auto planned = planned_boards(shop.job, sawing);
  Journal j;
  must_enter(j, batch_of(shop.job, sawing, "strips", {{0, 3, 1}}));
  std::vector<BoardFacts> bought;
  for (const BoardsToBuy& buy : still_to_buy(j.books, 1))
    for (int n = 0; n < buy.count; ++n)
      bought.push_back({.stock = buy.stock, .length = buy.length, .value = buy.each});
  ASSERT_EQ(bought.size(), planned.size());
  ASSERT_EQ(planned.size(), 2u) << "three strips, two from a board";
  EXPECT_EQ(planned[1].sawn.strips, 2);
  ASSERT_EQ(planned[1].sawn.offcuts.size(), 2u) << "behind the part, and the strip beside it";
  EXPECT_EQ(planned[1].sawn.offcuts[1].facts.length, Length::inches(100));
  must_enter(j, BoardsBought{"Mill", bought, {}, 1});
  const auto sawn = sawn_of(planned, j.books, 1);
  ASSERT_TRUE(sawn);
  must_enter(j, *sawn);
}

}  // namespace
}  // namespace kw::trade
