// The exact search for angled parts: the cheapest plan and the proof, as far as the work goes.
//
// Column generation gives a bound and patterns; whole-number covers by them, and dives, give plans;
// then every pattern that can be in a cheaper plan is listed and the cheapest cover by those is
// found. NOTES.md has the proof that each step is valid.
#pragma once

#include <cstdint>

#include "solution.h"
#include "work.h"

namespace kw::cutting::angled {

struct Answer {
  Solution solution = {};      // never dearer than the one given, nor with more parts missing
  std::int64_t bound = 0;      // no plan costs less
  bool is_impossible = false;  // proved: the stock does not suffice
};

// `start` may lack parts. `bound` is what is proved already. The work's limit is this search's own.
[[nodiscard]] Answer prove(const Model& model, Solution start, std::int64_t bound, Work& work);

}  // namespace kw::cutting::angled
