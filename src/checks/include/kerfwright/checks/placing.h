// What the joints take as they are driven. mm. Pure. Which screw, and how many: lumber/choose.h and
// solid/spacing.h.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/lumber/choose.h"
#include "kerfwright/solid/body.h"
#include "kerfwright/solid/spacing.h"

namespace kw {

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
