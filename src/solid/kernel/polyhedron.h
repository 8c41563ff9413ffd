// Private to the kernel's side of solid: a convex polyhedron as the kernel's solid. Found by trying
// every three planes, so that it shares no code with the core that it judges.
#pragma once

#include <TopoDS_Solid.hxx>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw::kernel {

// Where every plane has distance <= 0; the planes must bound it. A null solid when that has no
// inside.
[[nodiscard]] TopoDS_Solid polyhedron_of(const std::vector<Plane>& planes);

}  // namespace kw::kernel
