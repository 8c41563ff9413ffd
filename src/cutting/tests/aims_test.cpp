// What comes after money, against trying everything: every way to share small lots of parts out to
// sticks, every order of taking rows off from their ends.
#include <algorithm>
#include <gtest/gtest.h>
#include <map>
#include <rapidcheck/gtest.h>
#include <set>
#include <tuple>

#include "kerfwright/cutting/sequence.h"

#include "draw.h"

namespace kw {
namespace {

// Cost, minus what is kept, layouts.
using Result = std::tuple<std::int64_t, std::int64_t, int>;

// All ways to put square parts on sticks, one part after another.
class Everything {
 public:
  explicit Everything(const Problem& p) : p_(p) {
    for (const Demand& d : p.demands)
      parts_.insert(parts_.end(), static_cast<std::size_t>(d.count), d.length);
    place(0);
  }
  std::set<Result> results = {};

 private:
  struct Bin {
    std::size_t stock = 0;
    std::vector<Length> parts = {};
  };

  void place(std::size_t i) {
    if (i == parts_.size()) return close();
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      bins_[b].parts.push_back(parts_[i]);
      if (rest(bins_[b]) >= Length()) place(i + 1);
      bins_[b].parts.pop_back();
    }
    for (std::size_t s = 0; s < p_.stocks.size(); ++s) {
      const auto used =
          std::count_if(bins_.begin(), bins_.end(), [&](const Bin& bin) { return bin.stock == s; });
      if (p_.stocks[s].count && used >= *p_.stocks[s].count) continue;
      bins_.push_back({s, {parts_[i]}});
      if (rest(bins_.back()) >= Length()) place(i + 1);
      bins_.pop_back();
    }
  }

  [[nodiscard]] Length rest(const Bin& bin) const {
    Length left = p_.stocks[bin.stock].length - 2 * p_.saw.end_trim;
    for (const Length part : bin.parts) left -= part;
    return left - p_.saw.kerf * (static_cast<std::int64_t>(bin.parts.size()) - 1);
  }

  [[nodiscard]] std::int64_t worth(Length l) const {
    if (p_.shortest_offcut <= Length() || l < p_.shortest_offcut) return 0;
    if (p_.offcut_worths.empty()) return l.in_ticks() / Length::ticks_per_mm;
    std::int64_t best = 0;
    for (const OffcutWorth& w : p_.offcut_worths) best = w.from <= l ? w.worth.coins : best;
    return best;  // the tests write them in rising order
  }

  void close() {
    std::int64_t cost = 0, kept = 0;
    std::set<std::pair<std::size_t, std::vector<Length>>> layouts;
    for (const Bin& bin : bins_) {
      const Stock& stock = p_.stocks[bin.stock];
      cost += stock.price.coins;
      kept += worth(rest(bin) - p_.saw.kerf) - (stock.count ? worth(stock.length) : 0);
      std::vector<Length> sorted = bin.parts;
      std::sort(sorted.begin(), sorted.end());
      layouts.insert({bin.stock, sorted});
    }
    results.insert({cost, -kept, static_cast<int>(layouts.size())});
  }

