// One question: is there a plan within the target? Branch and bound over pairs of parts, with cuts,
// and with lists of all patterns that can still matter as soon as they are few.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "lengths/relaxation.h"

namespace kw::cutting::lengths {

struct Settled {
  std::optional<std::vector<Laid>> plan = {};  // within the target
  bool is_proved = false;                      // with no plan: that there is none
};

// `stand` is that of the whole instance and `relaxation` has been there. `bound`: of any plan, so
// that the search ends with one that costs no more.
[[nodiscard]] Settled settle(const Instance& instance, const Stand& stand, std::int64_t bound,
                             const Spend& spend, Relaxation& relaxation);

}  // namespace kw::cutting::lengths
