#include "kernel/outline.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Circ.hxx>
#include <gp_Vec.hxx>

#include "kernel/convert.h"

namespace kw::kernel {
namespace {

constexpr double tangent_within = 1e-6;  // mm between a circle and a line that touches it

// Sides in order, each run of facets of one cylinder made one.
struct Stretch {
  Vec2 from = {}, to = {};
  int cylinder = -1;
};

std::vector<Stretch> stretches_of(const Outline& outline) {
  const std::size_t count = outline.points.size();
  const auto joins = [&](std::size_t i) {  // does side i go on the run of the side before it?
    const int own = outline.cylinders[i];
    return own >= 0 && own == outline.cylinders[(i + count - 1) % count];
  };
  std::size_t first = 0;
  while (first + 1 < count && joins(first)) ++first;
  std::vector<Stretch> stretches;
  for (std::size_t step = 0; step < count; ++step) {
    const std::size_t i = (first + step) % count;
    const Vec2 end = outline.points[(i + 1) % count];
    if (step > 0 && joins(i))
      stretches.back().to = end;
    else
      stretches.push_back({outline.points[i], end, outline.cylinders[i]});
  }
  return stretches;
}

Vec2 pulled_onto(const Cylinder& cylinder, Vec2 point) {
  const Vec2 centre = {cylinder.point.x, cylinder.point.y};
  const Vec2 arm = point - centre;
  return centre + arm * (cylinder.radius / norm(arm));
}

// Where the line of a straight stretch meets the circle, on the side of `near`.
Vec2 meeting_of(const Stretch& line, const Cylinder& cylinder, Vec2 near) {
  const Vec2 centre = {cylinder.point.x, cylinder.point.y};
  const Vec2 along = (line.to - line.from) * (1.0 / norm(line.to - line.from));
  const Vec2 foot = line.from + along * dot(centre - line.from, along);
  const double distance = norm(foot - centre);
  if (distance > cylinder.radius - tangent_within) return pulled_onto(cylinder, foot);
  const double half = std::sqrt(cylinder.radius * cylinder.radius - distance * distance);
  return foot + along * std::copysign(half, dot(near - foot, along));
}

// The exact corner between two stretches whose polygon corner is `corner`.
Vec2 corner_between(const Stretch& before, const Stretch& after, Vec2 corner,
                    const std::vector<Cylinder>& cylinders) {
  const auto of = [&](const Stretch& stretch) {
    return cylinders[static_cast<std::size_t>(stretch.cylinder)];
  };
  if (before.cylinder < 0 && after.cylinder < 0) return corner;
  if (before.cylinder < 0) return meeting_of(before, of(after), corner);
  if (after.cylinder < 0) return meeting_of(after, of(before), corner);
  return pulled_onto(of(before), corner);
}

gp_Pnt at_height(Vec2 point, double z) {
  return {point.x, point.y, z};
}

TopoDS_Edge edge_of(const Stretch& stretch, const TopoDS_Vertex& from, const TopoDS_Vertex& to,
                    const std::vector<Cylinder>& cylinders, bool wood_inside, double z) {
  if (stretch.cylinder < 0) return BRepBuilderAPI_MakeEdge(from, to);
  const Cylinder& cylinder = cylinders[static_cast<std::size_t>(stretch.cylinder)];
  const bool bulges = wood_inside != cylinder.is_hollow;
  const gp_Dir up(0, 0, bulges ? 1 : -1);
  const gp_Circ circle(gp_Ax2(at_height({cylinder.point.x, cylinder.point.y}, z), up),
                       cylinder.radius);
  return BRepBuilderAPI_MakeEdge(circle, from, to);
}

}  // namespace

TopoDS_Shape prism_over(const Outline& outline, const std::vector<Cylinder>& cylinders,
                        bool wood_inside, double low, double high) {
  std::vector<Stretch> stretches = stretches_of(outline);
  const std::size_t count = stretches.size();
  std::vector<TopoDS_Vertex> corners;
  for (std::size_t i = 0; i < count; ++i) {
    const Vec2 exact = corner_between(stretches[(i + count - 1) % count], stretches[i],
                                      stretches[i].from, cylinders);
    corners.push_back(BRepBuilderAPI_MakeVertex(at_height(exact, low)));
  }
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < count; ++i)
    wire.Add(
        edge_of(stretches[i], corners[i], corners[(i + 1) % count], cylinders, wood_inside, low));
  const gp_Pln floor(gp_Pnt(0, 0, low), gp_Dir(0, 0, 1));
  const BRepBuilderAPI_MakeFace face(floor, wire.Wire(), true);
  return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, high - low)).Shape();
}

}  // namespace kw::kernel
