// The search to proof for square parts: starts from a plan and a bound and brings them together.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "lengths/instance.h"
#include "lengths/relaxation.h"

namespace kw::cutting::lengths {

struct Proof {
  std::vector<Laid> best = {};
  std::int64_t cost = 0, bound = 0;
};

// Told whenever one of both has become better.
using Tell = std::function<void(const Proof&)>;

// From a plan and a bound to better ones, until they meet or `spend` says no.
void prove(const Instance& instance, const Spend& spend, const Tell& tell, Proof& proof);

}  // namespace kw::cutting::lengths
