#include "carve.h"

#include "box.h"
#include "region.h"

namespace kw {
namespace {

constexpr int wall_source =
    1'000'000;  // sources of a cutter's planes stand above the stick's sides

// What a cutter takes out of the stick: a convex solid, whose sides are walls or parts of the
// stick's own.
struct Bite {
  int cutter = 0;
  Convex solid = {};
  Box box = {};
};

std::vector<Bite> bites_of(const Convex& stick, const std::vector<PlaneSet>& cutters) {
  Knife knife;
  std::vector<Bite> bites;
  for (std::size_t c = 0; c < cutters.size(); ++c) {
    Bite bite{.cutter = static_cast<int>(c), .solid = stick};
    int source = wall_source;
    for (const Plane& plane : cutters[c]) {
      if (knife.cut(bite.solid, plane, source++) == Cut::gone) break;
    }
    if (bite.solid.is_empty()) continue;
    bite.box = box_around(bite.solid.points);
    bites.push_back(std::move(bite));
  }
  return bites;
}

// The stick's own faces, less where each bite reaches them. `numbered` is the stick with its sides
// counted.
void keep_stick(const Convex& stick, const Convex& numbered, const std::vector<Bite>& bites,
                std::vector<CarvedFace>& faces) {
  for (std::size_t s = 0; s < stick.sides.size(); ++s) {
    const Convex::Side& side = stick.sides[s];
    std::vector<Loop> cutouts;
    for (const Bite& bite : bites) {
      for (const Convex::Side& of_bite : bite.solid.sides) {
        if (of_bite.source == numbered.sides[s].source)
          cutouts.push_back(loop_of(bite.solid, of_bite));
      }
    }
    auto loops = subtract(loop_of(stick, side), std::move(cutouts), side.plane.normal);
    if (!loops.empty()) faces.push_back({-1, side.source, side.plane, std::move(loops)});
  }
}

// The part of a wall (its normal out of the hollow) beside which `other` takes the wood. A plane of
// `other` that lies in the wall: either its hollow is on the wood's side, and takes the wood, or on
// the hollow's, and then it is the same wall once more, which only the first of the two keeps.
bool takes_of(Loop& wall, Vec3 normal, const PlaneSet& other, bool is_first, ClipMemory& memory) {
  for (const Plane& plane : other) {
    const Cut cut = clip(wall, plane, memory);
    if (cut == Cut::gone) return false;
    if (cut == Cut::flush && dot(plane.normal, normal) > 0 && !is_first) return false;
  }
  return true;
}

// The walls of a bite, less what the other bites take away of the wood beside them.
void keep_walls(const Bite& bite, const std::vector<const Bite*>& others,
                const std::vector<PlaneSet>& cutters, std::vector<CarvedFace>& faces) {
  ClipMemory memory;
  for (const Convex::Side& side : bite.solid.sides) {
    if (side.source < wall_source) continue;
    const Loop wall = loop_of(bite.solid, side);
    const Box box = box_around(wall);
    std::vector<Loop> cutouts;
    for (const Bite* other : others) {
      if (!other->box.is_near(box, on_plane)) continue;
      Loop part = wall;
      const auto& planes = cutters[static_cast<std::size_t>(other->cutter)];
      if (takes_of(part, side.plane.normal, planes, other->cutter < bite.cutter, memory)) {
        cutouts.push_back(std::move(part));
      }
    }
    auto loops = subtract(wall, std::move(cutouts), side.plane.normal);
    if (loops.empty()) continue;
    for (Loop& loop : loops) std::reverse(loop.begin(), loop.end());
    faces.push_back({bite.cutter,
                     side.source - wall_source,
                     {-side.plane.normal, -side.plane.offset},
                     std::move(loops)});
  }
}

}  // namespace

std::optional<std::vector<CarvedFace>> carve(const Convex& stick,
                                             const std::vector<PlaneSet>& cutters,
                                             std::size_t most_steps) {
  Convex numbered = stick;
  int number = 0;
  for (Convex::Side& side : numbered.sides) side.source = number++;
  const std::vector<Bite> bites = bites_of(numbered, cutters);
  std::vector<std::vector<const Bite*>> others(bites.size());
  std::size_t steps = 0;
  for (std::size_t i = 0; i < bites.size(); ++i) {
    for (std::size_t j = 0; j < bites.size(); ++j) {
      if (i == j || !bites[i].box.is_near(bites[j].box, on_plane)) continue;
      others[i].push_back(&bites[j]);
      steps +=
          bites[i].solid.sides.size() * cutters[static_cast<std::size_t>(bites[j].cutter)].size();
    }
    if (steps > most_steps) return std::nullopt;
  }
  std::vector<CarvedFace> faces;
  keep_stick(stick, numbered, bites, faces);
  for (std::size_t i = 0; i < bites.size(); ++i) keep_walls(bites[i], others[i], cutters, faces);
  return faces;
}

}  // namespace kw
