// What a piece file says of its service: climate, green and measured stock; and closed forms of
// whole pieces.
#include <cmath>
#include <cstdio>
#include <fmt/core.h>
#include <gtest/gtest.h>
#include <numbers>

#include "kerfwright/checks/movement.h"
#include "kerfwright/checks/pool.h"

#include "checked_piece.h"
#include "reference_table.h"
#include "small_pieces.h"

namespace kw {
namespace {

using test::findings_of;
using test::found;
using test::in_inches;

constexpr double inch = 25.4;

std::string slat_row(const std::string& top, const std::string& stock = "") {
  return in_inches(top + R"toml(
[stock.slat]
section = "1x6"
species = "red oak"
)toml" + stock + R"toml(
[board.slat]
stock = "slat"
at = ["0", "0", "10"]
along = "x"
length = "30"
face = "up"
[repeat.row]
of = "slat"
count = 3
step = ["0", "slat.width + 1/16", "0"]
)toml");
}

double swelling(const std::string& text) {
  const auto findings = findings_of(text);
  const Finding* f = found(findings, "slats-swell");
  return f == nullptr ? 0 : f->ratio;
}

TEST(Climate, NamesOfTheFileAreKnownToTheChecks) {
  for (const char* name : {"indoors", "heated", "outdoors", "damp"})
    EXPECT_NE(find_climate(name), nullptr) << name;
}

TEST(Climate, OfTheFileComesBeforeTheTags) {
  const double tagged = swelling(slat_row("tags = [\"outdoors\"]\n"));
  const double said = swelling(slat_row("tags = [\"outdoors\"]\n[climate]\nnamed = \"indoors\"\n"));
  EXPECT_GT(tagged, said);
  EXPECT_NEAR(said, swelling(slat_row("")), 1e-12);
}

TEST(Climate, ThatIsTypedDecidesHowMuchWoodSwells) {
  const auto row = [](double humidity) {
    return slat_row("[climate]\nhumidity = [30, " + std::to_string(humidity) +
                    "]\nfahrenheit = [70, 70]\nmoisture = 8\n");
  };
  // Red oak by its coefficient within 6 to 14 %, over a gap of 1/16 in.
  const double humid = equilibrium_moisture({70 / 1.8 - 32 / 1.8, 65});
  const Species& oak = *find_species(built_in_catalogue(), "red oak");
  const double grows = 5.5 * *movement_of(oak, Sawn::flat, 8, humid);
  EXPECT_NEAR(swelling(row(65)), grows / (1.0 / 16), 1e-6 * swelling(row(65)));
  EXPECT_LT(swelling(row(50)), swelling(row(65)));
}

TEST(Climate, AboveNineteenPercentIsWetService) {
  const auto service = [](const std::string& humidity) {
    const auto findings = findings_of(slat_row("[climate]\nhumidity = [40, " + humidity + "]\n"));
    for (const Finding& f : findings)
      if (f.check == "outdoor-hardware") return true;
    return false;
  };
  EXPECT_FALSE(service("70"));
  EXPECT_TRUE(service("95"));
}

TEST(Glue, ForIndoorsIsToldOutdoors) {
  const auto text = [](const std::string& climate, const std::string& glue) {
    return in_inches(R"toml(
[climate]
named = ")toml" + climate +
                     R"toml("
[stock.side]
section = "1x6"
species = "red oak"
[board.a]
stock = "side"
at = ["0", "0", "3/8"]
along = "x"
length = "24"
face = "up"
[board.b]
stock = "side"
at = ["0", "0", "1 1/8"]
along = "x"
length = "24"
face = "up"
[joint.glued]
kind = "glue"
of = ["a", "b"]
glue = ")toml" + glue +
                     "\"\n");
  };
  const auto tells = [&](const std::string& climate, const std::string& glue) {
    return found(findings_of(text(climate, glue)), "glue-lets-go-in-the-wet") != nullptr;
  };
  EXPECT_TRUE(tells("outdoors", "PVA"));
  EXPECT_FALSE(tells("indoors", "PVA"));
  EXPECT_FALSE(tells("outdoors", "PVA wood glue, waterproof"));
}

TEST(GreenLumber, IsToldToShrink) {
  const std::string green = in_inches(R"toml(
[stock.leg]
section = "4x4"
species = "Douglas fir-larch"
green = true
[board.leg]
stock = "leg"
at = ["0", "0", "0"]
along = "x"
length = "30"
)toml");
  const auto findings = findings_of(green);
  const Finding* f = found(findings, "green-shrinks");
  ASSERT_NE(f, nullptr) << to_text(findings);
  EXPECT_NE(f->source.find("FPL-RP-489"), std::string::npos);
  EXPECT_EQ(found(findings_of(green + "[climate]\nmoisture = 12\n"), "green-shrinks"), nullptr);
}

std::string housed(const std::string& measured) {
  return in_inches(R"toml(
[stock.side]
section = "1x8"
species = "red oak"
)toml" + measured + R"toml(
[board.side]
stock = "side"
at = ["0", "0", "0"]
along = "up"
length = "30"
face = "right"
[board.shelf]
stock = "side"
runs = [["0", "0", "15"], ["24", "0", "15"]]
face = "up"
start = { against = "side" }
[joint.shelf]
kind = "housing"
of = ["side", "shelf"]
)toml");
}

TEST(CalliperReadings, TakeThePlaceOfTheTablesTolerance) {
  const SurveyOptions drawn{.draws = {.count = 4000, .seed = 5}};
  const auto ratio = [&](const std::string& measured) {
    const auto findings = findings_of(housed(measured), drawn);
    const Finding* f = found(findings, "joints-close");
    return f == nullptr ? -1 : f->ratio;  // how often it does not close
  };
  const double table = ratio(""), measured = ratio("actual = [\"3/4\", \"7 1/4\"]\n");
  EXPECT_GT(table, 0.1);
  EXPECT_LT(measured, 0.5 * table);
}

// A trough of which each side is hinged on the bottom's edge and leans out by `splay`.
std::string splayed_trough(double bottom, double side, double splay) {
  return in_inches(fmt::format(R"toml(
[stock.bottom]
section = ["3/4", "{0} in + 1 1/2"]
[stock.side]
section = ["3/4", "{1}"]
[stock.end]
section = ["3/4", "16"]
[derived]
splay = "{2} deg"
[plane.middle]
at = ["12", "0", "0"]
faces = "+x"
[board.side]
stock = "side"
at = ["0", "{0} in / 2", "0"]
along = "x"
length = "24"
face = ["0", "cos(splay)", "-sin(splay)"]
hold = ["high", "low"]
[mirror.front]
of = "side"
across = "y"
[board.end]
stock = "end"
at = ["0", "-8", "-1"]
along = "y"
length = "16"
face = "left"
hold = ["high", "low"]
[mirror.right]
of = "end"
across = "middle"
)toml",
                               bottom, side, splay)) +
         (bottom > 0 ? R"toml(
[board.bottom]
stock = "bottom"
at = ["0", "0", "0"]
along = "x"
length = "24"
face = "up"
hold = ["middle", "high"]
)toml"
                     : "");
}

