// The tables of data/, as they were when the program was built; the build writes the .cpp
// (embed.cmake).
#pragma once

#include <vector>

#include "kerfwright/diag/diagnostic.h"

namespace kw::lumber {

[[nodiscard]] std::vector<Text> built_in_tables();

}  // namespace kw::lumber
