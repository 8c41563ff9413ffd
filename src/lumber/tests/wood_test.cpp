// Sizes and species against values from outside, each with where it was had.
#include <cmath>
#include <gtest/gtest.h>

#include "kerfwright/lumber/catalogue.h"

namespace kw {
namespace {

const Catalogue& book() {
  return built_in_catalogue();
}

Section inches(double thickness, double width) {
  return {Length::inches(thickness), Length::inches(width)};
}

struct Dressed {
  const char* name = "";
  Section dry = {};
  Section green = {};
};

// American Softwood Lumber Standard PS 20-20 Table 3 and NDS Supplement Table 1A; timbers by the
// classes of PS 20 (secondary transcriptions).
TEST(Sizes, AreDressedAsTheStandardHasThem) {
  const Dressed rows[] = {
      {"1x2", inches(0.75, 1.5), inches(0.78125, 1.5625)},
      {"1x6", inches(0.75, 5.5), inches(0.78125, 5.625)},
      {"1x8", inches(0.75, 7.25), inches(0.78125, 7.5)},
      {"1x12", inches(0.75, 11.25), inches(0.78125, 11.5)},
      {"5/4x6", inches(1, 5.5), inches(1.03125, 5.625)},
      {"6/4x4", inches(1.25, 3.5), inches(1.28125, 3.5625)},
      {"2x2", inches(1.5, 1.5), inches(1.5625, 1.5625)},
      {"2x4", inches(1.5, 3.5), inches(1.5625, 3.5625)},
      {"2x6", inches(1.5, 5.5), inches(1.5625, 5.625)},
      {"2x8", inches(1.5, 7.25), inches(1.5625, 7.5)},
      {"2x10", inches(1.5, 9.25), inches(1.5625, 9.5)},
      {"2x12", inches(1.5, 11.25), inches(1.5625, 11.5)},
      {"4x4", inches(3.5, 3.5), inches(3.5625, 3.5625)},
      {"4x6", inches(3.5, 5.5), inches(3.5625, 5.625)},
      {"6x6", inches(5.5, 5.5), inches(5.5, 5.5)},
      {"8x8", inches(7.25, 7.25), inches(7.5, 7.5)},
      {"6x12", inches(5.5, 11.25), inches(5.5, 11.5)},
      {"16x16", inches(15, 15), inches(15.5, 15.5)},
  };
  for (const Dressed& row : rows) {
    const NominalSize* size = find_size(book(), row.name);
    ASSERT_NE(size, nullptr) << row.name;
    EXPECT_EQ(size->dry, row.dry) << row.name;
    EXPECT_EQ(size->green, row.green) << row.name;
  }
}

// The rule behind the widths of PS 20, dry boards and dimension lumber: 1/2 in under the name to 7
// in wide, 3/4 in above. (It is often quoted as "to 6 in", but the standard's own row has 7 as 6
// 1/2.)
TEST(Sizes, KeepTheRuleOfDryWidths) {
  int seen = 0;
  for (const NominalSize& size : book().sizes) {
    if (size.kind != StockKind::board && size.kind != StockKind::dimension) continue;
    const double nominal = size.nominal.width.in_inches();
    const double off = nominal <= 7 ? 0.5 : 0.75;
    EXPECT_DOUBLE_EQ(size.dry.width.in_inches(), nominal - off) << size.name;
    ++seen;
  }
  EXPECT_GT(seen, 60);
}

TEST(Sizes, AreNeverDryerAndThickerThanGreen) {
  for (const NominalSize& size : book().sizes) {
    if (!size.green) continue;
    EXPECT_LE(size.dry.thickness, size.green->thickness) << size.name;
    EXPECT_LE(size.dry.width, size.green->width) << size.name;
    EXPECT_LT(size.green->width, size.nominal.width) << size.name;
  }
}

// Common practice: a "1x6" picket is 5/8 x 5 1/2 in, a 5/4 deck board 1 x 5 1/2 in.
TEST(Sizes, HoldPicketsAndDeckBoards) {
  EXPECT_EQ(find_size(book(), "1x6 picket")->dry, inches(0.625, 5.5));
  EXPECT_EQ(find_size(book(), "5/4x6 deck board")->dry, inches(1, 5.5));
  EXPECT_NE(find_size(book(), "1x6 picket"), find_size(book(), "1x6"));
}

// PS 1-19, limits by performance category (secondary transcription).
TEST(Sizes, HoldPlywoodWithItsLimits) {
  struct Limits {
    const char* name = "";
    double thinnest = 0, thickest = 0;
  };
  const Limits rows[] = {{"plywood 15/32", 0.438, 0.500},
                         {"plywood 1/2", 0.469, 0.531},
                         {"plywood 23/32", 0.688, 0.750},
                         {"plywood 3/4", 0.719, 0.781}};
  for (const Limits& row : rows) {
    const NominalSize* size = find_size(book(), row.name);
    ASSERT_NE(size, nullptr) << row.name;
    EXPECT_EQ(size->thinnest, Length::inches(row.thinnest)) << row.name;
    EXPECT_EQ(size->thickest, Length::inches(row.thickest)) << row.name;
    EXPECT_EQ(size->dry.width, Length::inches(48));
    EXPECT_EQ(size->sheet_length, Length::inches(96));
  }
}

TEST(Sizes, OfMetricSectionsMeasureWhatTheyAreCalled) {
  EXPECT_EQ(find_size(book(), "19x89")->dry, (Section{Length::mm(19), Length::mm(89)}));
  EXPECT_EQ(find_size(book(), "38 x 140 mm")->dry, (Section{Length::mm(38), Length::mm(140)}));
  EXPECT_EQ(find_size(book(), "planed 45x95")->lengths.front(), Length::mm(1800));
  EXPECT_EQ(find_size(book(), "planed 45x95")->lengths.back(), Length::mm(5400));
}

// Board feet by the trade's definition, worked by hand: T W L / 12 with L in feet.
TEST(BoardFeet, AreReckonedByTheNominalSize) {
  struct Case {
    const char* name = "";
    double feet = 0, answer = 0;
  };
  const Case cases[] = {
      {"2x4", 8, 16.0 / 3},    {"2x6", 10, 10},       {"1x6", 6, 3},
      {"4x4", 8, 32.0 / 3},    {"5/4x6", 12, 7.5},    {"5/4x6 deck board", 12, 7.5},
      {"nominal 3/4x6", 6, 3}, {"plywood 3/4", 8, 0}, {"19x89", 8, 0}};
  for (const Case& each : cases) {
    const NominalSize* size = find_size(book(), each.name);
    ASSERT_NE(size, nullptr) << each.name;
    EXPECT_NEAR(board_feet(*size, Length::inches(12 * each.feet)), each.answer, 1e-9) << each.name;
  }
}

struct HandbookRow {
  const char* name = "";
  double gravity = 0, rupture = 0, stiffness = 0, along = 0, across = 0, shear = 0, hardness = 0;
};

// Wood Handbook FPL-GTR-190 (2010) Table 5-3a, at 12 %: kPa, MOE in MPa, hardness in N (secondary
// transcription).
TEST(SpeciesTable, AgreesWithTheHandbook) {
  const HandbookRow rows[] = {
      {"western redcedar", 0.32, 51700, 7700, 31400, 3200, 6800, 1600},
      {"Douglas-fir, coast", 0.48, 85000, 13400, 49900, 5500, 7800, 3200},
      {"loblolly pine", 0.51, 88000, 12300, 49200, 5400, 9600, 3100},
      {"eastern white pine", 0.35, 59000, 8500, 33100, 3000, 6200, 1700},
      {"ponderosa pine", 0.40, 65000, 8900, 36700, 4000, 7800, 2000},
      {"redwood, young-growth", 0.35, 54000, 7600, 36000, 3600, 7600, 1900},
      {"baldcypress", 0.46, 73000, 9900, 43900, 5000, 6900, 2300},
      {"white oak", 0.68, 105000, 12300, 51300, 7400, 13800, 6000},
      {"northern red oak", 0.63, 99000, 12500, 46600, 7000, 12300, 5700},
      {"sugar maple", 0.63, 109000, 12600, 54000, 10100, 16100, 6400},
      {"black walnut", 0.55, 101000, 11600, 52300, 7000, 9400, 4500},
      {"yellow-poplar", 0.42, 70000, 10900, 38200, 3400, 8200, 2400},
      {"black cherry", 0.50, 85000, 10300, 49000, 4800, 11700, 4200},
      {"white ash", 0.60, 103000, 12000, 51100, 8000, 13200, 5900},
  };
  for (const HandbookRow& row : rows) {
    const Species* species = find_species(book(), row.name);
    ASSERT_NE(species, nullptr) << row.name;
    EXPECT_DOUBLE_EQ(species->gravity_12.value(), row.gravity) << row.name;
    EXPECT_DOUBLE_EQ(species->rupture.value().value, row.rupture / 1000) << row.name;
    EXPECT_DOUBLE_EQ(species->stiffness.value().value, row.stiffness) << row.name;
    EXPECT_DOUBLE_EQ(species->crush_along.value().value, row.along / 1000) << row.name;
    EXPECT_DOUBLE_EQ(species->crush_across.value().value, row.across / 1000) << row.name;
    EXPECT_DOUBLE_EQ(species->shear.value().value, row.shear / 1000) << row.name;
    EXPECT_DOUBLE_EQ(species->hardness.value().value, row.hardness) << row.name;
  }
}

// The same handbook in inch-pound units, Table 5-3b: a second transcription, MOR in psi, MOE in
// million psi. The rows that were read, not remembered.
TEST(SpeciesTable, AgreesWithTheInchPoundTable) {
  struct InchPound {
    const char* name = "";
    double rupture = 0, stiffness = 0;
  };
  const InchPound rows[] = {{"ponderosa pine", 9400, 1.29},     {"red pine", 11000, 1.63},
                            {"shortleaf pine", 13100, 1.75},    {"slash pine", 16300, 1.98},
                            {"sugar pine", 8200, 1.19},         {"western white pine", 9700, 1.46},
                            {"old-growth redwood", 10000, 1.34}};
  constexpr double mpa_per_psi = newton_per_pound_force / (25.4 * 25.4);
  for (const InchPound& row : rows) {
    const Species* species = find_species(book(), row.name);
    ASSERT_NE(species, nullptr) << row.name;
    EXPECT_NEAR(species->rupture.value().value, row.rupture * mpa_per_psi, 0.9) << row.name;
    EXPECT_NEAR(species->stiffness.value().value, row.stiffness * 1e6 * mpa_per_psi, 90)
        << row.name;
  }
}

// Wood Handbook Table 4-3, % green to ovendry (read).
TEST(SpeciesTable, HasTheHandbooksShrinkage) {
  struct Shrinkage {
    const char* name = "";
    double radial = 0, tangential = 0, volume = 0;
  };
  const Shrinkage rows[] = {
      {"white oak", 5.6, 10.5, 16.3},      {"black walnut", 5.5, 7.8, 12.8},
      {"western redcedar", 2.4, 5.0, 6.8}, {"Douglas-fir, coast", 4.8, 7.6, 12.4},
      {"black cherry", 3.7, 7.1, 11.5},    {"American beech", 5.5, 11.9, 17.2}};
  for (const Shrinkage& row : rows) {
    const Species* species = find_species(book(), row.name);
    ASSERT_NE(species, nullptr) << row.name;
    EXPECT_DOUBLE_EQ(species->shrink_radial.value(), row.radial) << row.name;
    EXPECT_DOUBLE_EQ(species->shrink_tangential.value(), row.tangential) << row.name;
    EXPECT_DOUBLE_EQ(species->shrink_volume.value(), row.volume) << row.name;
  }
}

// Wood Handbook Table 13-5, C_R and C_T per 1 % of moisture.
TEST(SpeciesTable, HasTheHandbooksMovement) {
  struct Movement {
    const char* name = "";
    double radial = 0, tangential = 0;
  };
  const Movement rows[] = {{"red oak", 0.00158, 0.00369},
                           {"northern red oak", 0.00158, 0.00369},
                           {"white oak", 0.00180, 0.00365},
                           {"black walnut", 0.00190, 0.00274},
                           {"sugar maple", 0.00165, 0.00353},
                           {"black cherry", 0.00126, 0.00248},
                           {"white ash", 0.00169, 0.00274},
                           {"western redcedar", 0.00111, 0.00234},
                           {"Douglas-fir, coast", 0.00165, 0.00267},
                           {"loblolly pine", 0.00165, 0.00259},
                           {"ponderosa pine", 0.00133, 0.00216},
                           {"eastern white pine", 0.00071, 0.00212}};
  for (const Movement& row : rows) {
    const Species* species = find_species(book(), row.name);
    ASSERT_NE(species, nullptr) << row.name;
    EXPECT_DOUBLE_EQ(species->move_radial.value(), row.radial) << row.name;
    EXPECT_DOUBLE_EQ(species->move_tangential.value(), row.tangential) << row.name;
  }
}

double moisture_where_shrinkage_starts(const std::string& name) {
  for (const char* low : {"Redwood, old-growth", "Redwood, young-growth", "Cedar, western redcedar",
                          "Cedar, northern white"}) {
    if (name == low) return 22;
  }
  return 30;
}

// C = 1 / (100 M0 / S - M0 + 10) ties Table 13-5 to Table 4-3, M0 being where shrinkage starts: 30
// %, but 22 % for redwood and two cedars. Green ash is printed with the figures of white ash, and
// the oaks with those of the commercial mixture.
TEST(SpeciesTable, MovesAsItsShrinkageImplies) {
  int checked = 0;
  for (const Species& species : book().species) {
    if (!species.shrink_radial || !species.move_radial) continue;
    const std::string& name = species.name;
    if (name == "Ash, green" || name == "Oak, white" || name == "Oak, northern red") continue;
    const double start = moisture_where_shrinkage_starts(name);
    const auto implied = [&](double shrinkage) {
      return 1 / (100 * start / shrinkage - start + 10);
    };
    EXPECT_NEAR(*species.move_radial, implied(*species.shrink_radial), 0.000015) << name;
    EXPECT_NEAR(*species.move_tangential, implied(*species.shrink_tangential), 0.000015) << name;
    ++checked;
  }
  EXPECT_GE(checked, 70);
}

TEST(SpeciesTable, KeepsTheThreeThatMoveMoreThanTheUsualRelation) {
  for (const char* name : {"western redcedar", "northern white cedar", "young-growth redwood"}) {
    const Species* species = find_species(book(), name);
    ASSERT_NE(species, nullptr) << name;
    const double usual = 1 / (3000 / *species->shrink_tangential - 20);
    EXPECT_GT(*species->move_tangential / usual, 1.3) << name;
  }
}

// NDS 2018 Table 12.3.3A (two secondary transcriptions).
TEST(SpeciesTable, HasTheGravityOfTheDesignSpecification) {
  struct Row {
    const char* name = "";
    double gravity = 0;
  };
  const Row rows[] = {{"spruce-pine-fir", 0.42},
                      {"SPF", 0.42},
                      {"Douglas fir-larch", 0.50},
                      {"southern pine", 0.55},
                      {"hem-fir", 0.43},
                      {"western cedars", 0.36},
                      {"redwood", 0.37},
                      {"red oak", 0.67},
                      {"white oak", 0.73},
                      {"ponderosa pine", 0.43},
                      {"eastern white pine", 0.36},
                      {"yellow poplar", 0.43},
                      {"hem-fir (north)", 0.46}};
  for (const Row& row : rows) {
    const Species* species = find_species(book(), row.name);
    ASSERT_NE(species, nullptr) << row.name;
    EXPECT_DOUBLE_EQ(species->gravity_nds.value(), row.gravity) << row.name;
  }
}

// The two gravities differ in the volume they divide by, and so in the figure.
TEST(SpeciesTable, KeepsTheTwoGravitiesApart) {
  const Species* cedar = find_species(book(), "western redcedar");
  EXPECT_DOUBLE_EQ(cedar->gravity_12.value(), 0.32);
  EXPECT_DOUBLE_EQ(cedar->gravity_nds.value(), 0.36);
}

TEST(SpeciesTable, GivesAGroupTheLargestMovementOfItsMembers) {
  int checked = 0;
  for (const Species& group : book().species) {
    if (group.movement_source.find("largest figure among the members") == std::string::npos)
      continue;
    double radial = 0;
    double tangential = 0;
    for (const std::string& name : group.members) {
      const Species* member = find_species(book(), name);
      ASSERT_NE(member, nullptr) << name;
      radial = std::max(radial, member->move_radial.value_or(0));
      tangential = std::max(tangential, member->move_tangential.value_or(0));
    }
    EXPECT_DOUBLE_EQ(group.move_radial.value(), radial) << group.name;
    EXPECT_DOUBLE_EQ(group.move_tangential.value(), tangential) << group.name;
    ++checked;
  }
  EXPECT_GE(checked, 20);
}

TEST(SpeciesTable, NamesMembersThatItHas) {
  for (const Species& group : book().species) {
    for (const std::string& name : group.members) {
      const Species* member = find_species(book(), name);
      ASSERT_NE(member, nullptr) << group.name << " has " << name;
      EXPECT_EQ(member->name, name);
      EXPECT_TRUE(member->members.empty()) << name << " is a group itself";
    }
  }
}

// ACGIH, as read: oak and beech A1; birch and walnut A2; western red cedar 0.5 mg/m3.
TEST(SpeciesTable, WarnsOfTheDust) {
  const auto warns = [](const char* name, const char* word) {
    for (const std::string& caution : find_species(book(), name)->cautions) {
      if (caution.find(word) != std::string::npos) return true;
    }
    return false;
  };
  EXPECT_TRUE(warns("white oak", "A1"));
  EXPECT_TRUE(warns("red oak", "A1"));
  EXPECT_TRUE(warns("American beech", "A1"));
  EXPECT_TRUE(warns("yellow birch", "A2"));
  EXPECT_TRUE(warns("black walnut", "A2"));
  EXPECT_TRUE(warns("western redcedar", "0.5 mg/m3"));
  EXPECT_TRUE(warns("western cedars", "0.5 mg/m3"));
  EXPECT_FALSE(warns("ponderosa pine", "A1"));
  for (const Species& species : book().species)
    EXPECT_FALSE(species.cautions.empty()) << species.name;
}

// rho = G (1 + M / 100), FPL-GTR-190 ch. 4: worked by hand for white oak, 0.68 * 1000 * 1.12.
TEST(Density, IsOfTheWoodAtTwelvePercent) {
  EXPECT_NEAR(density_at_12(*find_species(book(), "white oak")).value().value, 761.6, 1e-9);
}

// NDS Supplement 3.1 form, worked values in lb/ft^3: DF-L 33.15, SPF 28.08, western cedars 24.22.
TEST(Density, OfAGroupFollowsTheDesignSpecification) {
  struct Row {
    const char* name = "";
    double pounds = 0;
  };
  const Row rows[] = {
      {"Douglas fir-larch", 33.15}, {"spruce-pine-fir", 28.08}, {"western cedars", 24.22}};
  for (const Row& row : rows) {
    const auto density = density_at_12(*find_species(book(), row.name));
    EXPECT_NEAR(density.value().value / 16.01846337, row.pounds, 0.005) << row.name;
  }
}

TEST(Density, IsUnknownWithoutAGravity) {
  EXPECT_FALSE(density_at_12(*find_species(book(), "live oak")));
  EXPECT_FALSE(density_at_12(Species{}));
}

}  // namespace
}  // namespace kw
