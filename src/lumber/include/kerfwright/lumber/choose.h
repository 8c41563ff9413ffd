// Which screw for a joint, by rule. Pure.
//
// Common practice, no published source: a No. 6 to 1/2 in of near wood, No. 8 to 1 in, No. 10
// beyond; 1/8 in of cover over the point; a bite of three diameters at least.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "kerfwright/lumber/catalogue.h"

namespace kw {

inline constexpr double least_cover = 3.175;  // mm: 1/8 in

struct ScrewWish {
  double through = 0;  // mm, wood of the near board along the screw
  double wood = 0;     // mm, of the far board
  FastenerKind kind = FastenerKind::wood_screw;
  double diameter = 0;  // mm: keep this gauge; 0: by rule
};
// The longest that keeps its cover, of the gauge by rule or else of the nearest one that has such a
// length; null when none bites three diameters.
[[nodiscard]] const Fastener* choose_screw(const Catalogue& catalogue, const ScrewWish& wish);

// Pocket screws by the thickness of the stock that has the pocket, in (chart: common practice, no
// published source).
[[nodiscard]] double pocket_screw_length(double stock_inches);
// Of that length, or the nearest shorter one; No. 8 where there is one. Null when there is none.
[[nodiscard]] const Fastener* choose_pocket_screw(const Catalogue& catalogue, double stock_inches);

// "wood screw", "deck screw", "pocket screw": a kind that is chosen from by rule.
inline constexpr std::array<FastenerKind, 3> kinds_by_rule = {
    FastenerKind::wood_screw, FastenerKind::deck_screw, FastenerKind::pocket_screw};
[[nodiscard]] std::optional<FastenerKind> kind_by_rule(std::string_view name);

}  // namespace kw
