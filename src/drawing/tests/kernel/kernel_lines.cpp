#include "kernel_lines.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepGProp.hxx>
#include <BRepLib.hxx>
#include <BRepPrimAPI_MakeHalfSpace.hxx>
#include <BRep_Builder.hxx>
#include <GProp_GProps.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <gp_Ax2.hxx>
#include <map>
#include <sstream>

#include "kernel/kernel.h"
#include "kernel/place.h"
#include "kernel/true_solid.h"
#include "lines.h"
#include "recipe.h"

namespace kw::test {
namespace {

// Faces in one plane that meet are one face, as in the core. The kernel's solids have seams there,
// which it draws; where it takes them away it takes edges of tenons with them. So ours must have
// all lines of the unified solids, and none that the solids as they are have not.
TopoDS_Shape unified(const TopoDS_Shape& shape) {
  ShapeUpgrade_UnifySameDomain unify(shape);
  unify.Build();
  return unify.Shape();
}

// Straight pieces of the kernel's lines of one kind, chords of curves no further than a degree.
void add_lines(const TopoDS_Shape& shape, Pen pen, std::vector<ViewLine>& lines) {
  if (shape.IsNull()) return;
  for (TopExp_Explorer at(shape, TopAbs_EDGE); at.More(); at.Next()) {
    const BRepAdaptor_Curve curve(TopoDS::Edge(at.Current()));
    const int steps = curve.GetType() == GeomAbs_Line ? 1 : 48;
    const double from = curve.FirstParameter();
    const double step = (curve.LastParameter() - from) / steps;
    for (int i = 0; i < steps; ++i) {
      const gp_Pnt a = curve.Value(from + step * i);
      const gp_Pnt b = curve.Value(from + step * (i + 1));
      lines.push_back({{a.X(), a.Y()}, {b.X(), b.Y()}, pen});
    }
  }
}

// What of a solid lies behind a plane.
TopoDS_Shape behind(const TopoDS_Shape& solid, const Plane& plane) {
  const gp_Pnt far = kernel::to_point(plane.normal * (plane.offset - 1));
  const TopoDS_Shape face = BRepBuilderAPI_MakeFace(kernel::to_pln(plane)).Shape();
  const TopoDS_Shape half = BRepPrimAPI_MakeHalfSpace(TopoDS::Face(face), far).Solid();
  return BRepAlgoAPI_Common(solid, half).Shape();
}

bool is_seen(const ViewLine& line) {
  return line.pen != Pen::hidden;
}

// Lines by the cells of 25 mm that they pass through.
class Index {
 public:
  explicit Index(const std::vector<ViewLine>& lines) {
    for (const ViewLine& line : lines) {
      const Vec2 d = line.to - line.from;
      const int pieces = 1 + static_cast<int>(norm(d));
      for (int i = 0; i <= pieces; ++i) {
        auto& cell = cells_[cell_of(line.from + d * (static_cast<double>(i) / pieces))];
        if (cell.empty() || cell.back() != &line) cell.push_back(&line);
      }
    }
  }
  // Whether a line seen (or hidden) passes within `near` mm.
  [[nodiscard]] bool has(Vec2 p, bool seen) const {
    for (const double dx : {-near, near}) {
      for (const double dy : {-near, near}) {
        const auto cell = cells_.find(cell_of(p + Vec2{dx, dy}));
        if (cell == cells_.end()) continue;
        for (const ViewLine* line : cell->second) {
          if (is_seen(*line) == seen && distance(*line, p) < near) return true;
        }
      }
    }
    return false;
  }

