// Which screw for a joint, and where in its row: by rule. mm. Pure.
//
// Common practice, no published source, but for the distances (fastener.h): a No. 6 to 1/2 in of
// near wood, No. 8 to 1 in, No. 10 beyond; 1/8 in of cover over the point.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/solid/body.h"
#include "kerfwright/solid/spacing.h"

namespace kw {

inline constexpr double least_cover = 3.175;  // 1/8 in

struct ScrewWish {
  double through = 0;  // wood of the near board along the screw
  double wood = 0;     // of the far board
  FastenerKind kind = FastenerKind::wood_screw;
  double diameter = 0;     // keep this gauge; 0: by rule
  bool must_bore = false;  // counterbored: `through` is what is left under the head
};
// The longest that keeps its cover; null when none bites three diameters.
[[nodiscard]] const Fastener* choose_screw(const Catalogue& catalogue, const ScrewWish& wish);

struct Need {
  std::string fastener = {};
  int count = 0;
};
// For the buying list: what the joints take as they are driven (with the count by rule where none
// is said), in the order in which they first come.
[[nodiscard]] std::vector<Need> fasteners_needed(const Resolved& piece);

// The boards' letter for the builder: in a pair of mirrored joints the left row starts as far from
// its end as the right one does; false when two patterns differ by more than `slack`.
[[nodiscard]] bool are_handed_alike(const std::vector<Driven>& left,
                                    const std::vector<Driven>& right, const Frame& left_board,
                                    const Frame& right_board, double slack = 0.5);

}  // namespace kw