// Of a side's inner face its upper edge, in inches: how far out, and how high.
std::pair<double, double> rim_of(const test::CheckedPiece& made, double hinge) {
  const Frame& frame = made.piece.boards.at(0).frame;
  const Section& section = made.piece.boards.at(0).section;
  const double y = section.width.in_mm() / 2, z = section.thickness.in_mm() / 2;
  for (const double face : {-z, z})
    for (const double low : {-y, y}) {
      const Vec3 corner = frame.to_world(Vec3{0, low, face});
      if (std::abs(corner.y - hinge * inch) > 1e-6 || std::abs(corner.z) > 1e-6) continue;
      const Vec3 rim = frame.to_world(Vec3{0, -low, face});
      return {rim.y / inch, rim.z / inch};
    }
  ADD_FAILURE() << "no edge stands at the bottom's";
  return {};
}

// tests/reference/geometry-cases.tsv, "trough end" and "V trough".
TEST(Pool, OfATroughWithSplayedSidesHasItsExactVolume) {
  double bottom = 0, side = 0, splay = 0;
  int rows = 0;
  for (const auto& row : test::records_at("tests/reference/geometry-cases.tsv")) {
    const bool is_v = row.at("case") == "V trough";
    if (!is_v && row.at("case") != "trough end") continue;
    const char* inputs = row.at("inputs").c_str();
    if (is_v && std::sscanf(inputs, "board %lf, apex %lf deg", &side, &splay) == 2) {
      bottom = 0;
      splay /= 2;
    } else if (!is_v) {
      std::sscanf(inputs, "bottom %lf, side slant %lf, splay %lf deg", &bottom, &side, &splay);
    }
    const auto made = test::worked_out(splayed_trough(bottom, side, splay));
    const auto [out, high] = rim_of(made, bottom / 2);
    const std::string& what = row.at("quantity");
    double got = what == "depth" ? high : 2 * out;
    if (what == "section area") {
      const auto pools = pools_in(made.bodies);
      ASSERT_EQ(pools.size(), 1U);
      EXPECT_TRUE(pools[0].is_exact);
      got = pools[0].volume / std::pow(inch, 3) / 24;
    }
    EXPECT_NEAR(got, test::number(row, "value"), what == "section area" ? 1e-4 : 6e-6)
        << bottom << ", " << side << ", " << splay << ": " << what;
    ++rows;
  }
  EXPECT_EQ(rows, 10);
}

