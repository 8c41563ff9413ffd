// Strength and stiffness that a board may be counted on for: reference design values of graded
// lumber or of clear wood, and the factors that change them. Units of the standard: psi, inches.
// Source, unless named beside it: NDS 2018 and its Supplement, read in secondary transcriptions.
#pragma once

#include <string>
#include <string_view>

#include "kerfwright/checks/fastener.h"
#include "kerfwright/lumber/catalogue.h"

namespace kw {

// Reference design values, psi; zero where the table has none.
struct DesignValues {
  double bending = 0, tension = 0, shear = 0, crush_across = 0, crush_along = 0, stiffness = 0,
         least_stiffness = 0;  // E, E_min
  bool takes_size_factor = true;
  std::string basis = {};  // species and grade, or how they follow from clear wood; the source
};

// The row of NDS Supplement Table 4A or 4B; `width` in inches (southern pine differs by width).
// Null row (bending 0) when the table has none.
[[nodiscard]] DesignValues graded_values(std::string_view group, std::string_view grade,
                                         double width);

// From the Wood Handbook's averages of clear wood at 12 %: the lowest in twenty (coefficients of
// variation 16 % bending, 18 % crushing along, 28 % across, 14 % shear, 22 % stiffness: Table 5-6,
// from memory), over the factors of ASTM D245 (from memory: bending 2.1, along 1.9, shear 2.1,
// across 1.67), times `strength_ratio` for knots: 1 for clear wood, 0.45 for No. 2 (ASTM D245, from
// memory). Bending 0 when the species has no figures.
[[nodiscard]] DesignValues clear_values(const Species& species, double strength_ratio);

// Of a strip of plywood along its face grain, whatever it is made of; no shear, and none across.
// Wood Handbook FPL-GTR-282 Table 12-1.
[[nodiscard]] DesignValues plywood_values();

// Graded values of the species' group where they are known ("Douglas fir-larch"), else from clear
// wood; of a group that has no figures of its own, the weakest of its members. `grade` "" counts as
// No. 2, "clear" as clear wood.
[[nodiscard]] DesignValues values_for(const Catalogue& catalogue, const Species& species,
                                      std::string_view grade, double width);

// C_F of bending for dimension lumber 2 to 3 in thick (Supplement Table 4A), by nominal width
// reckoned from the dressed one.
[[nodiscard]] double size_factor_of_bending(double width);
// C_fu of flat use, 2 to 3 in thick.
[[nodiscard]] double flat_use_factor(double width);
inline constexpr double repetitive_factor = 1.15;  // C_r (from memory)

// C_M of sawn lumber (Supplement Table 4A; the two exceptions from memory).
struct WetFactors {
  double bending = 1, shear = 1, crush_across = 1, crush_along = 1, stiffness = 1, tension = 1;
};
[[nodiscard]] WetFactors wet_factors(const DesignValues& values, double size_factor);

// C_L (3.3.3): `effective` the effective unbraced length, `bending` F_b with every factor but C_L
// and C_fu; `stiffness` E_min adjusted.
struct Lateral {
  double breadth = 0, depth = 0, effective = 0;
  double bending = 0, stiffness = 0;
};
[[nodiscard]] double slenderness(const Lateral& beam);        // R_B
[[nodiscard]] double critical_bending(const Lateral& beam);   // F_bE
[[nodiscard]] double lateral_stability(const Lateral& beam);  // C_L
// C_P of a column (3.7.1): l_e / d, F_c with every factor but C_P, E_min adjusted; c = 0.8 for sawn
// lumber.
[[nodiscard]] double column_stability(double slenderness, double crushing, double stiffness);

// Strength at another moisture (Wood Handbook Eq. 5-3, from memory): `at_12`, `green`, and the
// moisture `mp` at which drying begins to matter (Table 5-13; 25 for most).
[[nodiscard]] double strength_at(double moisture, double at_12, double green, double mp);

// Deflection is creep x the part that stays: K_cr 1.5 dry lumber, 2.0 wet, green or panels (NDS
// 3.5.2, from memory).
[[nodiscard]] double creep_factor(bool is_wet_or_panel);

// Deflection of a beam = k_b W L^3 / (E I) + k_s W L / (G A'), A' = 5/6 b h for a rectangle (Wood
// Handbook Eq. 9-2, Table 9-1). Any consistent units.
struct Beam {
  double load = 0, span = 0;             // W, L
  double stiffness = 0, inertia = 0;     // E, I
  double shear_stiffness = 0, area = 0;  // G, A'
};
[[nodiscard]] double beam_deflection(const Beam& beam, double k_bending, double k_shear);

}  // namespace kw
