// The seam between `optimise` and the exact search for square parts.
#pragma once

#include <cstdint>

#include "model.h"
#include "solution.h"
#include "work.h"

namespace kw::cutting::lengths {

// From an answer that makes all parts, and a bound, to better ones; both stay as they are where
// nothing better is found. Needs a square model.
void improve_to_proof(const Model& model, Work& work, Solution& solution, std::int64_t& bound);

}  // namespace kw::cutting::lengths
