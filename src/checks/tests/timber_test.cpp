#include "kerfwright/checks/timber.h"

#include <gtest/gtest.h>

#include "reference_table.h"

namespace kw {
namespace {

using test::number;
using test::records_in;

TEST(GradedValues, AreThoseOfTheTable) {
  const DesignValues fir = graded_values("Douglas Fir-Larch", "No. 2", 3.5);
  EXPECT_EQ(fir.bending, 900);
  EXPECT_EQ(fir.stiffness, 1.6e6);
  EXPECT_EQ(fir.bending * size_factor_of_bending(3.5), 1350);  // 2x4: C_F 1.5
  EXPECT_EQ(graded_values("southern pine", "No. 2", 3.5).bending, 1100);
  EXPECT_EQ(graded_values("southern pine", "No. 2", 5.5).bending, 1000);
  EXPECT_EQ(graded_values("southern pine", "No. 2", 11.25).bending, 750);
  EXPECT_EQ(graded_values("balsa", "No. 2", 3.5).bending, 0);
  for (const auto& row : records_in("nds-design-values.tsv")) {
    if (row.at("species") == "Southern Pine" || row.at("grade").find('/') != std::string::npos)
      continue;
    const DesignValues values = graded_values(row.at("species"), row.at("grade"), 3.5);
    EXPECT_EQ(values.bending, number(row, "Fb")) << row.at("species") << row.at("grade");
    EXPECT_EQ(values.tension, number(row, "Ft"));
    EXPECT_EQ(values.shear, number(row, "Fv"));
    EXPECT_EQ(values.crush_across, number(row, "Fc_perp"));
    EXPECT_EQ(values.crush_along, number(row, "Fc"));
    EXPECT_EQ(values.stiffness, number(row, "E"));
    EXPECT_EQ(values.least_stiffness, number(row, "Emin"));
  }
}

TEST(Values, OfASpeciesFollowItsGroupElseClearWood) {
  const Catalogue& catalogue = built_in_catalogue();
  const auto of = [&](const char* name, const char* grade) {
    const Species* species = find_species(catalogue, name);
    return species == nullptr ? DesignValues{} : values_for(catalogue, *species, grade, 3.5);
  };
  EXPECT_EQ(of("Douglas fir-larch", "").bending, 900);
  EXPECT_EQ(of("spruce-pine-fir", "").bending, 875);
  const DesignValues clear = of("red oak", "clear"), knotty = of("red oak", "");
  EXPECT_GT(clear.bending, 3000);
  EXPECT_NEAR(knotty.bending, 0.45 * clear.bending, 1e-9);
  EXPECT_FALSE(clear.basis.empty());
}

TEST(SizeFactor, FallsWithWidth) {
  for (const auto& [width, factor] :
       {std::pair{3.5, 1.5}, std::pair{4.5, 1.4}, std::pair{5.5, 1.3}, std::pair{7.25, 1.2},
        std::pair{9.25, 1.1}, std::pair{11.25, 1.0}, std::pair{13.25, 0.9}})
    EXPECT_EQ(size_factor_of_bending(width), factor) << width;
  EXPECT_EQ(flat_use_factor(5.5), 1.15);
}

TEST(WetFactors, SpareWhatIsWeakAlready) {
  EXPECT_EQ(wet_factors({.bending = 875}, 1.5).bending, 0.85);
  EXPECT_EQ(wet_factors({.bending = 500}, 1.5).bending, 1);
}

// AWC Structural Wood Design Examples E1.2a: DF-L Select Structural 4x16, 20 ft, C_L 0.876.
TEST(LateralStability, GivesThePublishedExample) {
  Lateral beam{3.5, 15.25, 374.55, 1500, 690'000};
  EXPECT_NEAR(slenderness(beam), 21.6, 0.05);
  EXPECT_NEAR(critical_bending(beam), 1776, 0.5);
  EXPECT_NEAR(lateral_stability(beam), 0.876, 0.0005);
  EXPECT_NEAR(1500 * lateral_stability(beam), 1313, 0.5);
}

TEST(ColumnStability, IsOneForAStubAndEulersForARod) {
  EXPECT_NEAR(column_stability(1e-3, 1150, 510'000), 1, 1e-6);
  EXPECT_NEAR(column_stability(200, 1150, 510'000) * 1150, 0.822 * 510'000 / 40'000, 0.2);
}

TEST(Strength, AtAnotherMoistureGivesTheExample) {
  EXPECT_NEAR(strength_at(8, 103'000, 66'000, 24), 119'500, 50);  // white ash, FPL-GTR-190 Ch. 5
}

// Wood Handbook Table 9-1.
TEST(BeamDeflection, FollowsItsCoefficients) {
  const Beam beam{100, 36, 1.4e6, 0.984, 0.0875e6, 5.25 * 5 / 6};
  EXPECT_NEAR(beam_deflection(beam, 5.0 / 384, 1.0 / 8),
              5.0 / 384 * 100 * 46656 / (1.4e6 * 0.984) + 100 * 36 / 8.0 / (0.0875e6 * 4.375),
              1e-12);
}

}  // namespace
}  // namespace kw
