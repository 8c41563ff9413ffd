// The starters of starters/, as they were when the program was built. Private to store.
#pragma once

#include <vector>

#include "kerfwright/diag/diagnostic.h"

namespace kw::storing {

[[nodiscard]] std::vector<Text> built_in_starters();

}  // namespace kw::storing
