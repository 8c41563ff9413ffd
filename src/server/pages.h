// web/bench/bench.html, as it was when the program was built. Private to server.
#pragma once

#include <vector>

#include "kerfwright/diag/diagnostic.h"

namespace kw::serving {

[[nodiscard]] std::vector<Text> built_in_pages();

}  // namespace kw::serving