 private:
  static double distance(const ViewLine& line, Vec2 p) {
    const Vec2 d = line.to - line.from;
    const double t = std::clamp(dot(p - line.from, d) / dot(d, d), 0.0, 1.0);
    return norm(p - (line.from + d * t));
  }
  static std::pair<int, int> cell_of(Vec2 p) {
    return {static_cast<int>(std::floor(p.x / 25)), static_cast<int>(std::floor(p.y / 25))};
  }
  // Our curves are polygons of their circle's area, up to 0.1 mm off it.
  static constexpr double near = 0.12;
  std::map<std::pair<int, int>, std::vector<const ViewLine*>> cells_ = {};
};

// A hollow cylinder of a piece in a view: its axis, radius, and how far along the axis it reaches.
struct Wall {
  Vec2 point = {}, along = {};
  double radius = 0, from = 1e300, to = -1e300;
};

// Those that the plane, when there is one, does not cut open, nor any that lies before them.
std::vector<Wall> hollow_walls_of(const Resolved& piece, const Look& look,
                                  const std::optional<Plane>& cut) {
  std::vector<Wall> walls, open;
  for (const Body& body : bodies_of(piece).value) {
    for (std::size_t i = 0; i < body.shape->cylinders.size(); ++i) {
      const Cylinder& c = body.shape->cylinders[i];
      const Vec2 along = projected(look, body.frame.direction_to_world(c.axis));
      if (!c.is_hollow || norm(along) < 1e-6) continue;
      Wall wall{projected(look, body.frame.to_world(c.point)), along * (1 / norm(along)), c.radius};
      double nearest = 1e300;
      for (const Face& face : body.shape->faces) {
        if (face.cylinder != static_cast<int>(i)) continue;
        for (const Vec3& corner : face.loops.front()) {
          const Vec3 p = body.frame.to_world(corner);
          const double at = dot(wall.along, projected(look, p) - wall.point);
          wall.from = std::min(wall.from, at);
          wall.to = std::max(wall.to, at);
          if (cut) nearest = std::min(nearest, -cut->distance(p));
        }
      }
      (nearest > 0 ? walls : open).push_back(wall);
    }
  }
  std::erase_if(walls, [&](const Wall& wall) {
    return std::any_of(open.begin(), open.end(), [&](const Wall& other) {
      const Vec2 off = other.point - wall.point;
      const double a = dot(wall.along, off + other.along * other.from);
      const double b = dot(wall.along, off + other.along * other.to);
      return std::abs(cross(wall.along, off)) < other.radius && std::min(a, b) < wall.to &&
             std::max(a, b) > wall.from;
    });
  });
  return walls;
}

// Where a hollow's wall turns away from the eye, or the seam of the kernel's cylinder lies there. A
// hollow cylinder is convex, so the line of sight that grazes its wall runs in wood on both sides
// of the point that it touches: nothing of it can be seen. The kernel calls a few of these seen,
// within its tolerance; they are hidden.
bool is_grazed(const ViewLine& line, const std::vector<Wall>& walls) {
  constexpr double near = 0.02;
  return std::any_of(walls.begin(), walls.end(), [&](const Wall& wall) {
    const auto is_on = [&](Vec2 p) {
      const Vec2 off = p - wall.point;
      const double at = dot(wall.along, off);
      return std::abs(std::abs(cross(wall.along, off)) - wall.radius) < near &&
             at > wall.from - near && at < wall.to + near;
    };
    return is_on(line.from) && is_on(line.to);
  });
}

}  // namespace

std::vector<std::string> starters() {
  std::vector<std::string> names;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(KW_SOURCE_DIR) / "starters"))
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  std::sort(names.begin(), names.end());
  return names;
}

Resolved piece_of(const std::string& name) {
  std::ostringstream content;
  content << std::ifstream(std::string(KW_SOURCE_DIR) + "/starters/" + name + ".toml").rdbuf();
  return resolve(read_piece({name, content.str()}).value, built_in_catalogue()).value;
}

