#include "kernel/polyhedron.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Shell.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Pln.hxx>
#include <map>
#include <optional>
#include <utility>

#include "kernel/convert.h"

namespace kw::kernel {
namespace {

constexpr double on_plane = 1e-7;    // mm
constexpr double same_point = 1e-6;  // mm

// Cramer's rule; nothing when two of the planes are all but parallel.
std::optional<Vec3> meeting_of(const Plane& a, const Plane& b, const Plane& c) {
  const Vec3 bc = cross(b.normal, c.normal);
  const double determinant = dot(a.normal, bc);
  if (std::abs(determinant) < 1e-9) return std::nullopt;
  const Vec3 sum =
      a.offset * bc + b.offset * cross(c.normal, a.normal) + c.offset * cross(a.normal, b.normal);
  return sum * (1.0 / determinant);
}

bool is_within(const std::vector<Plane>& planes, Vec3 point) {
  return std::all_of(planes.begin(), planes.end(),
                     [&](const Plane& plane) { return plane.distance(point) <= on_plane; });
}

void add_corner(std::vector<Vec3>& corners, Vec3 point) {
  const bool is_known = std::any_of(corners.begin(), corners.end(),
                                    [&](Vec3 other) { return norm(other - point) < same_point; });
  if (!is_known) corners.push_back(point);
}

std::vector<Vec3> corners_of(const std::vector<Plane>& planes) {
  std::vector<Vec3> corners;
  for (std::size_t i = 0; i < planes.size(); ++i)
    for (std::size_t j = i + 1; j < planes.size(); ++j)
      for (std::size_t k = j + 1; k < planes.size(); ++k) {
        const auto point = meeting_of(planes[i], planes[j], planes[k]);
        if (point && is_within(planes, *point)) add_corner(corners, *point);
      }
  return corners;
}

// The corners on a plane, counter-clockwise about its normal; fewer than three when it has no face.
std::vector<std::size_t> ring_on(const Plane& plane, const std::vector<Vec3>& corners) {
  std::vector<std::size_t> ring;
  Vec3 middle = {};
  for (std::size_t i = 0; i < corners.size(); ++i)
    if (std::abs(plane.distance(corners[i])) < same_point) {
      ring.push_back(i);
      middle += corners[i];
    }
  if (ring.size() < 3) return {};
  middle = middle * (1.0 / static_cast<double>(ring.size()));
  const Vec3 u = unit(corners[ring.front()] - middle);
  const Vec3 v = cross(plane.normal, u);
  const auto turn = [&](std::size_t i) {
    return std::atan2(dot(corners[i] - middle, v), dot(corners[i] - middle, u));
  };
  std::sort(ring.begin(), ring.end(),
            [&](std::size_t a, std::size_t b) { return turn(a) < turn(b); });
  return ring;
}

// Edges shared between the faces of one solid.
class Edges {
 public:
  explicit Edges(const std::vector<Vec3>& corners) {
    for (const Vec3& corner : corners)
      vertices_.push_back(BRepBuilderAPI_MakeVertex(to_point(corner)));
  }
  TopoDS_Edge between(std::size_t from, std::size_t to) {
    const auto key = std::minmax(from, to);
    auto found = edges_.find(key);
    if (found == edges_.end()) {
      BRepBuilderAPI_MakeEdge made(vertices_[key.first], vertices_[key.second]);
      found = edges_.emplace(key, made.Edge()).first;
    }
    return from < to ? found->second : TopoDS::Edge(found->second.Reversed());
  }

 private:
  std::vector<TopoDS_Vertex> vertices_ = {};
  std::map<std::pair<std::size_t, std::size_t>, TopoDS_Edge> edges_ = {};
};

TopoDS_Face face_on(const Plane& plane, const std::vector<std::size_t>& ring, Edges& edges) {
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < ring.size(); ++i)
    wire.Add(edges.between(ring[i], ring[(i + 1) % ring.size()]));
  return BRepBuilderAPI_MakeFace(to_pln(plane), wire.Wire(), true).Face();
}

}  // namespace

TopoDS_Solid polyhedron_of(const std::vector<Plane>& planes) {
  const std::vector<Vec3> corners = corners_of(planes);
  Edges edges(corners);
  TopoDS_Shell shell;
  BRep_Builder builder;
  builder.MakeShell(shell);
  std::vector<std::vector<std::size_t>> known;  // two planes in one place give one face
  for (const Plane& plane : planes) {
    const auto ring = ring_on(plane, corners);
    auto key = ring;
    std::sort(key.begin(), key.end());
    if (ring.empty() || std::find(known.begin(), known.end(), key) != known.end()) continue;
    known.push_back(key);
    builder.Add(shell, face_on(plane, ring, edges));
  }
  if (known.size() < 4) return {};
  shell.Closed(true);
  TopoDS_Solid solid;
  builder.MakeSolid(solid);
  builder.Add(solid, shell);
  return solid;
}

}  // namespace kw::kernel
