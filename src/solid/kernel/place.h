// Private to the kernel's side of solid: a shape put where its board lies.
#pragma once

#include <TopLoc_Location.hxx>
#include <TopoDS_Shape.hxx>
#include <gp_Ax3.hxx>
#include <gp_Trsf.hxx>

#include "kernel/convert.h"

namespace kw::kernel {

inline gp_Trsf displacement_to(const Frame& frame) {
  gp_Trsf move;
  move.SetDisplacement(gp_Ax3(), gp_Ax3(to_point(frame.origin), to_dir(frame.z), to_dir(frame.x)));
  return move;
}

inline TopoDS_Shape placed(const TopoDS_Shape& shape, const Frame& frame) {
  return shape.Moved(TopLoc_Location(displacement_to(frame)));
}

}  // namespace kw::kernel
