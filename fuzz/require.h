// What a fuzz target demands of the code under test, beyond that it neither crashes nor hangs.
#pragma once

#include <cstddef>
#include <cstdlib>

#include "kerfwright/diag/diagnostic.h"

namespace kw::fuzz {

// Ends the process, which libFuzzer and the replay both count as a finding.
inline void require(bool claim) {
  if (!claim) std::abort();
}

// Each fault says what it is and has its places within a text of `size` bytes.
inline void require_places(const Diagnostics& faults, std::size_t size) {
  for (const Diagnostic& d : faults) {
    require(!d.code.empty() && !d.message.empty());
    require(d.at.begin <= d.at.end && d.at.end <= size);
    for (const Note& note : d.notes) require(note.at.begin <= note.at.end && note.at.end <= size);
  }
}

}  // namespace kw::fuzz
