// The frame as it is read off solids, and what its joints and boards come to, against hand
// reckoning.
#include <cmath>
#include <gtest/gtest.h>
#include <numbers>
#include <regex>

#include "kerfwright/checks/fastener.h"
#include "kerfwright/checks/handling.h"
#include "kerfwright/checks/timber.h"

#include "checked_piece.h"
#include "small_pieces.h"

namespace kw {
namespace {

using test::findings_of;
using test::found;
using test::in_inches;

// The figures of "takes A lbf across and B lbf pulling off, and may be counted on for C lbf and D".
std::vector<double> forces_in(const std::string& message) {
  std::vector<double> forces;
  const std::regex figure("([0-9.]+) lbf");
  for (auto it = std::sregex_iterator(message.begin(), message.end(), figure);
       it != std::sregex_iterator(); ++it)
    forces.push_back(std::stod((*it)[1]));
  return forces;
}

// A board hung between two posts, that touches nothing else.
std::string hung(const std::string& joints, const std::string& species = "spruce-pine-fir") {
  return in_inches(R"toml(
[stock.post]
section = ["1 1/2", "5 1/2"]
species = ")toml" + species +
                   R"toml("
[board.left]
stock = "post"
at = ["-1 1/2", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.right]
stock = "post"
at = ["1 1/2", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.hung]
stock = "post"
at = ["0", "0", "10"]
along = "up"
length = "5"
face = "right"
[load.pot]
on = ["hung"]
kind = "point"
each = "900 lbf"
)toml" + joints);
}

TEST(Glue, BetweenSideGrainIsAsStrongAsItsWood) {
  const auto findings = findings_of(hung(R"toml(
[joint.glued]
kind = "glue"
of = ["hung", "left"]
glue = "PVA"
[joint.glued-too]
kind = "glue"
of = ["hung", "right"]
glue = "PVA"
)toml"));
  const Finding* f = found(findings, "joint-strength");
  ASSERT_NE(f, nullptr) << to_text(findings);
  const Catalogue& catalogue = built_in_catalogue();
  const double shear =
      values_for(catalogue, *find_species(catalogue, "spruce-pine-fir"), "clear", 5.5).shear;
  const double alone = 900 / 2.0 / (5.5 * 5) / shear;
  // The springs take somewhat more than the even share of it near the load.
  const std::vector<double> forces = forces_in(f->message);
  ASSERT_EQ(forces.size(), 4U) << f->message;
  EXPECT_GT(forces[0] / forces[2], alone * 0.98);
  EXPECT_LT(forces[0] / forces[2], alone * 1.3);
  EXPECT_GT(f->ratio, forces[0] / forces[2]);  // the posts bend, and peel it
  EXPECT_NE(f->message.find("the glue of its worst patch"), std::string::npos) << f->message;
}

TEST(Bolt, ThroughThreeBoardsIsInDoubleShear) {
  const auto findings = findings_of(hung(R"toml(
[joint.bolted]
kind = "screw"
of = ["left", "hung"]
fasten = "hex bolt 3/8 x 5"
from = "a"
count = 1
)toml"));
  const Finding* f = found(findings, "joint-strength");
  ASSERT_NE(f, nullptr) << to_text(findings);
  const std::vector<double> forces = forces_in(f->message);
  ASSERT_GE(forces.size(), 4U) << f->message;
  const double along = bearing_along(0.42);
  const Shear shear{
      0.375, 1.5, 1.5, along, along, bending_yield(0.375), reduction_for(0.375, 0.375, 0)};
  EXPECT_NEAR(forces[2], double_shear(shear).least / 2, 0.03 * forces[2]) << f->message;
  EXPECT_GT(forces[2], 1.05 * single_shear(shear).least);
}

// A rail between two posts, screwed through them into its end grain.
std::string railed(const std::string& load) {
  const auto screwed = [](const std::string& name, const std::string& post) {
    return text_of(test::Fastened{.name = name,
                                  .a = post,
                                  .b = "rail",
                                  .fasten = "deck screw 8 x 3",
                                  .count = "2",
                                  .rest = "from = \"a\"\n"});
  };
  return in_inches(test::stock("post", R"(["1 1/2", "3 1/2"])", "spruce-pine-fir") +
                   test::posts("post", "30") + text_of(test::Between{"rail", "post", "30", "15"}) +
                   screwed("rail", "left") + screwed("rail-too", "right") + load);
}

TEST(EndGrain, LessensWhatAScrewTakesAcross) {
  const auto findings = findings_of(railed(test::load("weight", "rail", "point", "200 lbf")));
  const Finding* f = found(findings, "joint-strength");
  ASSERT_NE(f, nullptr) << to_text(findings);
  const std::vector<double> forces = forces_in(f->message);
  const double bearing = bearing_of_small(0.42), bite = 1.5;
  const Fastener* screw = find_fastener(built_in_catalogue(), "deck screw 8 x 3");
  const double d = screw->diameter.in_inches(), root = screw->root.in_inches();
  const Yield yield = single_shear({root, bearing_length(bite, d), 1.5, bearing, bearing,
                                    bending_yield(d), reduction_for(d, root, 90)});
  EXPECT_NEAR(forces[2], yield.least * penetration_factor(Holding::wood_screw, bite, d) * 0.67, 0.6)
      << f->message;
  EXPECT_NEAR(forces[0], 50, 6) << f->message;  // 200 lbf on four screws, and the rail's weight
}

TEST(EndGrain, ThatIsDrawnOutOfIsTold) {
  const auto findings = findings_of(railed(test::load("tug", "right", "pull", "60 lbf")));
  const Finding* f = found(findings, "screw-in-end-grain");
  ASSERT_NE(f, nullptr) << to_text(findings);
  EXPECT_EQ(f->verdict, Verdict::look);
  EXPECT_NE(f->source.find("12.2.1.3"), std::string::npos);
}

std::string post_alone(const std::string& grade) {
  return in_inches(test::stock("post", R"(["1 1/2", "1 1/2"])", "spruce-pine-fir") + grade + "\n" +
                   text_of(test::Upright{"post", "post", "0", "48"}) +
                   test::load("top", "post", "point", "700 lbf"));
}

// Pushed along its grain, 48 in between what holds it: (f_c / F_c')^2 of NDS 3.9.2.
TEST(Column, IsUsedBySlendernessAndGrade) {
  for (const auto& [key, crush, least_e] :
       {std::tuple{"", 1150.0, 510e3},
        std::tuple{"grade = \"Select Structural\"", 1400.0, 550e3}}) {
    const auto findings = findings_of(post_alone(key));
    const Finding* f = found(findings, "board-stress");
    ASSERT_NE(f, nullptr) << to_text(findings);
    const double stable = column_stability(48 / 1.5, crush, least_e);
    EXPECT_NEAR(f->ratio, std::pow(701.0 / 2.25 / (crush * stable), 2), 0.02 * f->ratio);
    EXPECT_NE(f->assumption.find("C_P"), std::string::npos) << f->assumption;
  }
}

std::string plank(const std::string& loads) {
  return in_inches(test::stock("plank", R"(["1 1/2", "9 1/4"])", "Douglas fir-larch") +
                   test::stock("block", R"(["3 1/2", "9 1/4"])", "Douglas fir-larch") +
                   R"toml([board.plank]
stock = "plank"
at = ["0", "0", "12 3/4"]
along = "x"
length = "60"
face = "up"
)toml" + text_of(test::Blocks{"block", "1 3/4", "12", "30"}) +
                   loads);
}

double stress_under(const std::string& loads) {
  const auto findings = findings_of(plank(loads));
  double most = 0;
  for (const Finding& f : findings)
    if (f.check == "board-use") most = f.ratio;
  return most;
}

// Three quarters of people and of snow, for as long as snow lies: C_D 1.15.
TEST(Loads, AreCombined) {
  const std::string point = test::load("a", "plank", "point", "300 lbf");
  const std::string people = test::load("a", "plank", "people", "300 lbf");
  const std::string snow = test::load("b", "plank", "snow", "600 lbf");
  const double own = stress_under(""), p = stress_under(people), s = stress_under(snow);
  const double own_long = own * 0.9;  // C_D 0.9 when it is alone
  const double together = (own_long + 0.75 * (p - own_long) + 0.75 * (s * 1.15 - own_long)) / 1.15;
  EXPECT_NEAR(stress_under(people + snow), std::max({together, p, s}), 0.01 * together);
  EXPECT_GT(together, p);
  EXPECT_NEAR(stress_under(point), p, 0.15 * p);
}

// A plank on two blocks 56 1/2 in apart: P L / 4 at most, less by the width that bears.
TEST(Board, IsStressedAsABeam) {
  const double used = stress_under(test::load("a", "plank", "point", "300 lbf"));
  const double modulus = 9.25 * 1.5 * 1.5 / 6;
  const double allowed = 900 * size_factor_of_bending(9.25) * flat_use_factor(9.25);
  const auto ratio = [&](double span) { return 300 * span / 4 / modulus / allowed; };
  EXPECT_LT(used, ratio(56.5) * 1.03);  // and the plank's own weight
  EXPECT_GT(used, ratio(53) * 0.95);
}

// A rail between posts. By hand for an 8d common nail (0.131 x 2 1/2) in G 0.42,
// NDS 2018 12.5.4: drawn out 0.67 x 1380 G^2.5 D of what is in the post; across 0.83 of Z with 5/6
// in in the rail and L cos 30 - L / 3 less half the tip in the post.
TEST(ToeNails, HoldWhatTheStandardGivesThem) {
  const auto findings = findings_of(in_inches(
      test::stock("stud", R"(["1 1/2", "5 1/2"])", "spruce-pine-fir") + test::posts("stud", "24") +
      text_of(test::Between{"rail", "stud", "24", "12"}) +
      text_of(test::Fastened{"toe", "toe-nail", "left", "rail", "common nail 8d", "4"}) +
      text_of(test::Fastened{"toe-too", "toe-nail", "right", "rail", "common nail 8d", "4"}) +
      test::load("push", "rail", "point", "100 lbf")));
  const Finding* f = found(findings, "joint-strength");
  ASSERT_NE(f, nullptr) << to_text(findings);
  EXPECT_NE(f->assumption.find("toe-nails at 30 degrees"), std::string::npos) << f->assumption;
  const double d = 0.131, whole = 2.5, time = 1;  // counted as ten years
  const double drawn = 0.67 * 1380 * std::pow(0.42, 2.5) * d *
                       (whole - whole / 3 / std::cos(std::numbers::pi / 6)) * time;
  const double sunk = whole * std::cos(std::numbers::pi / 6) - whole / 3;
  const double bearing = bearing_of_small(0.42);
  const double across = 0.83 * time *
                        single_shear({d, bearing_length(sunk, d), whole / 3, bearing, bearing,
                                      bending_yield(d), reduction_for(d, d, 0)})
                            .least *
                        penetration_factor(Holding::plain_nail, sunk, d);
  const auto forces = forces_in(f->message);
  ASSERT_EQ(forces.size(), 4U) << f->message;
  EXPECT_NEAR(forces[2], across, 0.5) << f->message;
  EXPECT_NEAR(forces[3], drawn, 0.5) << f->message;
}

// A strip of plywood on two blocks, its species not said: P L / 4 against the handbook's plywood,
// and it creeps to twice indoors too (NDS 3.5.2).
TEST(Sheet, IsJudgedAsAStripOfPlywood) {
  const auto findings =
      findings_of(in_inches(test::stock("block", R"(["3 1/2", "9 1/4"])", "Douglas fir-larch") +
                            R"toml([stock.ply]
section = ["3/4", "48"]
sheet = "96"
[panel.shelf]
stock = "ply"
at = ["0", "0", "12 3/8"]
along = "x"
length = "40"
width = "9 1/4"
face = "up"
)toml" + text_of(test::Blocks{"block", "1 3/4", "12", "20"}) +
                            test::load("jar", "shelf", "point", "60 lbf")));
  const Finding* f = nullptr;
  for (const Finding& one : findings)
    if (one.check == "board-stress" && one.message.find("`shelf`") != std::string::npos) f = &one;
  ASSERT_NE(f, nullptr) << to_text(findings);
  const double modulus = 9.25 * 0.75 * 0.75 / 6;
  const auto ratio = [&](double span) {
    return 60 * span / 4 / modulus / plywood_values().bending;
  };
  EXPECT_LT(f->ratio, ratio(36.5) * 1.06);  // and its own weight
  EXPECT_GT(f->ratio, ratio(33) * 0.95);
  EXPECT_NE(f->assumption.find("counted as plywood"), std::string::npos) << f->assumption;
  EXPECT_NE(f->source.find("Table 12-1"), std::string::npos) << f->source;
  const Finding* sag = found(findings, "board-sags");
  ASSERT_NE(sag, nullptr);
  EXPECT_NE(sag->assumption.find("creeps to 2 times"), std::string::npos) << sag->assumption;
}

std::string planter(const std::string& soil) {
  return in_inches(R"toml(
tags = ["indoors"]
[stock.side]
section = ["3/4", "9 1/4"]
species = "western redcedar"
[stock.floor]
section = ["3/4", "8"]
species = "western redcedar"
[board.floor]
stock = "floor"
at = ["0", "0", "2 3/8"]
along = "x"
length = "24"
face = "up"
[board.front]
stock = "side"
at = ["-3/4", "-4", "0"]
along = "x"
length = "25 1/2"
face = "front"
hold = ["low", "low"]
[mirror.back]
of = ["front"]
across = "y"
[board.left]
stock = "side"
at = ["0", "-4", "0"]
along = "y"
length = "8"
face = "left"
hold = ["high", "low"]
[plane.middle]
at = ["12", "0", "0"]
faces = "+x"
[mirror.right]
of = ["left"]
across = "middle"
[joint.front]
kind = "screw"
of = ["front", "floor"]
fasten = "deck screw 8 x 2"
count = 5
from = "a"
[joint.back]
kind = "screw"
of = ["back/front", "floor"]
fasten = "deck screw 8 x 2"
count = 5
from = "a"
)toml" + soil);
}

TEST(Soil, FillsTheHollowAndHangsOnItsFloor) {
  const auto empty = findings_of(planter(""));
  const auto full = findings_of(planter("[load.soil]\non = \"floor\"\nkind = \"soil\"\n"));
  const Finding *before = found(empty, "joint-strength"), *after = found(full, "joint-strength");
  ASSERT_NE(after, nullptr) << to_text(full);
  // 24 x 8 x 6 1/2 in of wet potting mix; half on each side, on five screws; the ends, unscrewed,
  // and the rim above nothing.
  const double pounds = 24 * 8 * 6.5 * std::pow(0.0254, 3) * fills().front().wet / 0.45359237;
  const double across = forces_in(after->message)[0];
  EXPECT_GT(across, 0.6 * pounds / 10) << after->message;
  EXPECT_LT(across, 2.2 * pounds / 10) << after->message;
  EXPECT_TRUE((before == nullptr || before->ratio < 0.2 * after->ratio));
  EXPECT_NE(found(full, "tips-laden"), nullptr);
}

TEST(Shares, StandBesideTheirBoards) {
  const auto findings = findings_of(railed(test::load("weight", "rail", "point", "200 lbf")));
  const Finding* f = found(findings, "board-use");
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->boards.size(), 3U);
  EXPECT_EQ(f->shares.size(), f->boards.size());
  for (const Finding& one : findings)
    if (one.check != "board-use") {
      EXPECT_TRUE(one.shares.empty());
    }
}

TEST(Load, WithoutItsSizeIsToldAsNotComputed) {
  const auto findings = findings_of(plank(test::load("a", "plank", "even")));
  const Finding* f = found(findings, "load-without-size");
  ASSERT_NE(f, nullptr) << to_text(findings);
  EXPECT_EQ(f->verdict, Verdict::not_computed);
}

}  // namespace
}  // namespace kw
