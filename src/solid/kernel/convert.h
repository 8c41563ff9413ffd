// Private to the kernel's side of solid: our points and planes as the kernel's.
#pragma once

#include <TopoDS.hxx>
#include <gp_Ax2.hxx>
#include <gp_Dir.hxx>
#include <gp_Pln.hxx>
#include <gp_Pnt.hxx>

#include "kerfwright/measure/vector.h"

namespace kw::kernel {

inline gp_Pnt to_point(Vec3 p) {
  return {p.x, p.y, p.z};
}
inline gp_Dir to_dir(Vec3 d) {
  return {d.x, d.y, d.z};
}
inline gp_Pln to_pln(const Plane& plane) {
  return {to_point(plane.normal * plane.offset), to_dir(plane.normal)};
}

}  // namespace kw::kernel