  const Problem& p_;
  std::vector<Length> parts_ = {};
  std::vector<Bin> bins_ = {};
};

Problem small_problem(const Draw& draw) {
  Problem p;
  p.saw = {.kerf = Length::inches(draw(0, 2) / 8.0), .end_trim = Length::inches(draw(0, 2) / 4.0)};
  p.shortest_offcut = Length::inches(draw(0, 2) * 10);
  if (draw(0, 2) == 0) {
    p.offcut_worths = {{Length::inches(10), {30}}, {Length::inches(24), {draw(40, 300)}}};
  }
  for (int s = draw(1, 4); s > 0; --s) {
    Stock stock{.name = "s", .length = Length::inches(draw(30, 60)), .price = {draw(5, 9) * 10}};
    if (draw(0, 3) == 0) stock.price = {}, stock.count = draw(1, 3);
    p.stocks.push_back(stock);
  }
  p.stocks.push_back({.name = "always", .length = Length::inches(50), .price = {80}});
  int parts = 0;
  for (int k = draw(1, 4); k > 0 && parts < 6; --k) {
    const int count = std::min(draw(1, 5), 6 - parts);
    p.demands.push_back({.name = "d", .length = Length::inches(draw(6, 25)), .count = count});
    parts += count;
  }
  return p;
}

Draw drawing() {
  return [](int from, int below) { return *rc::gen::inRange(from, below); };
}

RC_GTEST_PROP(Aims, AreTheBestThatThereIsInTheirOrder, ()) {
  const Problem p = small_problem(drawing());
  const Everything all(p);
  const auto plan = optimise(p, {.seconds = 20, .work = 40'000'000});
  RC_ASSERT(static_cast<bool>(plan));
  RC_ASSERT(verify(p, *plan).empty());
  const auto [cost, kept, layouts] = *all.results.begin();
  RC_ASSERT(plan->cost.coins == cost);
  RC_ASSERT(plan->aims->kept.coins == -kept);
  RC_ASSERT(plan->aims->layouts == layouts);
  RC_ASSERT((!plan->aims->kept_at_most || plan->aims->kept_at_most->coins >= -kept));
  RC_ASSERT(plan->aims->layouts_at_least <= layouts);
}

// No plan within the hold has as few layouts as an alternative and costs less.
RC_GTEST_PROP(Aims, AreTradedAgainstMoneyAsWellAsCanBe, ()) {
  const Problem p = small_problem(drawing());
  const Everything all(p);
  const Money hold{100};
  const auto plan = optimise(p, {.seconds = 20, .work = 40'000'000, .hold = hold});
  RC_ASSERT(static_cast<bool>(plan));
  for (int n = 1; n < plan->aims->layouts; ++n) {
    const auto best = std::find_if(all.results.begin(), all.results.end(),
                                   [&](const Result& r) { return std::get<2>(r) <= n; });
    if (best == all.results.end() || std::get<0>(*best) > plan->cost.coins + hold.coins) continue;
    const auto other = std::find_if(plan->alternatives.begin(), plan->alternatives.end(),
                                    [&](const Alternative& a) { return a.aims.layouts <= n; });
    RC_ASSERT(other != plan->alternatives.end());
    RC_ASSERT(other->cost.coins == std::get<0>(*best));
    RC_ASSERT(-other->aims.kept.coins == std::get<1>(*best));
  }
}

TEST(Aims, TakeTheStickWhoseOffcutIsWorthMore) {
  const Problem p{.demands = {{.name = "d", .length = Length::inches(30), .count = 2}},
                  .stocks = {{.name = "short", .length = Length::inches(40), .price = {100}},
                             {.name = "long", .length = Length::inches(70), .price = {200}}},
                  .shortest_offcut = Length::inches(9)};
  // 2 x 40 and 1 x 70 cost the same; two offcuts of 10 in beat one of 10 in.
  const auto plan = optimise(p);
  ASSERT_TRUE(plan);
  EXPECT_EQ(plan->sticks.size(), 2u);
  EXPECT_EQ(plan->aims->kept.coins, 2 * 254);
}

// Takes single parts off the ends of rows in every order; a go is a run of equal marks.
int fewest_goes(const std::vector<std::vector<int>>& rows) {
  using State = std::pair<std::vector<std::pair<int, int>>, int>;
  State start;
  for (const auto& row : rows) start.first.emplace_back(0, static_cast<int>(row.size()));
  start.second = -1;
  std::map<State, int> known{{start, 0}};
  std::set<std::pair<int, State>> open{{0, start}};
  while (!open.empty()) {
    const auto [goes, state] = *open.begin();
    open.erase(open.begin());
    if (known.at(state) < goes) continue;
    bool is_done = true;
    for (std::size_t r = 0; r < rows.size(); ++r) {
      const auto [first, second] = state.first[r];
      if (first == second) continue;
      is_done = false;
      for (const bool is_left : {true, false}) {
        State next = state;
        const int mark = rows[r][static_cast<std::size_t>(is_left ? first : second - 1)];
        is_left ? ++next.first[r].first : --next.first[r].second;
        next.second = mark;
        const int more = goes + (mark == state.second ? 0 : 1);
        const auto [at, is_new] = known.try_emplace(next, more);
        if (!is_new && at->second <= more) continue;
        at->second = more;
        open.insert({more, next});
      }
    }
    if (is_done) return goes;
  }
  return 0;
}

RC_GTEST_PROP(Sequence, SetsStopsAsSeldomAsCanBe, ()) {
  // Angled parts of four lengths in rows as they come; whether they fit is of no matter here.
  Problem p{.stocks = {{.name = "s", .length = Length::inches(1000)}}, .width = Length::inches(3)};
  for (int k = 0; k < 4; ++k) {
    p.demands.push_back({.name = "d", .length = Length::inches(20 + k), .left_slope = 0.5});
  }
  std::vector<SawnStick> sticks;
  std::vector<std::vector<int>> rows;
  for (int r = *rc::gen::inRange(1, 4); r > 0; --r) {
    SawnStick stick;
    std::vector<int> row;
    for (int i = *rc::gen::inRange(1, 6); i > 0; --i) {
      row.push_back(*rc::gen::inRange(0, 4));
      stick.parts.push_back({.demand = row.back(), .from = Length::inches(30.0 * (6 - i))});
    }
    sticks.push_back(stick);
    rows.push_back(row);
  }
  const Sequence sequence = sequence_of(p, sticks);
  RC_ASSERT(static_cast<int>(sequence.settings.size()) == fewest_goes(rows));
  RC_ASSERT(sequence.settings_at_least == fewest_goes(rows));
}

// Each part once, and only from an end of what is left.
void expect_sawable(const std::vector<SawnStick>& sticks, const Sequence& sequence) {
  std::vector<std::pair<int, int>> left;
  for (const SawnStick& s : sticks) left.emplace_back(0, static_cast<int>(s.parts.size()));
  for (const StopSetting& setting : sequence.settings) {
    EXPECT_FALSE(setting.cuts.empty());
    for (const SawnOff& off : setting.cuts) {
      auto& [first, second] = left[static_cast<std::size_t>(off.stick)];
      EXPECT_LT(first, second);
      EXPECT_EQ(off.part, off.is_from_left ? first : second - 1);
      off.is_from_left ? ++first : --second;
    }
  }
  for (const auto& [first, second] : left) EXPECT_EQ(first, second);
}

RC_GTEST_PROP(Sequence, TakesEveryPartOffAnEnd, ()) {
  const Problem p = draw_problem(drawing(), {.is_angled = true, .has_finite_stock = false});
  auto plan = optimise(p, {.seconds = 5, .work = 100'000});
  RC_PRE(static_cast<bool>(plan));
  std::vector<SawnStick> sticks = plan->sticks;
  const Sequence sequence = sequence_of(p, sticks);
  expect_sawable(sticks, sequence);
  RC_ASSERT(sequence.kinds_of_stop <= sequence.settings_at_least);
  RC_ASSERT(sequence.settings_at_least <= static_cast<int>(sequence.settings.size()));
  RC_ASSERT(static_cast<int>(sequence.settings.size()) == plan->aims->stops);
}

TEST(Sequence, TakesShortPartsOffWhileTheBoardIsLong) {
  const Problem p{.demands = {{.name = "long", .length = Length::inches(40), .count = 2},
                              {.name = "short", .length = Length::inches(3), .count = 2}},
                  .stocks = {{.name = "s", .length = Length::inches(86.5), .price = {1}}},
                  .saw = {.kerf = Length::inches(0.125)}};
  auto plan = optimise(p);
  ASSERT_TRUE(plan);
  const Sequence sequence = sequence_of(p, plan->sticks);
  ASSERT_EQ(sequence.settings.size(), 2u);
  EXPECT_EQ(sequence.settings.front().over_all, Length::inches(3));
  EXPECT_EQ(sequence.hard_to_hold, 0);
  EXPECT_TRUE(verify(p, *plan).empty());
}

TEST(Sequence, SaysWhatCannotBeHeld) {
  const Problem p{.demands = {{.name = "short", .length = Length::inches(3), .count = 3}},
                  .stocks = {{.name = "s", .length = Length::inches(10), .price = {1}}}};
  auto plan = optimise(p);
  ASSERT_TRUE(plan);
  EXPECT_EQ(sequence_of(p, plan->sticks).hard_to_hold, 3);
}

}  // namespace
}  // namespace kw
