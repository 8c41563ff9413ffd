// Private to the making of copies: where each copy goes.
#pragma once

#include "steps.h"

namespace kw::resolving {

// The motions that carry the sources to each copy, in order; nothing when they cannot be had. A
// fill also moves its sources to the first place.
[[nodiscard]] std::optional<std::vector<Motion>> motions_of(Scene& scene, const CopyDecl& decl,
                                                            const std::vector<int>& sources);

}  // namespace kw::resolving
