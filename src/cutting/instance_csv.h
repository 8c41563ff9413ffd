// Private to cutting: problems as CSV.
#pragma once

#include "kerfwright/cutting/instance.h"

namespace kw::cutting {

[[nodiscard]] Outcome<Instance> read_csv_instance(const Text& text);

}  // namespace kw::cutting
