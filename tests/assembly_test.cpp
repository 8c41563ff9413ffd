// The order of assembly: whole, possible, and told in the file's words.
#include "kerfwright/parts/assembly.h"

#include <algorithm>
#include <gtest/gtest.h>
#include <map>

#include "kerfwright/planbook/steps.h"

#include "bench_piece.h"
#include "starters.h"

namespace kw {
namespace {

using test::starter;
using test::starters;

Assembly assembled(const Snapshot& now) {
  return assembly_of(now.piece, now.bodies, now.cut_list, contacts_in(now.bodies));
}

class StarterAssembly : public testing::TestWithParam<std::string> {};

TEST_P(StarterAssembly, PutsOnEachBoardOnce) {
  const Snapshot now = test::made(starter(GetParam()).content);
  const Assembly assembly = assembled(now);
  std::vector<int> times(now.bodies.size());
  for (const AssemblyStep& step : assembly.steps) {
    if (step.sub >= 0) continue;
    for (const int b : step.adds) ++times[static_cast<std::size_t>(b)];
  }
  EXPECT_EQ(times, std::vector<int>(now.bodies.size(), 1));
}

// Each joint is made once: in a step of the whole, or in as many copies of what is made apart.
TEST_P(StarterAssembly, MakesEachJointOnce) {
  const Snapshot now = test::made(starter(GetParam()).content);
  const Assembly assembly = assembled(now);
  std::size_t made = 0;
  for (const AssemblyStep& step : assembly.steps) {
    const std::size_t copies =
        step.sub < 0 ? 1 : assembly.subs[static_cast<std::size_t>(step.sub)].copies.size();
    made += step.joints.size() * copies;
  }
  const auto joins_two = [](const ResolvedJoint& j) { return j.a >= 0 && j.b >= 0; };
  EXPECT_EQ(made, static_cast<std::size_t>(
                      std::count_if(now.piece.joints.begin(), now.piece.joints.end(), joins_two)));
}

// What is put on comes along `from` without going through wood that is there, tried every 7 mm,
// where the engine tries six distances.
TEST_P(StarterAssembly, HasARoomToComeIn) {
  const Snapshot now = test::made(starter(GetParam()).content);
  const Assembly assembly = assembled(now);
  std::vector<Body> there;
  for (const AssemblyStep& step : assembly.steps) {
    if (step.sub >= 0) continue;
    if (!step.is_first && norm(step.from) > 0.5) {
      for (double way = 0.5; way < 300; way += 7) {
        std::vector<Body> scene = there;
        for (const int b : step.adds) {
          scene.push_back(now.bodies[static_cast<std::size_t>(b)]);
          scene.back().frame.origin += step.from * way;
        }
        const int still = static_cast<int>(there.size());
        for (const Clash& clash : clashes_in(scene))
          EXPECT_FALSE(clash.a < still && clash.b >= still) << step.name << " at " << way;
      }
    }
    for (const int b : step.adds) there.push_back(now.bodies[static_cast<std::size_t>(b)]);
  }
}

INSTANTIATE_TEST_SUITE_P(All, StarterAssembly, testing::ValuesIn(starters()));

TEST(Assembly, MakesEqualFramesApart) {
  const Snapshot now = test::made(starter("trestle").content);
  const Assembly assembly = assembled(now);
  ASSERT_EQ(assembly.subs.size(), 1U);
  EXPECT_EQ(assembly.subs[0].copies.size(), 2U);
  EXPECT_EQ(assembly.subs[0].copies[0].size(), 2U);
  EXPECT_EQ(assembly.steps.front().sub, 0);
}

TEST(Assembly, MakesALidApart) {
  const Snapshot now = test::made(starter("cold-frame").content);
  const Assembly assembly = assembled(now);
  const auto last = assembly.steps.back();
  ASSERT_EQ(last.frames.size(), 1U);
  EXPECT_EQ(assembly.subs[static_cast<std::size_t>(last.frames[0])].copies.size(), 1U);
  EXPECT_TRUE(last.joints.empty());
}

constexpr const char* ladder = R"toml(
format = 1
piece = "Ladder"
unit = "in"
[stock.rail]
section = "1x3"
[board.left]
stock = "rail"
runs = [["0", "0", "0"], ["0", "0", "40"]]
face = "left"
[board.right]
stock = "rail"
runs = [["20", "0", "0"], ["20", "0", "40"]]
face = "right"
[board.low]
stock = "rail"
runs = [["0", "0", "10"], ["20", "0", "10"]]
face = "front"
start = { against = "left" }
end = { against = "right" }
[board.high]
stock = "rail"
runs = [["0", "0", "30"], ["20", "0", "30"]]
face = "front"
start = { against = "left" }
end = { against = "right" }
[joint.all]
kind = "screw"
of = ["left", "low"]
fasten = "wood screw 8 x 2"
[joint.b]
kind = "screw"
of = ["left", "high"]
fasten = "wood screw 8 x 2"
[joint.c]
kind = "screw"
of = ["right", "low"]
fasten = "wood screw 8 x 2"
[joint.d]
kind = "screw"
of = ["right", "high"]
fasten = "wood screw 8 x 2"
)toml";

// Rails 1x3 (2 1/2 in wide) with their middles 10 and 30 in from the foot: marks by hand. The
// diagonal of 40 in by 20 3/4 in (the rails' thickness is 3/4): sqrt(40^2 + 20.75^2) = 45.06.
TEST(Assembly, SetsOutAndChecksAFrame) {
  const Snapshot now = test::made(ladder);
  const Assembly assembly = assembled(now);
  std::vector<Length> marks;
  std::vector<Diagonals> checks;
  for (const AssemblyStep& step : assembly.steps) {
    for (const SetOut& m : step.marks) {
      marks.push_back(m.from.printed);
      marks.push_back(m.to.printed);
    }
    checks.insert(checks.end(), step.checks.begin(), step.checks.end());
  }
  std::sort(marks.begin(), marks.end());
  marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
  EXPECT_EQ(marks, (std::vector<Length>{Length::inches(8.75), Length::inches(11.25),
                                        Length::inches(28.75), Length::inches(31.25)}));
  ASSERT_EQ(checks.size(), 1U);
  EXPECT_EQ(checks[0].one.printed, Length::inches(45.0625));
  EXPECT_EQ(checks[0].other.printed, Length::inches(45.0625));
}

TEST(Assembly, BringsTogetherAtOnceWhatLocksOneAnother) {
  const Snapshot now = test::made(ladder);
  std::vector<Contact> locked;  // each pair touches all round: none can be drawn off
  const int count = static_cast<int>(now.bodies.size());
  for (int a = 0; a < count; ++a) {
    for (int b = a + 1; b < count; ++b) {
      const auto& faces = now.bodies[static_cast<std::size_t>(a)].shape->faces;
      for (int f = 0; f < static_cast<int>(faces.size()); ++f)
        locked.push_back({.a = a, .b = b, .face_a = f, .area = {100}});
    }
  }
  const Assembly assembly = assembly_of(now.piece, now.bodies, now.cut_list, locked);
  ASSERT_EQ(assembly.steps.size(), 1U);
  EXPECT_TRUE(assembly.steps[0].is_at_once);
  EXPECT_EQ(assembly.steps[0].adds.size(), now.bodies.size());
}

TEST(Steps, TakeTheWordsOfTheFile) {
  const std::string words = R"toml(
[step.right]
title = "The other rail"
text = "Do it so."
note = "Mind your fingers."
[step.nowhere]
text = "Never"
)toml";
  Snapshot now;
  ShapeCache cache;
  now = recompute({"ladder.toml", ladder + words}, built_in_catalogue(), cache);
  const ShopPlan plan = plan_of(now, {.seconds = 1});
  const LengthStyle style;
  std::map<std::string, ToldStep> by_name;
  for (const ToldStep& step : steps_of(data_of(now, plan), style)) by_name[step.name] = step;
  ASSERT_EQ(plan.diagnostics.size(), 1U);
  EXPECT_EQ(plan.diagnostics[0].code, "parts.unknown-step");
  ASSERT_TRUE(by_name.contains("right")) << by_name.begin()->first;
  EXPECT_EQ(by_name["right"].title, "The other rail");
  EXPECT_EQ(by_name["right"].lines, (std::vector<std::string>{"Do it so.", "Mind your fingers."}));
}

}  // namespace
}  // namespace kw
