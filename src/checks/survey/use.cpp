// Using and handling it: what it holds, whether it drains, lifting, doors, comfort, feet in the
// wet.
#include <algorithm>
#include <array>
#include <cmath>

#include "kerfwright/checks/handling.h"
#include "kerfwright/checks/pool.h"

#include "survey/scene.h"

namespace kw::surveying {
namespace {

std::string volume_of(const Scene& scene, double mm3) {
  return scene.piece.unit == LengthUnit::mm
             ? fmt::format("{:.1f} litres", mm3 / 1e6)
             : fmt::format("{:.2f} cu ft", mm3 / (304.8 * 304.8 * 304.8));
}

void check_pools(Scene& scene) {
  for (const Pool& pool : scene.hollows()) {
    const bool is_wet = scene.is_outdoors && !pool.is_drained;
    std::vector<int> boards;
    for (const int body : pool.bodies) boards.push_back(scene.woods[at(body)].board);
    Finding f{.area = CheckArea::use,
              .verdict = is_wet ? Verdict::fails : Verdict::passes,
              .check = is_wet ? "holds-water" : "volume-held"};
    const FillMaterial& soil = fills().front();
    f.message = fmt::format("a hollow of {} over `{}`{}; filled with wet potting mix it holds {}",
                            volume_of(scene, pool.volume), scene.id(boards.front()),
                            is_wet ? " has no drain: water stands in it and the wood rots" : "",
                            scene.mass(pool.volume * 1e-9 * soil.wet));
    f.number = volume_of(scene, pool.volume);
    if (is_wet) f.limit = "none that stands in it";
    f.source = fmt::format("geometry; {}", soil.source);
    f.assumption =
        pool.is_exact
            ? "exact, between the faces of its boards, to the rim"
            : fmt::format("on a grid of {:.0f} mm: within about one cell at each wall", pool.cell);
    if (is_wet)
      f.change =
          "bore drain holes through the bottom, 1/2 in or more, or leave gaps between its boards";
    f.boards = std::move(boards);
    scene.add(std::move(f));
  }
}

// Of the whole, right, away and up.
Vec3 size_of(const Scene& scene) {
  Vec3 low = scene.woods.front().low, high = scene.woods.front().high;
  for (const Wood& w : scene.woods) {
    low = {std::min(low.x, w.low.x), std::min(low.y, w.low.y), std::min(low.z, w.low.z)};
    high = {std::max(high.x, w.high.x), std::max(high.y, w.high.y), std::max(high.z, w.high.z)};
  }
  return high - low;
}

void check_lift(Scene& scene) {
  const double kg = weight_of(scene.piece, scene.bodies).mass.value;
  if (kg <= 0) return;
  const Vec3 size = size_of(scene);
  // Hands stand 20 cm and half the depth of the load away (NIOSH 94-110, when held above 25 cm).
  Lift lift{
      .horizontal = std::min(63.0, 20 + std::min(size.x, size.y) / 20), .height = 40, .travel = 40};
  const double one = lifting_index(kg, lift);
  lift.horizontal = 30;  // at its two ends: the load lies between them, not before them
  const double two = lifting_index(kg / 2, lift);
  Finding f{.area = CheckArea::use,
            .verdict = two > 1 ? Verdict::look : Verdict::passes,
            .check = "lifting"};
  double held = 0;  // mm3
  for (const Pool& pool : scene.hollows()) held += pool.volume;
  const std::string full =
      held > 0 ? fmt::format(", {} full of wet potting mix",
                             scene.mass(kg * 1.3 / 1.12 + held * 1e-9 * fills().front().wet))
               : "";
  f.message = fmt::format("it weighs {} ({} with the wood wet through{}); {}", scene.mass(kg),
                          scene.mass(kg * 1.3 / 1.12), full,
                          one <= 1   ? "one person can lift it"
                          : two <= 1 ? "two people lift it"
                                     : "three people or a trolley move it");
  f.number = fmt::format("lifting index {:.2f} alone, {:.2f} for two", one, two);
  f.limit = "1.00";
  f.source = "revised NIOSH lifting equation, DHHS (NIOSH) 94-110 (constants from memory)";
  f.assumption =
      "lifted seldom, from knee to waist, held with both hands, no twist; two share alike; wet: 30 "
      "% moisture";
  if (two > 1) f.change = "carry it in parts, or ask for help";
  scene.add(std::move(f));
  const bool fits = goes_through(size.x, size.y, size.z, 762, 2032);
  scene.add(
      {.area = CheckArea::use,
       .verdict = fits ? Verdict::passes : Verdict::look,
       .check = "door",
       .message = fmt::format("over all it is {} x {} x {}: it {} through a door of 30 x 80 in",
                              scene.length(size.x), scene.length(size.y), scene.length(size.z),
                              fits ? "goes" : "does not go"),
       .number = scene.length(size.y),
       .limit = scene.length(762),
       .source = "a 30 in door is common practice, no published source",
       .assumption = "carried square, not tilted through",
       .change = fits ? "" : "put it together where it stands"});
}

// Its longest part and the whole against what a car takes.
void check_car(Scene& scene) {
  constexpr double high = 750, wide = 1000, deep = 1700;  // mm, an estate car with its seats down
  double longest = 0;
  int board = -1;
  for (const Wood& w : scene.woods) {
    const double length = w.shape->high.x - w.shape->low.x;
    if (length > longest) board = w.board;
    longest = std::max(longest, length);
  }
  const Vec3 size = size_of(scene);
  std::array<double, 3> sides = {size.x, size.y, size.z};
  std::sort(sides.begin(), sides.end());
  const bool whole = sides[0] <= high && sides[1] <= wide && sides[2] <= deep;
  const bool parts = longest <= deep;
  scene.add(
      {.area = CheckArea::use,
       .verdict = parts ? Verdict::passes : Verdict::look,
       .check = "car",
       .message =
           fmt::format("its longest part, `{}`, is {}; the whole {} into an estate car{}",
                       scene.id(board), scene.length(longest), whole ? "goes" : "does not go",
                       whole   ? ""
                       : parts ? ", its parts do"
                               : ", nor do its longest parts"),
       .number = scene.length(longest),
       .limit = scene.length(deep),
       .source = "30 x 40 x 67 in behind the front seats: common practice, no published source",
       .assumption = "laid square, not leant",
       .change = parts ? "" : "carry it on the roof or a trailer, or have it delivered",
       .boards = {board}});
}

// Whether a load's name says what its boards are for.
bool is_for(const ResolvedLoad& load, std::initializer_list<std::string_view> words) {
  return std::any_of(words.begin(), words.end(), [&](std::string_view word) {
    return load.name.find(word) != std::string::npos;
  });
}

void check_seat(Scene& scene) {
  const Comfort& seat = comforts()[0];
  for (const ResolvedLoad& load : scene.piece.loads) {
    if (load.kind != "people" || !is_for(load, {"seat", "sit", "bench"})) continue;
    const double top = scene.top_of(load.on);
    if (top < 300 || top > 600) continue;
    const bool fits = top >= seat.from - 0.5 && top <= seat.to + 0.5;
    scene.add({.area = CheckArea::use,
               .verdict = fits ? Verdict::passes : Verdict::look,
               .check = "seat-height",
               .message = fmt::format("the seat is {} high", scene.length(top)),
               .number = scene.length(top),
               .limit = fmt::format("{} to {}", scene.length(seat.from), scene.length(seat.to)),
               .source = std::string(seat.source),
               .assumption = fmt::format("`{}` is sat on", load.name),
               .change = fits ? "" : "make it higher or lower, unless it is meant so",
               .boards = load.on});
    return;
  }
}

// Tables and benches that things stand on: the height of what is laden.
void check_table(Scene& scene) {
  const Comfort &table = comforts()[3], &standing = comforts()[4];
  for (const ResolvedLoad& load : scene.piece.loads) {
    if (load.kind != "even" || !is_for(load, {"top", "table", "work"})) continue;
    const double top = scene.top_of(load.on);
    if (top < 600 || top > 1100) continue;  // a shelf, not a table
    const auto suits = [&](const Comfort& c) { return top >= c.from - 0.5 && top <= c.to + 0.5; };
    const bool fits = suits(table) || suits(standing);
    scene.add({.area = CheckArea::use,
               .verdict = fits ? Verdict::passes : Verdict::look,
               .check = "table-height",
               .message = fmt::format("its top is {} high{}", scene.length(top),
                                      suits(table)      ? ": to sit at"
                                      : suits(standing) ? ": to stand at"
                                                        : ""),
               .number = scene.length(top),
               .limit = fmt::format("{} to {} sitting, {} to {} standing", scene.length(table.from),
                                    scene.length(table.to), scene.length(standing.from),
                                    scene.length(standing.to)),
               .source = std::string(table.source),
               .assumption = fmt::format("one works at what `{}` lies on", load.name),
               .change = fits ? "" : "make it higher or lower, unless it is meant so",
               .boards = load.on});
    return;
  }
}

void check_feet(Scene& scene) {
  if (!scene.is_outdoors) return;
  std::vector<int> wet;
  for (const Wood& w : scene.woods) {
    if (w.low.z > scene.floor + 1) continue;
    for (const Face& face : w.shape->faces) {
      const Plane plane = w.frame.to_world(face.plane);
      if (plane.normal.z > -0.9 || std::abs(face.plane.normal.x) < 0.7) continue;
      if (face.loops.empty() || w.frame.to_world(face.loops[0][0]).z > scene.floor + 1) continue;
      wet.push_back(w.board);
      break;
    }
  }
  if (wet.empty()) return;
  scene.add({.area = CheckArea::use,
             .verdict = Verdict::look,
             .check = "end-grain-on-ground",
             .message = fmt::format(
                 "{} boards stand on the ground on their end grain, as `{}`: it drinks water",
                 wet.size(), scene.id(wet.front())),
             .number = std::to_string(wet.size()),
             .limit = "0",
             .source = std::string(practice),
             .assumption = "it stands outdoors",
             .change = "seal the end grain with epoxy or paint, or set the feet on pads",
             .boards = wet});
}

}  // namespace

void survey_use(Scene& scene) {
  if (scene.woods.empty()) return;
  check_pools(scene);
  check_lift(scene);
  check_car(scene);
  check_seat(scene);
  check_table(scene);
  check_feet(scene);
}

}  // namespace kw::surveying
