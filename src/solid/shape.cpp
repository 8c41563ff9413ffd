#include <algorithm>
#include <cmath>
#include <string>

#include "convex_parts.h"
#include "planar/box.h"
#include "planar/net.h"
#include "planar/same_planes.h"
#include "planar/solid_sum.h"
#include "recipe.h"

namespace kw {
namespace {

constexpr double furthest = 1e6;                // mm: 1 km, far past any board
constexpr std::size_t most_planes = 20'000;     // of all cutters of a board: some 500 holes
constexpr std::size_t most_of_cutter = 1'000;   // planes of one cutter
constexpr std::size_t most_steps = 10'000'000;  // about half a second
constexpr int trim_source = 6;         // sources of trims follow the six sides of the stick
constexpr double least_volume = 1e-3;  // mm^3

bool is_sound(double value) {
  return std::isfinite(value) && std::abs(value) <= furthest;
}

bool is_sound(const Plane& plane) {
  return is_sound(plane.offset) && std::abs(norm(plane.normal) - 1) < 1e-6;
}

bool is_sound(const Recipe& recipe) {
  bool answer = is_sound(recipe.from_x) && is_sound(recipe.to_x) && is_sound(recipe.half_width) &&
                is_sound(recipe.half_thickness);
  for (const Recipe::Trim& trim : recipe.trims) answer = answer && is_sound(trim.plane);
  for (const Cutter& cutter : recipe.cutters) {
    for (const Plane& plane : cutter.planes) answer = answer && is_sound(plane);
  }
  return answer;
}

bool is_within_limits(const Recipe& recipe) {
  std::size_t planes = 0;
  bool answer = recipe.trims.size() <= most_of_cutter;
  for (const Cutter& cutter : recipe.cutters) {
    answer = answer && cutter.planes.size() <= most_of_cutter;
    planes += cutter.planes.size();
  }
  return answer && planes <= most_planes;
}

// The stick and what is taken from it, planes that nearly coincide made one.
struct Plan {
  Convex stick = {};  // empty when nothing is left of it
  std::vector<PlaneSet> cutters = {};
};

Plan plan_of(const Recipe& recipe) {
  const Vec3 high = {recipe.to_x, recipe.half_width, recipe.half_thickness};
  const Box box = {{recipe.from_x, -high.y, -high.z}, high};
  const Vec3 size = box.high - box.low;
  if (std::min({size.x, size.y, size.z}) <= one_plane) return {};
  Plan plan{.stick = convex_box(box.low, box.high)};
  std::vector<Plane> trims;
  for (const Recipe::Trim& trim : recipe.trims) trims.push_back(trim.plane);
  for (const Cutter& cutter : recipe.cutters) plan.cutters.push_back(cutter.planes);
  std::vector<Plane*> planes;
  for (Convex::Side& side : plan.stick.sides) planes.push_back(&side.plane);
  for (Plane& plane : trims) planes.push_back(&plane);
  for (PlaneSet& cutter : plan.cutters) {
    for (Plane& plane : cutter) planes.push_back(&plane);
  }
  unite(planes, box);
  Knife knife;
  int source = trim_source;
  for (const Plane& plane : trims) knife.cut(plan.stick, plane, source++);
  return plan;
}

std::shared_ptr<const ConvexParts> parts_of(Plan plan) {
  auto parts = std::make_shared<ConvexParts>();
  parts->core = plan.stick;
  Knife knife;
  for (const Convex::Side& side : plan.stick.sides) {
    const Plane inner = {side.plane.normal, side.plane.offset - thinnest_clash / 2};
    knife.cut(parts->core, inner, side.source);
  }
  parts->stick = std::move(plan.stick);
  parts->cutters = std::move(plan.cutters);
  return parts;
}

Face face_of(const Recipe& recipe, CarvedFace&& carved) {
  Face face{.side = carved.side, .plane = carved.plane, .loops = std::move(carved.loops)};
  const auto side = static_cast<std::size_t>(carved.side);
  if (carved.cutter >= 0) {
    const Cutter& cutter = recipe.cutters[static_cast<std::size_t>(carved.cutter)];
    face.feature = cutter.feature;
    face.side = cutter.first_side + carved.side;
    if (side < cutter.cylinders.size()) face.cylinder = cutter.cylinders[side];
  } else if (carved.side >= trim_source) {
    const Recipe::Trim& trim = recipe.trims[side - trim_source];
    face.feature = trim.feature;
    face.side = trim.side;
    face.cylinder = trim.cylinder;
  }
  return face;
}

// Gives corners that fall together one place, leaves out loops and faces that vanish by it, and
// answers how many pieces of wood the faces bound.
int agree_on_corners(std::vector<Face>& faces) {
  Net net = net_of(faces);
  for (Face& face : faces) face.loops.clear();
  for (const Ring& ring : net.rings) {
    Loop loop;
    for (const std::uint32_t p : ring.points) loop.push_back(net.points[p]);
    faces[static_cast<std::size_t>(ring.face)].loops.push_back(std::move(loop));
  }
  close_seams(net);
  const int pieces = pieces_in(net, faces);
  std::erase_if(faces, [](const Face& face) { return face.loops.empty(); });
  return pieces;
}

// How much larger the curved strip is than the flat facet that stands for it: the arc over the
// chord, where rays from the cylinder's axis through the facet's long edges meet the circle.
double bulge_of(const Face& face, const Cylinder& cylinder) {
  const Vec3 across = unit(cross(cylinder.axis, face.plane.normal));
  const double away = std::abs(face.plane.distance(cylinder.point));
  double low = Box::none, high = -Box::none;
  for (const auto& loop : face.loops) {
    for (const Vec3& p : loop) {
      const double s = dot(p - cylinder.point, across);
      low = std::min(low, s);
      high = std::max(high, s);
    }
  }
  if (high - low <= on_plane || away <= on_plane) return 1;
  return cylinder.radius * (std::atan(high / away) - std::atan(low / away)) / (high - low);
}

void measure(Shape& shape) {
  Box box;
  for (const Face& face : shape.faces) {
    for (const auto& loop : face.loops) {
      for (const Vec3& p : loop) box.take_in(p);
    }
  }
  SolidSum sum((box.low + box.high) * 0.5);
  for (const Face& face : shape.faces) {
    double area = 0;
    for (const auto& loop : face.loops) {
      sum.add(loop);
      area += dot(area_vector_of(loop), face.plane.normal);
    }
    const auto cylinder = static_cast<std::size_t>(face.cylinder);
    const bool is_curved = face.cylinder >= 0 && cylinder < shape.cylinders.size();
    shape.area.value += is_curved ? area * bulge_of(face, shape.cylinders[cylinder]) : area;
  }
  shape.volume.value = sum.volume();
  shape.centroid = sum.centre();
  shape.low = box.low;
  shape.high = box.high;
}

Diagnostic fault(std::string_view code, std::string message, std::string hint) {
  return {.code = code, .message = std::move(message), .hint = std::move(hint)};
}

Diagnostic nothing_left() {
  return fault("solid.nothing-left", "its cuts take away all of its wood",
               "look for a cut or joint that faces the wrong way or goes deeper than the board");
}

Diagnostic too_many_faces() {
  return fault("solid.too-many-faces", "it has more cuts than can be worked out",
               "at most about 500 holes a board, and fewer where cuts run through one another");
}

Diagnostic in_pieces(int pieces) {
  Diagnostic warning =
      fault("solid.in-pieces", "its cuts part it into " + std::to_string(pieces) + " pieces",
            "make the cut shallower, or make each piece a board of its own");
  warning.severity = Severity::warning;
  return warning;
}

}  // namespace

Outcome<Shape> shape_of(const Recipe& recipe) {
  if (!is_sound(recipe)) {
    return fault(
        "solid.out-of-range", "a size or plane of it is no number, or lies past 1 km",
        "look for a formula that divides by nearly nothing or by the tangent of 0 or 90 degrees");
  }
  if (!is_within_limits(recipe)) return too_many_faces();
  Plan plan = plan_of(recipe);
  if (plan.stick.is_empty()) return nothing_left();
  auto carved = carve(plan.stick, plan.cutters, most_steps);
  if (!carved) return too_many_faces();
  Shape shape{.features = recipe.features, .cylinders = recipe.cylinders};
  for (CarvedFace& face : *carved) shape.faces.push_back(face_of(recipe, std::move(face)));
  const int pieces = agree_on_corners(shape.faces);
  if (shape.faces.empty()) return nothing_left();
  measure(shape);
  if (!(shape.volume.value > least_volume)) return nothing_left();
  shape.convex = parts_of(std::move(plan));
  if (pieces > 1) return {std::move(shape), {in_pieces(pieces)}};
  return shape;
}

}  // namespace kw
