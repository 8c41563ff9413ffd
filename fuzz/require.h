// What a fuzz target demands of the code under test, beyond that it neither crashes nor hangs.
#pragma once

#include <cstdlib>

namespace kw::fuzz {

// Ends the process, which libFuzzer and the replay both count as a finding.
inline void require(bool claim) {
  if (!claim) std::abort();
}

}  // namespace kw::fuzz