std::vector<ViewLine> lines_of_kernel(const Resolved& piece, const Look& look, bool is_unified,
                                      const std::optional<Plane>& cut) {
  TopoDS_Compound all;
  BRep_Builder builder;
  builder.MakeCompound(all);
  Diagnostics told;
  const auto recipes = recipes_of(piece, told);
  Handle(HLRBRep_Algo) algo = new HLRBRep_Algo();
  for (std::size_t i = 0; i < recipes.size(); ++i) {
    const TopoDS_Shape solid = kernel::true_solid_of(recipes[i]);
    const TopoDS_Shape there =
        kernel::placed(is_unified ? unified(solid) : solid, piece.boards[i].frame);
    builder.Add(all, cut ? behind(there, *cut) : there);
  }
  algo->Add(all);
  const Vec3 right = cross(look.up, look.towards);
  algo->Projector(HLRAlgo_Projector(
      gp_Ax2(gp_Pnt(0, 0, 0), kernel::to_dir(unit(look.towards)), kernel::to_dir(unit(right)))));
  algo->Update();
  algo->Hide();
  HLRBRep_HLRToShape shapes(algo);
  std::vector<ViewLine> lines;
  for (TopoDS_Shape shape : {shapes.VCompound(), shapes.OutLineVCompound()}) {
    if (!shape.IsNull()) BRepLib::BuildCurves3d(shape);
    add_lines(shape, Pen::edge, lines);
  }
  const auto walls = hollow_walls_of(piece, look, cut);
  for (ViewLine& line : lines) {
    if (is_grazed(line, walls)) line.pen = Pen::hidden;
  }
  for (TopoDS_Shape shape : {shapes.HCompound(), shapes.OutLineHCompound()}) {
    if (!shape.IsNull()) BRepLib::BuildCurves3d(shape);
    add_lines(shape, Pen::hidden, lines);
  }
  return without_shadowed(merged(lines));
}

std::vector<double> cut_areas_of_kernel(const Resolved& piece, const Plane& cut) {
  constexpr double far = 1e5;
  Diagnostics told;
  const auto recipes = recipes_of(piece, told);
  const TopoDS_Shape sheet =
      BRepBuilderAPI_MakeFace(kernel::to_pln(cut), -far, far, -far, far).Shape();
  std::vector<double> areas;
  for (std::size_t i = 0; i < recipes.size(); ++i) {
    const TopoDS_Shape there =
        kernel::placed(kernel::true_solid_of(recipes[i]), piece.boards[i].frame);
    GProp_GProps props;
    BRepGProp::SurfaceProperties(BRepAlgoAPI_Common(there, sheet).Shape(), props);
    areas.push_back(std::abs(props.Mass()));
  }
  return areas;
}

Scene scene_of(const Resolved& piece) {
  Scene scene{.bodies = bodies_of(piece).value};
  scene.meshes = meshes_of(scene.bodies);
  for (std::size_t i = 0; i < scene.bodies.size(); ++i)
    scene.shown.push_back(
        {scene.bodies[i].shape.get(), scene.meshes[i].get(), scene.bodies[i].frame});
  return scene;
}

std::vector<ViewLine> without_weights(std::vector<ViewLine> lines) {
  for (ViewLine& line : lines) {
    if (line.pen == Pen::outline) line.pen = Pen::edge;
  }
  return without_shadowed(merged(lines));
}

double length_of(const std::vector<ViewLine>& lines, Pen pen) {
  double sum = 0;
  for (const ViewLine& line : lines) sum += line.pen == pen ? norm(line.to - line.from) : 0;
  return sum;
}

double alone(const std::vector<ViewLine>& lines, const std::vector<ViewLine>& others, bool seen) {
  const Index own(lines);
  const Index other(others);
  double sum = 0;
  for (const ViewLine& line : lines) {
    if (is_seen(line) != seen) continue;
    const Vec2 d = line.to - line.from;
    const int steps = 1 + static_cast<int>(norm(d) / 0.7);
    for (int i = 0; i < steps; ++i) {
      const Vec2 p = line.from + d * ((i + 0.5) / steps);
      const bool is_told = other.has(p, seen) || (!seen && own.has(p, true));
      sum += is_told ? 0 : norm(d) / steps;
    }
  }
  return sum;
}

}  // namespace kw::test
