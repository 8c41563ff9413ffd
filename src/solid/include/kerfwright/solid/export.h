// The piece as a 3D file for other programs: glTF 2.0 (Khronos, ISO/IEC 12113) and STEP (ISO
// 10303-242).
#pragma once

#include <string>
#include <vector>

#include "kerfwright/solid/body.h"

namespace kw {

// Binary glTF (.glb): one node a board, named by its id, metres, y up, a plain wood colour by
// species.
[[nodiscard]] Outcome<std::string> to_glb(const Resolved& piece, const std::vector<Body>& bodies);

// STEP AP242, millimetres, one solid a board with its name, holes and roundings as true cylinders.
// Made by the geometry kernel, which is loaded only when this is called. Error: solid.no-kernel
// (with the way to install it), solid.kernel-failed (which board).
[[nodiscard]] Outcome<std::string> to_step(const Resolved& piece, const std::vector<Body>& bodies);

}  // namespace kw
