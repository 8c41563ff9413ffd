// What nails, screws and lag screws hold in wood: withdrawal, head pull-through, lateral yield, the
// factors that change them, and the distances that keep wood from splitting.
//
// Units are those of the standard, so that its tables can be laid beside the answers: inches,
// pounds-force, psi, degrees. Values are reference design values (allowable stress design) with
// every factor 1 unless a function says otherwise. G is ovendry mass over *ovendry* volume (NDS
// Table 12.3.3A), never the 12 % gravity of the Wood Handbook. Source, unless named beside it:
// ANSI/AWC National Design Specification for Wood Construction (NDS), 2018, read in secondary
// transcriptions. Pure; no value is refused: what is not above zero gives zero.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace kw {

enum class Holding : std::uint8_t { wood_screw, plain_nail, ring_nail, stainless_nail, lag_screw };

// lbf per inch of thread (screws), of penetration (nails), of thread without the tip (lags), in
// side grain (12.2-1 to 12.2-5). `diameter` is the shank's.
[[nodiscard]] double withdrawal_per_inch(Holding kind, double gravity, double diameter);

// lbf that pulls a round head through a side member `thickness` thick (12.2.5, Table 12.2F).
[[nodiscard]] double head_pull_through(double gravity, double head, double thickness);

// Dowel bearing strength, psi (Table 12.3.3, footnote 2): below 1/4 in in any direction; from 1/4
// in along and across the grain; between them by Hankinson's formula (Eq. 12.3-11).
[[nodiscard]] double bearing_of_small(double gravity);
[[nodiscard]] double bearing_along(double gravity);
[[nodiscard]] double bearing_across(double gravity, double diameter);
[[nodiscard]] double bearing_at(double along, double across, double degrees);
// As the tables print it, to 50 psi.
[[nodiscard]] double tabulated(double bearing);

// Bending yield strength by nominal diameter, psi (Table I1).
[[nodiscard]] double bending_yield(double diameter);

// R_d of the yield modes I, II, and III with IV (Table 12.3.1B). `in_equations` is the diameter
// that the yield equations use: the root of a thread, the shank of a nail. `degrees` is the largest
// angle of load to grain of any member.
struct Reduction {
  double one = 1, two = 1, three_and_four = 1;
};
[[nodiscard]] Reduction reduction_for(double nominal, double in_equations, double degrees);

enum class YieldMode : std::uint8_t { one_main, one_side, two, three_main, three_side, four };
[[nodiscard]] std::string_view name_of(YieldMode mode);  // "Im", "Is", "II", "IIIm", "IIIs", "IV"

struct Shear {
  double diameter = 0;                        // in the yield equations
  double in_main = 0, in_side = 0;            // bearing lengths; the main member holds the point
  double bearing_main = 0, bearing_side = 0;  // psi
  double yield = 0;                           // F_yb, psi
  Reduction reduction = {};
};
struct Yield {
  std::array<double, 6> modes = {};  // lbf, in the order of YieldMode
  double least = 0;                  // the reference design value Z
  YieldMode mode = YieldMode::four;
};
[[nodiscard]] Yield single_shear(const Shear& shear);
// Two side members alike; II and IIIm cannot be (they are infinite in `modes`).
[[nodiscard]] Yield double_shear(const Shear& shear);

// Length that bears in the main member: penetration less half the tip, when the tip is inside
// (12.3.5.3); the tip of nails and screws is two diameters long.
[[nodiscard]] double bearing_length(double penetration, double diameter);
// What is left of Z when the point goes in less than 10 D (lags 8 D): p / 10 D; zero below the
// least penetration that is allowed, 6 D with the tip (lags 4 D without it) (12.1.4 to 12.1.6).
[[nodiscard]] double penetration_factor(Holding kind, double penetration, double diameter);

enum class Duration : std::uint8_t {
  permanent,
  ten_years,
  two_months,
  seven_days,
  ten_minutes,
  impact
};
// C_D (Table 2.3.2). Impact does not apply to connections: it is counted there as ten minutes.
[[nodiscard]] double duration_factor(Duration duration);
[[nodiscard]] double duration_factor_of_connection(Duration duration);

enum class Service : std::uint8_t { dry, made_wet_used_dry, wet };
// C_M (Table 11.3.3).
[[nodiscard]] double wet_lateral(Service service, double diameter);
[[nodiscard]] double wet_withdrawal(Holding kind, Service service);
// C_t (Table 11.3.4); `fahrenheit` of sustained heat, at most 150.
[[nodiscard]] double heat_factor(double fahrenheit, bool is_wet);
inline constexpr double end_grain_lateral = 0.67;            // C_eg (12.5.2.2)
inline constexpr double end_grain_withdrawal_of_lag = 0.75;  // C_eg; screws and nails: none
inline constexpr double toe_nail_lateral = 0.83;             // C_tn (12.5.4)
inline constexpr double toe_nail_withdrawal = 0.67;

// C_g of a row (11.3-1; the formula from memory, it gives Table 11.3.6A): 1 below 1/4 in. `spacing`
// in the row; stiffness E A of the members in lbf.
struct Row {
  int count = 1;
  double diameter = 0, spacing = 0;
  double main_stiffness = 0, side_stiffness = 0;
  bool is_steel_side = false;
};
[[nodiscard]] double group_factor(const Row& row);

// Withdrawal W' p and lateral Z' at once; `degrees` from the wood's face to the load (12.4).
[[nodiscard]] double combined_screw(double withdrawal, double lateral, double degrees);
[[nodiscard]] double combined_nail(double withdrawal, double lateral, double degrees);

// Lead holes (12.1.5): in.
[[nodiscard]] double lead_for_withdrawal(double gravity, double root);
[[nodiscard]] double lead_for_thread(double gravity, double root);
[[nodiscard]] double lead_for_shank(double gravity, double diameter);

// Least distances that keep wood from splitting, in diameters; zero: the source does not say.
struct Distances {
  double edge = 0, edge_pressed = 0;      // an edge that the load leaves alone; one it pushes to
  double end_pulled = 0, end_pushed = 0;  // load towards the end; away from it
  double in_row = 0, in_row_across = 0;   // of a row along the grain; across it
  double between_rows = 0, between_staggered = 0;
  std::string_view source = {};
};
// Below 1/4 in: NDS Commentary Tables C12.1.5.7 and C12.1.6.6 (from memory). From 1/4 in: NDS
// 12.5.1 for full value.
[[nodiscard]] Distances least_distances(double diameter, bool is_bored, bool is_hardwood);
// NDS 12.5.1 from 1/4 in: under these nothing is counted, between them and the full ones in
// proportion (C_delta).
[[nodiscard]] Distances smallest_distances(bool is_hardwood);
// EN 1995-1-1 Table 8.2, density up to 420 kg/m^3; `degrees` from the grain to the load.
[[nodiscard]] Distances european_distances(double diameter, bool is_bored, double degrees);

}  // namespace kw
