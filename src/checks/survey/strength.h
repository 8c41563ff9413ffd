// Private to checks: how heavily boards are used, and how far they sag.
#pragma once

#include <string>
#include <vector>

#include "survey/loading.h"

namespace kw::surveying {

// What a board may be counted on for, with what does not change from case to case. psi, MPa.
struct Timber {
  DesignValues values = {};  // bending 0: not known
  double size = 1;           // C_F
  WetFactors wet = {};
  double glued_shear = 0;  // psi: of the same wood without knots, for glue lines
  double unbraced = 0;     // mm: the longest stretch between what touches it
  bool is_dimension = false;
};
// How much more it sags in the long run: in the wet, and as a sheet, twice.
[[nodiscard]] double creep_of(const Scene& scene, int body);
[[nodiscard]] std::vector<Timber> timbers_of(const Scene& scene, const Bearing& bearing);

// What one board is used to in its worst case.
struct BoardUse {
  double stress = 0, shear = 0;  // over what may be counted on
  std::string load = {};
  double beam_factor = 1, column_factor = 1;  // C_L, C_P of that case
  double sag = 0, sag_ratio = 0, span = 0;    // mm; over the limit
  double stress_most() const { return stress > shear ? stress : shear; }
  bool is_passing = false;  // the sag is that of a load that does not stay
};
// Limits of sag, as parts of the span (common practice, no published source; the last Architectural
// Woodwork Standards section 10, from memory).
inline constexpr double seen_passing = 180, much_passing = 90, seen_always = 600, much_always = 144;

class BoardJudge {
 public:
  BoardJudge(const Scene& scene, const Bearing& bearing, const std::vector<Timber>& timbers)
      : scene_(scene), bearing_(bearing), timbers_(timbers), uses_(bearing.beams.size()) {}
  // `always` is the answer of what stays, which creeps.
  void weigh(const LoadCase& load, const FrameAnswer& answer, const FrameAnswer& always);
  [[nodiscard]] const std::vector<BoardUse>& uses() const { return uses_; }

 private:
  void weigh_sag(const LoadCase& load, const FrameAnswer& answer, const FrameAnswer& always,
                 std::size_t body);
  void weigh_stress(const LoadCase& load, const FrameAnswer& answer, std::size_t body);

  const Scene& scene_;
  const Bearing& bearing_;
  const std::vector<Timber>& timbers_;
  std::vector<BoardUse> uses_;
};

}  // namespace kw::surveying