// Standing and bearing read a load's size alike: somebody of no weight said is 250 lbf (ADA 903.6).
TEST(Load, OfAPersonIsTheSameWhereverItIsRead) {
  const auto told = [](const std::string& each) {
    return to_text(findings_of(in_inches(test::stock("plank", "\"2x10\"", "Douglas fir-larch") +
                                         R"toml([board.plank]
stock = "plank"
at = ["0", "0", "12"]
along = "x"
length = "60"
face = "up"
)toml" + text_of(test::Blocks{"plank", "15", "11 1/4", "30"}) +
                                         test::load("somebody", "plank", "people", each))));
  };
  const std::string text = told("");
  EXPECT_NE(text.find("tips-under-load"), std::string::npos) << text;
  EXPECT_NE(text.find("board-stress"), std::string::npos) << text;
  EXPECT_EQ(text, told("250 lbf"));
  EXPECT_EQ(text, told("250 lb"));  // a mass weighs
  EXPECT_NE(text, told("240 lbf"));
}

// Soil fills the hollow by its density; of soil that says its whole weight that is what lies there.
TEST(Load, OfSoilIsItsDensityOrItsWhole) {
  const auto laden = [](const std::string& each) {
    const auto findings = findings_of(splayed_trough(7, 5.5, 15) +
                                      "[load.soil]\non = [\"bottom\"]\nkind = \"soil\"\n" + each);
    const Finding* f = found(findings, "tips-laden");
    EXPECT_NE(f, nullptr) << to_text(findings);
    return f == nullptr ? 0 : f->ratio;
  };
  const double volume = 44.75064 * 24 * std::pow(0.0254, 3);  // m3
  const double pounds = volume * 1000 / 0.45359237;           // of water
  EXPECT_NEAR(laden(fmt::format("each = \"{:.4f} lb / (1 ft * 1 ft * 1 ft)\"\n", 62.428)),
              laden("each = \"1000 kg / (1 m * 1 m * 1 m)\"\n"), 1e-3);
  EXPECT_NE(laden(fmt::format("each = \"{:.2f} lb\"\n", pounds)),
            laden(fmt::format("each = \"{:.2f} lb\"\n", pounds / 10)));
}

// A board on its edge: it tips over the narrow way at atan(t / h).
TEST(Tipping, OfABoardOnItsEndFollowsItsClosedForm) {
  const auto findings =
      findings_of(in_inches(test::stock("block", R"(["3 1/2", "7 1/4"])", "red oak") +
                            text_of(test::Upright{"block", "block"})));
  const Finding* f = found(findings, "tips");
  ASSERT_NE(f, nullptr);
  const double angle = std::atan(1.75 / 10) * 180 / std::numbers::pi;
  EXPECT_NEAR(f->ratio, 10 / angle, 1e-6);
}

}  // namespace
}  // namespace kw
