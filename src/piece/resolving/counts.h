// Which bare figures count. `[size.slats] is = 7` is 7 in, unless a `count`, `strips`, a `step` of
// assembly or a price is made from it and would be no number if it were a length: then it is a
// plain 7 wherever it is used.
#pragma once

#include "values.h"

namespace kw::resolving {

[[nodiscard]] Counts counts_in(const Given& given);

}  // namespace kw::resolving
