// Private to planbook: how long the work takes, by a table of minutes.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

namespace kw {

// So many of a kind of work, at so many minutes each.
struct Work {
  std::string what = {};
  double count = 0;
  double minutes = 0;  // each
};

[[nodiscard]] std::map<Machine, int> cuts_by_machine(const std::vector<Setup>& setups);

// The work on a piece: boards set out, set-ups and cuts by machine, joints, fasteners, sanding and
// coats. The minutes are the program's assumption (common practice, no published source).
[[nodiscard]] std::vector<Work> work_on(const PlanData& data);

[[nodiscard]] double minutes_of(const std::vector<Work>& work);

// "about 6 1/2 hours": to the half hour above one, else to the quarter.
[[nodiscard]] std::string hours_text(double minutes);

// work, count, minutes each, minutes; the sum at the end.
[[nodiscard]] Table hours_table(const std::vector<Work>& work);

}  // namespace kw
