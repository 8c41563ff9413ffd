// Private to parts: which bodies are the same part.
#pragma once

#include <vector>

#include "kerfwright/parts/cut_list.h"

namespace kw {

// Bodies that are one part. `lie` carries each body's own frame onto that of the first (no `move`:
// about the middle of the box); is_mirrored ones are the other hand.
struct Alike {
  std::vector<Member> members = {};
};

// In the order of each group's first body.
[[nodiscard]] std::vector<Alike> recognise(const Resolved& piece, const std::vector<Body>& bodies);

}  // namespace kw
