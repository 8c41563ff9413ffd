#include <map>

#include "kerfwright/solid/body.h"

#include "planar/edges.h"
#include "planar/islands.h"
#include "planar/net.h"
#include "planar/triangulate.h"

namespace kw {
namespace {

void fill(Mesh& mesh, const Net& net, const std::vector<Face>& faces) {
  std::vector<FlatRing> rings;
  for (const auto& island : islands_in(net, faces)) {
    const int face = net.rings[static_cast<std::size_t>(island[0])].face;
    const Vec3 normal = faces[static_cast<std::size_t>(face)].plane.normal;
    const FlatView view(normal, {});
    rings.clear();
    for (const int r : island) {
      FlatRing ring;
      for (const std::uint32_t p : net.rings[static_cast<std::size_t>(r)].points) {
        ring.push_back({view.flat(net.points[p]), p});
      }
      rings.push_back(std::move(ring));
    }
    for (const auto& triangle : triangulate(rings)) {
      mesh.triangles.push_back(triangle);
      mesh.face_of.push_back(face);
    }
  }
}

// Whether a line is to be drawn where two faces meet.
bool is_drawn(const Face& a, const Face& b) {
  if (a.cylinder >= 0 && a.cylinder == b.cylinder) return false;
  return dot(a.plane.normal, b.plane.normal) < 1 - 1e-9;  // nearer to flat than 0.003 degrees
}

void add_edges(Mesh& mesh, const Net& net, const std::vector<Face>& faces) {
  const EdgeTable edges(net);
  const auto face_of_ring = [&](int ring) -> const Face& {
    return faces[static_cast<std::size_t>(net.rings[static_cast<std::size_t>(ring)].face)];
  };
  for (const NetEdge& e : edges.all()) {
    const auto back = edges.use_of(e.to, e.from);
    const auto forth = edges.use_of(e.from, e.to);
    if (back.count > 0 && e.from > e.to) continue;  // told from its other end
    const bool is_plain = forth.count == 1 && back.count == 1;
    if (!is_plain && forth.ring != e.ring) continue;  // told once
    if (is_plain && !is_drawn(face_of_ring(e.ring), face_of_ring(back.ring))) continue;
    mesh.edges.push_back({e.from, e.to});
  }
}

}  // namespace

std::shared_ptr<const Mesh> mesh_of(const Shape& shape) {
  Net net = net_of(shape.faces);
  close_seams(net);
  auto mesh = std::make_shared<Mesh>();
  fill(*mesh, net, shape.faces);
  add_edges(*mesh, net, shape.faces);
  mesh->points = std::move(net.points);
  return mesh;
}

}  // namespace kw
