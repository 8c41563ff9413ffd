// Every starter, at its own sizes and at the ends of each size's range: clean, closing, whole.
#include "starters.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <iterator>

#include "bench_piece.h"

namespace kw {
namespace {

using test::starter;
using test::starters;

class Starter : public testing::TestWithParam<std::string> {};

TEST_P(Starter, IsCleanAtItsOwnSizes) {
  const Snapshot snapshot = test::made(starter(GetParam()).content);
  EXPECT_TRUE(snapshot.diagnostics.empty());
  EXPECT_FALSE(snapshot.bodies.empty());
  EXPECT_TRUE(snapshot.clashes.empty());
}

TEST_P(Starter, IsCleanAtBothEndsOfEachSize) {
  const Text text = starter(GetParam());
  const Document document = read_piece(text).value;
  const Snapshot own = test::made(text.content);
  for (std::size_t i = 0; i < document.sizes.size(); ++i) {
    const NamedValue& size = own.piece.sizes.at(i);
    for (const auto& end : {size.from, size.to}) {
      if (!end) continue;
      const bool is_angle = end->dimension == an_angle;
      const double amount = end->amount;
      const auto length = to_length(*end, own.piece.unit, {});
      std::string formula = is_angle ? std::to_string(amount) + " deg" : std::to_string(amount);
      if (!is_angle && end->dimension == a_length) formula = format_length(*length);
      SCOPED_TRACE(size.name + " = " + formula);
      for (const Finding& f : findings_of(test::made(text.content, {{size.name, formula}})))
        EXPECT_NE(f.verdict, Verdict::fails) << f.message;
    }
  }
}

TEST_P(Starter, ClosesFromItsPrintedNumbers) {
  Snapshot snapshot = test::made(starter(GetParam()).content);
  const ShopPlan plan = plan_of(snapshot, {.seconds = 1});
  EXPECT_TRUE(plan.closing.closes) << plan.closing.worst_gap << " " << plan.closing.worst_clash;
  EXPECT_TRUE(plan.diagnostics.empty());
}

TEST_P(Starter, IsPrintedToTheMillimetreInMetric) {
  ShapeCache cache;
  Snapshot snapshot =
      recompute(starter(GetParam()), built_in_catalogue(), cache, {}, LengthUnit::mm);
  EXPECT_EQ(snapshot.cut_list.unit, LengthUnit::mm);
  const Closing closing = close_up(snapshot.piece, snapshot.bodies, snapshot.cut_list);
  EXPECT_TRUE(closing.closes) << closing.worst_gap << " " << closing.worst_clash;
  for (const Part& part : snapshot.cut_list.parts) {
    for (const ShopFigure& figure : part.figures) {
      if (figure.printed == figure.exact) continue;  // as the yard made it
      EXPECT_EQ(figure.printed, round_to(figure.printed, Length::mm(1)));
    }
  }
}

TEST_P(Starter, GivesEveryFileOfItsPlanTwiceTheSame) {
  std::vector<File> first;
  for (int run = 0; run < 2; ++run) {
    Snapshot snapshot = test::made(starter(GetParam()).content);
    const ShopPlan plan = plan_of(snapshot, {.seconds = 1});
    const auto files = files_of(snapshot, plan, {.with_step = false}, {});
    EXPECT_TRUE(files.diagnostics.empty());
    if (run == 0) {
      first = files.value;
      continue;
    }
    ASSERT_EQ(files.value.size(), first.size());
    for (std::size_t i = 0; i < first.size(); ++i) {
      EXPECT_EQ(files.value[i].name, first[i].name);
      EXPECT_TRUE(files.value[i].bytes == first[i].bytes) << first[i].name;
      EXPECT_FALSE(first[i].bytes.empty()) << first[i].name;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(All, Starter, testing::ValuesIn(starters()), test::test_name);

TEST(Starters, AreNine) {
  EXPECT_EQ(starters().size(), 9U);
}

}  // namespace
}  // namespace kw
