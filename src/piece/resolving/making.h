// What [cut], [hole] and [corner] make on boards, and how copies come by it.
#pragma once

#include <functional>

#include "steps.h"

namespace kw::resolving {

// What a declaration makes on one board; nothing when it cannot or need not.
using Make = std::function<std::optional<Features>(const Part&)>;

// Makes something of a board's own frame on each board named. A copy has what its source has; named
// beside its source it is not made twice.
void make_on(Scene& scene, const std::vector<Name>& of, Span at, const Make& make);

// Makes something that stands in the scene, such as a plane: each board named gets what it is for
// that board, copies too. A copy not named has what its source has.
void make_where_it_stands(Scene& scene, const std::vector<Name>& of, Span at, const Make& make);

// True when each of these words names one board by its own id: then it is a fault when nothing is
// made.
[[nodiscard]] bool are_single(const Scene& scene, const std::vector<Name>& of);

}  // namespace kw::resolving
