#include <algorithm>

#include "cache.h"
#include "convex_parts.h"
#include "planar/same_planes.h"
#include "planar/solid_sum.h"

namespace kw {
namespace {

constexpr std::size_t most_clashes = 2'000;
constexpr int most_splits = 20'000;             // of one pair
constexpr std::size_t most_steps = 10'000'000;  // of one pair, as for a shape

// From the frame of b to the frame of a.
class Mover {
 public:
  Mover(const Frame& a, const Frame& b) : a_(a), b_(b) {}
  [[nodiscard]] Vec3 moved(Vec3 p) const { return a_.to_local(b_.to_world(p)); }
  [[nodiscard]] PlaneSet moved(PlaneSet planes) const {
    for (Plane& plane : planes) plane = a_.to_local(b_.to_world(plane));
    return planes;
  }

 private:
  const Frame& a_;
  const Frame& b_;
};

PlaneSet sides_of(const Convex& solid) {
  PlaneSet sides;
  for (const Convex::Side& side : solid.sides) sides.push_back(side.plane);
  return sides;
}

// Whether all points lie beyond one of the sides.
bool is_beyond_one(const PlaneSet& sides, const std::vector<Vec3>& points) {
  return std::any_of(sides.begin(), sides.end(), [&](const Plane& plane) {
    return std::all_of(points.begin(), points.end(),
                       [&](const Vec3& p) { return plane.distance(p) >= 0; });
  });
}

// The convex part that both sticks fill and the cutters that reach it, in the frame of a.
struct Common {
  Convex stick = {};
  std::vector<PlaneSet> cutters = {};
};

void cut_common(Common& common, const PlaneSet& sides) {
  Knife knife;
  for (const Plane& plane : sides) knife.cut(common.stick, plane, 0);
}

bool reaches(const PlaneSet& cutter, const Convex& solid) {
  return std::all_of(cutter.begin(), cutter.end(), [&](const Plane& plane) {
    return std::any_of(solid.points.begin(), solid.points.end(),
                       [&](const Vec3& p) { return plane.distance(p) < -on_plane; });
  });
}

// `wider`: mm by which cutters are larger all round.
std::vector<PlaneSet> cutters_of(const ConvexParts& a, const ConvexParts& b, const Mover& to_a,
                                 double wider) {
  std::vector<PlaneSet> cutters = a.cutters;
  for (const PlaneSet& cutter : b.cutters) cutters.push_back(to_a.moved(cutter));
  for (PlaneSet& cutter : cutters) {
    for (Plane& plane : cutter) plane.offset += wider;
  }
  return cutters;
}

// Whether cutters leave anything of a convex piece. Splits the piece by a cutter's planes; what
// lies before a plane is out of that cutter's reach and has only the next cutters to pass.
class Survival {
 public:
  explicit Survival(const std::vector<PlaneSet>& cutters) : cutters_(cutters) {}

  bool is_left(Convex piece, std::size_t next) {
    while (next < cutters_.size() && !reaches(cutters_[next], piece)) ++next;
    if (next == cutters_.size()) return true;
    for (const Plane& plane : cutters_[next]) {
      if (++splits_ > most_splits) return true;
      Convex beyond = piece;
      const Cut cut = knife_.cut(beyond, {-plane.normal, -plane.offset}, 0);
      if (cut != Cut::gone && is_left(std::move(beyond), next + 1)) return true;
      if (knife_.cut(piece, plane, 0) == Cut::gone) return false;
    }
    return false;
  }

 private:
  const std::vector<PlaneSet>& cutters_;
  Knife knife_ = {};
  int splits_ = 0;
};

// Whether a ball as wide as thinnest_clash finds room in the common wood: both sticks are taken
// smaller, and the cutters larger, by half of that.
bool is_thick(const ConvexParts& a, const ConvexParts& b, const Mover& to_a) {
  if (a.core.is_empty() || b.core.is_empty()) return false;
  const PlaneSet sides = to_a.moved(sides_of(b.core));
  std::vector<Vec3> points;
  for (const Vec3& p : b.core.points) points.push_back(to_a.moved(p));
  if (is_beyond_one(sides_of(a.core), points) || is_beyond_one(sides, a.core.points)) return false;
  Common common{.stick = a.core};
  cut_common(common, sides);
  if (common.stick.is_empty()) return false;
  common.cutters = cutters_of(a, b, to_a, thinnest_clash / 2);
  return Survival(common.cutters).is_left(std::move(common.stick), 0);
}

// The common wood with planes that nearly coincide, as the faces of joined boards do, made one.
Common common_of(const ConvexParts& a, const ConvexParts& b, const Mover& to_a) {
  Common common{a.stick, cutters_of(a, b, to_a, 0)};
  PlaneSet sides = to_a.moved(sides_of(b.stick));
  std::vector<Plane*> planes;
  for (Convex::Side& side : common.stick.sides) planes.push_back(&side.plane);
  for (Plane& plane : sides) planes.push_back(&plane);
  for (PlaneSet& cutter : common.cutters) {
    for (Plane& plane : cutter) planes.push_back(&plane);
  }
  unite(planes, box_around(common.stick.points));
  cut_common(common, sides);
  std::erase_if(common.cutters, [&](const PlaneSet& c) { return !reaches(c, common.stick); });
  return common;
}

void find_clash(const Body& a, const Body& b, Clash clash, std::vector<Clash>& found) {
  const ConvexParts& in_a = *a.shape->convex;
  const ConvexParts& in_b = *b.shape->convex;
  const Mover to_a(a.frame, b.frame);
  if (!is_thick(in_a, in_b, to_a)) return;
  const Common common = common_of(in_a, in_b, to_a);
  if (common.stick.is_empty()) return;
  const auto faces = carve(common.stick, common.cutters, most_steps);
  SolidSum sum(common.stick.points[0]);
  Box box;
  const auto take_in = [&](const Loop& loop) {
    sum.add(loop);
    for (const Vec3& p : loop) box.take_in(a.frame.to_world(p));
  };
  if (faces) {
    for (const CarvedFace& face : *faces)
      std::for_each(face.loops.begin(), face.loops.end(), take_in);
  } else {
    for (const Convex::Side& side : common.stick.sides) take_in(loop_of(common.stick, side));
  }
  if (sum.volume() <= 0) return;
  clash.volume = {sum.volume()};
  clash.low = box.low;
  clash.high = box.high;
  found.push_back(clash);
}

}  // namespace

std::vector<Clash> clashes_in(const std::vector<Body>& bodies, ShapeCache& cache) {
  const auto look = [&](int a, int b, std::vector<Clash>& found) {
    find_clash(bodies[static_cast<std::size_t>(a)], bodies[static_cast<std::size_t>(b)],
               {.a = a, .b = b}, found);
  };
  return find_between(bodies, 0, most_clashes, cache.store().clashes, look);
}

std::vector<Clash> clashes_in(const std::vector<Body>& bodies) {
  ShapeCache cache;
  return clashes_in(bodies, cache);
}

}  // namespace kw
