// Private to parts: what is measured while the piece is put together.
#pragma once

#include <vector>

#include "kerfwright/parts/assembly.h"

namespace kw {

// Where `of` covers the long sides of `on`, as marks from the hook end of `on`; nothing where it
// covers the whole length, or sits in a notch that is marked anyway.
[[nodiscard]] std::vector<SetOut> set_out(const std::vector<Body>& bodies, const CutList& cut_list,
                                          const std::vector<Contact>& contacts, int on, int of);

// From corner to corner of two equal, parallel boards: on their common upper face. None when they
// are not parallel, or nearer than 50 mm.
[[nodiscard]] std::vector<Diagonals> diagonals_between(const std::vector<Body>& bodies, Length rule,
                                                       int a, int b);

}  // namespace kw
