// The one sheet of most worth.
#pragma once

#include "pattern.h"
#include "work.h"

namespace kw::cutting::sheets {

struct BestSheet {
  Pattern pattern = {};
  std::int64_t worth = 0, bound = 0;
};

[[nodiscard]] BestSheet best_sheet(const Model& model, std::uint64_t seed, Work& work);

}  // namespace kw::cutting::sheets
