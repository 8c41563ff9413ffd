// Private to drawing: where a piece is best cut open to be seen inside.
#pragma once

#include <optional>
#include <vector>

#include "kerfwright/drawing/view.h"
#include "kerfwright/solid/body.h"

namespace kw {

struct CutPlane {
  Look look = {};     // at what the cut leaves: from the right, the front or above
  Vec3 through = {};  // a point of the plane, world
  int joints = 0;     // inside joints that it shows
};

// The plane across x, y or z that shows most joints that lie inside the wood (tenons, housings,
// grooves, rabbets, bridles and dowels, each cut along its depth); through the middle of a piece
// that is hollow when there are none. It keeps clear of faces that lie along it. Nothing for a
// piece with neither.
[[nodiscard]] std::optional<CutPlane> cut_plane_of(const std::vector<Body>& bodies);

}  // namespace kw
