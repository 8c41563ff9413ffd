#include <BRepAdaptor_Surface.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <GeomAbs_SurfaceType.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>

#include "kernel/convert.h"
#include "kernel/kernel.h"
#include "kernel/place.h"
#include "kernel/true_solid.h"

namespace kw::kernel {
namespace {

void count_parts(const TopoDS_Shape& shape, Measured& measured) {
  for (TopExp_Explorer it(shape, TopAbs_SOLID); it.More(); it.Next()) ++measured.solids;
  for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
    ++measured.faces;
    const BRepAdaptor_Surface surface(TopoDS::Face(it.Current()));
    if (surface.GetType() == GeomAbs_Cylinder) ++measured.cylindrical_faces;
  }
}

void weigh(const TopoDS_Shape& shape, Measured& measured) {
  GProp_GProps inside, outside;
  BRepGProp::VolumeProperties(shape, inside);
  BRepGProp::SurfaceProperties(shape, outside);
  measured.volume = inside.Mass();
  measured.area = outside.Mass();
  const gp_Pnt centre = inside.CentreOfMass();
  measured.centroid = {centre.X(), centre.Y(), centre.Z()};
}

}  // namespace

Measured measure(const Recipe& recipe) {
  Measured measured;
  try {
    const TopoDS_Shape shape = true_solid_of(recipe);
    if (shape.IsNull()) return measured;
    measured.is_valid = BRepCheck_Analyzer(shape).IsValid();
    count_parts(shape, measured);
    if (measured.solids > 0) weigh(shape, measured);
  } catch (const Standard_Failure& failure) {
    measured.failure = failure.GetMessageString();
    if (measured.failure.empty()) measured.failure = "the kernel gave no reason";
  }
  return measured;
}

double common_volume(const Placed& a, const Placed& b) {
  try {
    const TopoDS_Shape one = placed(true_solid_of(a.recipe), a.frame);
    const TopoDS_Shape other = placed(true_solid_of(b.recipe), b.frame);
    BRepAlgoAPI_Common operation(one, other);
    if (operation.HasErrors()) return -1;
    GProp_GProps inside;
    BRepGProp::VolumeProperties(operation.Shape(), inside);
    return inside.Mass();
  } catch (const Standard_Failure&) {
    return -1;
  }
}

}  // namespace kw::kernel
