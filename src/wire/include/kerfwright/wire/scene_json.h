// The piece in three dimensions, with its steps, for a page to draw.
#pragma once

#include <string>

#include "kerfwright/planbook/book.h"

namespace kw {

// {"bodies": [{"name", "points": [x, y, z, ...] in mm to 0.01, "triangles": [three indices, ...],
// "edges": [two indices, ...], "apart": [x, y, z], "step"}], "steps": ["Step 3. Add ...", ...]}:
// `step` is the index in "steps", which are those of the whole.
[[nodiscard]] std::string scene_json(const PlanData& data, const LengthStyle& style);

}  // namespace kw
