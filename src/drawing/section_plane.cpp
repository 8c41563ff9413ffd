#include "section_plane.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kw {
namespace {

constexpr double clear = 0.25;        // mm between the plane and a face along it
constexpr double along_depth = 0.5;   // |plane normal . depth| above this cuts a joint across
constexpr double least_depth = 0.05;  // |sum of normals| / area below this: the joint goes through
constexpr int least_walls = 5;        // of the six ways out of a hollow

struct Reach {
  double low = 1e300, high = -1e300;
  void add(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
};

bool is_inside(FeatureKind kind) {
  switch (kind) {
    case FeatureKind::housing:
    case FeatureKind::rabbet:
    case FeatureKind::groove:
    case FeatureKind::bridle:
    case FeatureKind::mortise:
    case FeatureKind::dowel_hole:
      return true;
    default:
      return false;
  }
}

// What one joint takes out of one board.
struct Socket {
  std::array<Reach, 3> reach = {};
  Vec3 normals = {};  // sum of normals by area: towards the mouth
  double area = 0;
};

Vec3 area_vector(const std::vector<Vec3>& loop) {
  Vec3 sum;
  for (std::size_t i = 0; i < loop.size(); ++i)
    sum += cross(loop[i], loop[(i + 1) % loop.size()]) * 0.5;
  return sum;
}

void add_sockets(const Body& body, std::vector<Socket>& sockets) {
  const Shape& shape = *body.shape;
  for (std::size_t f = 0; f < shape.features.size(); ++f) {
    if (!is_inside(shape.features[f].kind)) continue;
    Socket socket;
    for (const Face& face : shape.faces) {
      if (face.feature != static_cast<int>(f)) continue;
      for (const auto& loop : face.loops) {
        const Vec3 area = body.frame.direction_to_world(area_vector(loop));
        socket.normals += area;
        socket.area += norm(area);
        for (const Vec3& corner : loop) {
          const Vec3 p = body.frame.to_world(corner);
          for (int axis = 0; axis < 3; ++axis)
            socket.reach[static_cast<std::size_t>(axis)].add(coordinate(p, axis));
        }
      }
    }
    if (socket.area > 0) sockets.push_back(socket);
  }
}

std::array<Reach, 3> reach_of(const std::vector<Body>& bodies) {
  std::array<Reach, 3> all;
  for (const Body& body : bodies) {
    for (const Face& face : body.shape->faces) {
      for (const Vec3& corner : face.loops.front()) {
        const Vec3 p = body.frame.to_world(corner);
        for (int axis = 0; axis < 3; ++axis)
          all[static_cast<std::size_t>(axis)].add(coordinate(p, axis));
      }
    }
  }
  return all;
}

// How many faces of any body a ray along +-axis from p meets: even-odd in the plane across the
// axis.
int faces_met(const std::vector<Body>& bodies, Vec3 p, int axis, double way) {
  const int u = (axis + 1) % 3, v = (axis + 2) % 3;
  int met = 0;
  for (const Body& body : bodies) {
    for (const Face& face : body.shape->faces) {
      const Plane plane = body.frame.to_world(face.plane);
      const double slope = coordinate(plane.normal, axis) * way;
      if (std::abs(slope) < 1e-9 || -plane.distance(p) / slope <= 0) continue;
      const double t = -plane.distance(p) / slope * way;
      Vec3 hit = p;
      coordinate(hit, axis) += t;
      bool is_in = false;
      for (const auto& loop : face.loops) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
          const Vec3 a = body.frame.to_world(loop[i]) - hit;
          const Vec3 b = body.frame.to_world(loop[(i + 1) % loop.size()]) - hit;
          if ((coordinate(a, v) <= 0) == (coordinate(b, v) <= 0)) continue;
          const double k = coordinate(a, v) / (coordinate(a, v) - coordinate(b, v));
          if (coordinate(a, u) + (coordinate(b, u) - coordinate(a, u)) * k > 0) is_in = !is_in;
        }
      }
      met += is_in ? 1 : 0;
    }
  }
  return met;
}

bool is_hollow(const std::vector<Body>& bodies, Vec3 middle) {
  int walls = 0;
  for (int axis = 0; axis < 3; ++axis) {
    for (const double way : {-1.0, 1.0}) {
      const int met = faces_met(bodies, middle, axis, way);
      if (met % 2 != 0) return false;  // the middle is wood
      walls += met > 0 ? 1 : 0;
    }
  }
  return walls >= least_walls;
}

// The nearest place to `wanted` where no face lies along the plane.
double cleared(const std::vector<Body>& bodies, int axis, double wanted) {
  const auto is_clear = [&](double at) {
    return std::none_of(bodies.begin(), bodies.end(), [&](const Body& body) {
      return std::any_of(body.shape->faces.begin(), body.shape->faces.end(), [&](const Face& f) {
        const Vec3 n = body.frame.direction_to_world(f.plane.normal);
        return std::abs(coordinate(n, axis)) > 0.999 &&
               std::abs(coordinate(body.frame.to_world(f.loops.front().front()), axis) - at) <
                   clear;
      });
    });
  };
  for (int i = 0; i < 40; ++i) {
    const double at = wanted + (i % 2 == 0 ? -1 : 1) * ((i + 1) / 2) * clear;
    if (is_clear(at)) return at;
  }
  return wanted;
}

bool shows(const Socket& socket, int axis, double at) {
  const Reach& reach = socket.reach[static_cast<std::size_t>(axis)];
  if (at <= reach.low + clear || at >= reach.high - clear) return false;
  const double depth = norm(socket.normals);
  return depth < least_depth * socket.area ||
         std::abs(coordinate(socket.normals, axis)) < along_depth * depth;
}

int shown_by(const std::vector<Socket>& sockets, int axis, double at) {
  return static_cast<int>(std::count_if(sockets.begin(), sockets.end(),
                                        [&](const Socket& h) { return shows(h, axis, at); }));
}

}  // namespace

std::optional<CutPlane> cut_plane_of(const std::vector<Body>& bodies) {
  if (bodies.empty()) return std::nullopt;
  std::vector<Socket> sockets;
  for (const Body& body : bodies) add_sockets(body, sockets);
  const auto all = reach_of(bodies);
  const auto middle_of = [](const Reach& r) { return (r.low + r.high) / 2; };
  const Vec3 middle = {middle_of(all[0]), middle_of(all[1]), middle_of(all[2])};
  const std::array looks = {side_look(), front_look(), top_look()};
  std::optional<CutPlane> best;
  for (int axis = 0; axis < 3; ++axis) {
    const auto a = static_cast<std::size_t>(axis);
    std::vector<double> places = {coordinate(middle, axis)};
    for (const Socket& socket : sockets) places.push_back(middle_of(socket.reach[a]));
    for (const double wanted : places) {
      const double at = cleared(bodies, axis, wanted);
      const int joints = shown_by(sockets, axis, at);
      if (best ? joints <= best->joints : joints == 0) continue;
      Vec3 through = middle;
      coordinate(through, axis) = at;
      best = CutPlane{looks[a], through, joints};
    }
  }
  if (best || !is_hollow(bodies, middle)) return best;
  return CutPlane{side_look(), {cleared(bodies, 0, middle.x), middle.y, middle.z}, 0};
}

}  // namespace kw
