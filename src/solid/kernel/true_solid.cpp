#include "kernel/true_solid.h"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Standard_Failure.hxx>
#include <TopTools_ListOfShape.hxx>
#include <algorithm>
#include <cmath>

#include "kernel/convert.h"
#include "kernel/outline.h"
#include "kernel/polyhedron.h"

namespace kw::kernel {
namespace {

constexpr double beyond = 1.0;  // mm by which the stick's box is grown to bound what is taken away

std::vector<Plane> box_of(const Recipe& recipe, double grown) {
  return {{{-1, 0, 0}, grown - recipe.from_x},         {{1, 0, 0}, grown + recipe.to_x},
          {{0, -1, 0}, grown + recipe.half_width},     {{0, 1, 0}, grown + recipe.half_width},
          {{0, 0, -1}, grown + recipe.half_thickness}, {{0, 0, 1}, grown + recipe.half_thickness}};
}

bool is_upright(const Plane& plane) {
  return plane.normal.z == 0;
}

bool is_bored(const Feature& feature) {
  return feature.diameter > 0;
}

Plane flipped(const Plane& plane) {
  return {-plane.normal, -plane.offset};
}

struct Wall {
  Plane plane = {};
  int cylinder = -1;
};

bool is_inside(const std::vector<Wall>& walls, Vec2 point) {
  return std::all_of(walls.begin(), walls.end(), [&](const Wall& wall) {
    return wall.plane.distance({point.x, point.y, 0}) <= 1e-6;
  });
}

// The convex polygon that upright walls bound, by trying every two; walls that do not touch it are
// left out.
Outline outline_of(const std::vector<Wall>& walls) {
  struct Side {
    double turn = 0;
    Vec2 from = {};
    int cylinder = -1;
  };
  std::vector<Side> sides;
  for (const Wall& wall : walls) {
    const Vec3 n = wall.plane.normal;
    const Vec2 along = {-n.y, n.x}, foot = {n.x * wall.plane.offset, n.y * wall.plane.offset};
    double from = 1e9, to = -1e9;
    for (const Wall& other : walls) {
      const double across = dot(along, Vec2{other.plane.normal.x, other.plane.normal.y});
      if (std::abs(across) < 1e-12) continue;
      const double t = -other.plane.distance({foot.x, foot.y, 0}) / across;
      if (!is_inside(walls, foot + along * t)) continue;
      from = std::min(from, t);
      to = std::max(to, t);
    }
    if (to - from > 1e-6)
      sides.push_back({std::atan2(n.y, n.x), foot + along * from, wall.cylinder});
  }
  std::stable_sort(sides.begin(), sides.end(),
                   [](const Side& a, const Side& b) { return a.turn < b.turn; });
  Outline outline;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    // Two walls in one plane give one side.
    const Side& before = sides[(i + sides.size() - 1) % sides.size()];
    if (norm(sides[i].from - before.from) < 1e-6) continue;
    outline.points.push_back(sides[i].from);
    outline.cylinders.push_back(sides[i].cylinder);
  }
  return outline;
}

TopoDS_Shape hole_of(const Recipe& recipe, const Feature& hole) {
  const double reach =
      2 * (recipe.to_x - recipe.from_x + recipe.half_width + recipe.half_thickness) + 10;
  const double depth = std::min(hole.depth, reach);
  const gp_Ax2 axis(to_point(hole.mouth - hole.direction * reach), to_dir(hole.direction));
  return BRepPrimAPI_MakeCylinder(axis, hole.diameter / 2, reach + depth).Shape();
}

TopoDS_Shape hollow_of(const Recipe& recipe, const Cutter& cutter) {
  std::vector<Wall> walls;
  for (std::size_t i = 0; i < cutter.planes.size(); ++i)
    walls.push_back({cutter.planes[i], cutter.cylinders.empty() ? -1 : cutter.cylinders[i]});
  const double top = recipe.half_thickness + beyond;
  return prism_over(outline_of(walls), recipe.cylinders, false, -top, top);
}

TopoDS_Shape tool_of(const Recipe& recipe, const Cutter& cutter) {
  const Feature& feature = recipe.features[static_cast<std::size_t>(cutter.feature)];
  if (is_bored(feature)) return hole_of(recipe, feature);
  const bool is_curved = std::any_of(cutter.cylinders.begin(), cutter.cylinders.end(),
                                     [](int cylinder) { return cylinder >= 0; });
  if (is_curved) return hollow_of(recipe, cutter);
  std::vector<Plane> planes = box_of(recipe, beyond);
  planes.insert(planes.end(), cutter.planes.begin(), cutter.planes.end());
  return polyhedron_of(planes);
}

// The stick with all its trims, when none of them is a rounding.
TopoDS_Shape flat_stick(const Recipe& recipe) {
  std::vector<Plane> planes = box_of(recipe, 0);
  for (const Recipe::Trim& trim : recipe.trims) planes.push_back(trim.plane);
  return polyhedron_of(planes);
}

// The stick with its upright trims; the others are put among the tools.
TopoDS_Shape rounded_stick(const Recipe& recipe, TopTools_ListOfShape& tools) {
  std::vector<Wall> walls;
  for (const Plane& plane : box_of(recipe, 0))
    if (is_upright(plane)) walls.push_back({plane, -1});
  for (const Recipe::Trim& trim : recipe.trims) {
    if (is_upright(trim.plane)) {
      walls.push_back({trim.plane, trim.cylinder});
      continue;
    }
    std::vector<Plane> planes = box_of(recipe, beyond);
    planes.push_back(flipped(trim.plane));
    const TopoDS_Solid tool = polyhedron_of(planes);
    if (!tool.IsNull()) tools.Append(tool);
  }
  return prism_over(outline_of(walls), recipe.cylinders, true, -recipe.half_thickness,
                    recipe.half_thickness);
}

TopoDS_Shape cut(const TopoDS_Shape& stick, const TopTools_ListOfShape& tools) {
  TopTools_ListOfShape sticks;
  sticks.Append(stick);
  BRepAlgoAPI_Cut operation;
  operation.SetArguments(sticks);
  operation.SetTools(tools);
  operation.Build();
  if (operation.HasErrors()) throw Standard_Failure("the cut could not be made");
  return operation.Shape();
}

}  // namespace

TopoDS_Shape true_solid_of(const Recipe& recipe) {
  const bool is_rounded = std::any_of(recipe.trims.begin(), recipe.trims.end(),
                                      [](const Recipe::Trim& trim) { return trim.cylinder >= 0; });
  TopTools_ListOfShape tools;
  const TopoDS_Shape stick = is_rounded ? rounded_stick(recipe, tools) : flat_stick(recipe);
  for (const Cutter& cutter : recipe.cutters) {
    const TopoDS_Shape tool = tool_of(recipe, cutter);
    if (!tool.IsNull()) tools.Append(tool);
  }
  return stick.IsNull() || tools.IsEmpty() ? stick : cut(stick, tools);
}

}  // namespace kw::kernel
