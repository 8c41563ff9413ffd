// Private to drawing: a part as it lies on the bench, seen from one of its sides.
#pragma once

#include "kerfwright/drawing/view.h"
#include "kerfwright/parts/cut_list.h"

namespace kw {

// Square on to a side, hook end left for the four long sides; ends with the bench below.
[[nodiscard]] Look look_at(Side side);

// How the drawn member lies on the bench.
[[nodiscard]] Frame bench_frame(const Part& part);

[[nodiscard]] View bench_view(const std::vector<Body>& bodies, const Part& part, const Look& look,
                              bool with_hidden = true);

}  // namespace kw
