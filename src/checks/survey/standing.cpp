// Does it stand, empty and loaded?
#include <algorithm>
#include <cmath>

#include "kerfwright/checks/handling.h"
#include "kerfwright/checks/stability.h"

#include "survey/load_size.h"
#include "survey/scene.h"

namespace kw::surveying {
namespace {

constexpr double on_ground = 1;  // mm
constexpr double near_ground = 6;
constexpr std::string_view assumption =
    "level, hard ground; every board as heavy as its species at 12 % moisture; nothing fixed to a "
    "wall or the ground";

struct Feet {
  std::vector<Vec2> points = {};
  std::vector<Vec3> lowest = {};  // one a board
};

Feet feet_of(const Scene& scene) {
  Feet feet;
  for (const Wood& wood : scene.woods) {
    if (wood.low.z > scene.floor + near_ground) continue;
    Vec3 lowest{0, 0, 1e18};
    for (const Face& face : wood.shape->faces)
      for (const auto& loop : face.loops)
        for (const Vec3& corner : loop) {
          const Vec3 p = wood.frame.to_world(corner);
          if (p.z < scene.floor + on_ground) feet.points.push_back({p.x, p.y});
          if (p.z < lowest.z) lowest = p;
        }
    feet.lowest.push_back(lowest);
  }
  return feet;
}

std::string way_of(Vec2 outward) {
  if (std::abs(outward.x) > std::abs(outward.y))
    return outward.x > 0 ? "to the right" : "to the left";
  return outward.y > 0 ? "backwards" : "forwards";
}

// The worst that a person or a point load at the far end of a board does to one edge.
struct Overhang {
  double ratio = 0;  // overturning over righting
  int board = -1;
  std::string load = {};
  double out = 0;
  std::string way = {};
};

Overhang overhang_of(const Scene& scene, const std::vector<Tip>& tips, double weight) {
  Overhang worst;
  for (const ResolvedLoad& load : scene.piece.loads) {
    if (load.kind != "people" && load.kind != "point") continue;
    const double push = whole_of(load);
    for (const int board : load.on) {
      const int body = scene.body_of[at(board)];
      if (body < 0) continue;
      const Wood& wood = scene.woods[at(body)];
      for (const Face& face : wood.shape->faces)
        for (const auto& loop : face.loops)
          for (const Vec3& corner : loop) {
            const Vec3 p = wood.frame.to_world(corner);
            for (const Tip& tip : tips) {
              const double out =
                  dot(tip.outward, Vec2{p.x, p.y} - tip.from) - 50;  // a hand in from the edge
              const double ratio = out > 0 ? push * out / std::max(1e-9, weight * tip.lever) : 0;
              if (ratio > worst.ratio) worst = {ratio, board, load.name, out, way_of(tip.outward)};
            }
          }
    }
  }
  return worst;
}

void tell_overhang(Scene& scene, const Overhang& worst) {
  if (worst.board < 0) return;
  Finding f{.area = CheckArea::stand,
            .verdict = worst.ratio > 1     ? Verdict::fails
                       : worst.ratio > 0.7 ? Verdict::look
                                           : Verdict::passes,
            .check = "tips-under-load"};
  f.message = fmt::format("load `{}` on the end of `{}` stands {} outside the feet and {} {}",
                          worst.load, scene.id(worst.board), scene.length(worst.out),
                          worst.ratio > 1 ? "tips the piece" : "does not tip the piece", worst.way);
  f.number = fmt::format("{:.2f}", worst.ratio);
  f.limit = "1.00";
  f.source = "statics: it tips when F h > W x to the edge it turns about";
  f.assumption = fmt::format("{}; the load stands 50 mm in from the board's end", assumption);
  if (worst.ratio > 0.7)
    f.change = "set the feet further out, shorten what hangs over, or fix it to the ground";
  f.boards = {worst.board};
  f.ratio = worst.ratio;
  scene.add(std::move(f));
}

constexpr double wished = 10, least = 3;  // degrees

// Judged by the slope at which it tips.
Finding by_slope(const Tip& tip, std::string_view check) {
  return {.area = CheckArea::stand,
          .verdict = tip.angle < least    ? Verdict::fails
                     : tip.angle < wished ? Verdict::look
                                          : Verdict::passes,
          .check = check,
          .limit = fmt::format("{:.0f} degrees", wished),
          .ratio = wished / std::max(0.1, tip.angle)};
}

void tell_tipping(Scene& scene, const std::vector<Tip>& tips, const Weight& weight, double high) {
  const Tip tip = first_tip(tips);
  Finding f = by_slope(tip, "tips");
  const double newton = weight.mass.value * gravity_n_per_kg;
  f.message =
      tip.lever < 0
          ? fmt::format("it tips {} by itself: its weight comes down {} outside its feet",
                        way_of(tip.outward), scene.length(-tip.lever))
          : fmt::format(
                "it tips first {}: on ground that slopes {:.1f} degrees, or pushed with {} at "
                "its top; it slides at {}",
                way_of(tip.outward), tip.angle, scene.force(tip.force),
                scene.force(sliding_force(newton, 0.4)));
  f.number = fmt::format("{:.1f} degrees, {} at {}", tip.angle, scene.force(tip.force),
                         scene.length(high));
  f.source = "statics: F h = W x; 10 degrees is common practice, no published source; friction 0.4";
  f.assumption = std::string(assumption);
  if (tip.angle < wished)
    f.change =
        "set the feet further apart that way, lower the weight, or fix it to a wall or the ground";
  scene.add(std::move(f));
}

// What lies on it for years or fills it, as a weight and its moment about the floor's origin.
struct Laden {
  double newton = 0;
  Vec3 moment = {};
  std::string names = {};
  void add(double weight, Vec3 place, const std::string& name) {
    newton += weight;
    moment += place * weight;
    if (names.find("`" + name + "`") == std::string::npos)
      names += (names.empty() ? "`" : ", `") + name + "`";
  }
};

Laden laden_with(Scene& scene) {
  Laden laden;
  for (const ResolvedLoad& load : scene.piece.loads) {
    if (load.kind != "soil" && load.kind != "even") continue;
    if (load.kind == "soil")
      for (const Pool* pool : filled_by(scene, load))
        laden.add(pool->volume * soil_weight(load), (pool->low + pool->high) * 0.5, load.name);
    const double newton = whole_of(load);
    if (newton <= 0) continue;
    for (const int board : load.on) {
      const int body = scene.body_of[at(board)];
      if (body < 0) continue;
      const Wood& wood = scene.woods[at(body)];
      laden.add(newton / static_cast<double>(load.on.size()),
                {(wood.low.x + wood.high.x) / 2, (wood.low.y + wood.high.y) / 2, wood.high.z},
                load.name);
    }
  }
  return laden;
}

void tell_laden(Scene& scene, const Standing& empty) {
  const Laden laden = laden_with(scene);
  if (laden.newton <= 0) return;
  Standing full = empty;
  full.weight += laden.newton;
  const Vec3 floor{0, 0, scene.floor};
  full.centre =
      (empty.centre * empty.weight + laden.moment - floor * laden.newton) * (1 / full.weight);
  const Tip tip = first_tip(tips_of(full));
  Finding f = by_slope(tip, "tips-laden");
  f.message = fmt::format(
      "laden with {} its centre of gravity stands {} up, and it tips first {}: on ground that "
      "slopes "
      "{:.1f} degrees, or pushed with {} at its top",
      laden.names, scene.length(full.centre.z), way_of(tip.outward), tip.angle,
      scene.force(tip.force));
  f.number = fmt::format("{:.1f} degrees, {}", tip.angle, scene.force(tip.force));
  f.source = "statics: F h = W x; 10 degrees is common practice, no published source";
  f.assumption = fmt::format("{}; the load lies on top of its boards, shared alike", assumption);
  if (tip.angle < wished)
    f.change =
        "set the feet further apart that way, lay what is heavy low, or fix it to a wall or the "
        "ground";
  scene.add(std::move(f));
}

// A pull at a height against the piece's own weight, and against what holds its feet.
void tell_pulled(Scene& scene, const Standing& standing, const std::vector<Tip>& tips) {
  const Tip tip = first_tip(tips);
  for (const ResolvedLoad& load : scene.piece.loads) {
    if (load.kind != "pull") continue;
    const double newton = whole_of(load);
    const double high = scene.top_of(load.on);
    const double ratio = newton * high / std::max(1e-9, standing.weight * tip.lever);
    const double slides = sliding_force(standing.weight, 0.4);
    const bool tips_it = ratio > 1 && tip.lever > 0;
    Finding f{.area = CheckArea::stand,
              .verdict = tips_it ? Verdict::look : Verdict::passes,
              .check = "tips-when-pulled"};
    f.message =
        fmt::format("pulled with {} at {}, empty, it {}", scene.force(newton), scene.length(high),
                    tips_it           ? "tips " + way_of(tip.outward)
                    : newton > slides ? "slides before it tips"
                                      : "stands");
    f.number = fmt::format("{:.2f}", ratio);
    f.limit = "1.00";
    f.source = "statics: it tips when F h > W x to the edge it turns about; friction 0.4";
    f.assumption = fmt::format("{}; nobody sits on it", assumption);
    if (tips_it)
      f.change = "set the feet further out, lower the pull, or fix it to a wall or the ground";
    f.boards = load.on;
    f.ratio = ratio;
    scene.add(std::move(f));
  }
}

}  // namespace

void survey_standing(Scene& scene) {
  if (scene.woods.empty()) return;
  const Feet feet = feet_of(scene);
  const Weight weight = weight_of(scene.piece, scene.bodies);
  const double mass = weight.mass.value > 0 ? weight.mass.value : weight.volume.value * 1e-9 * 500;
  double high = scene.floor;
  for (const Wood& wood : scene.woods) high = std::max(high, wood.high.z);
  const Standing standing{hull_of(feet.points),
                          {weight.centre.x, weight.centre.y, weight.centre.z - scene.floor},
                          mass * gravity_n_per_kg,
                          high - scene.floor};
  const auto tips = tips_of(standing);
  if (tips.empty()) {
    scene.add(
        {.area = CheckArea::stand,
         .verdict = Verdict::fails,
         .check = "tips",
         .message =
             "it touches the ground in a point or a line only, so it does not stand by itself",
         .number = "0",
         .limit = "three feet",
         .source = "statics",
         .assumption = std::string(assumption),
         .change = "give it at least three feet"});
    return;
  }
  tell_tipping(scene, tips, {weight.volume, {mass}, weight.centre}, high - scene.floor);
  tell_overhang(scene, overhang_of(scene, tips, standing.weight));
  tell_laden(scene, standing);
  tell_pulled(scene, standing, tips);
  const double gap = rocking_gap(feet.lowest, {weight.centre.x, weight.centre.y});
  if (gap > 0.5)
    scene.add(
        {.area = CheckArea::stand,
         .verdict = Verdict::look,
         .check = "rocks",
         .message = fmt::format("it rocks: one foot stands {} off the ground", scene.length(gap)),
         .number = scene.length(gap),
         .limit = scene.length(0.5),
         .source = "geometry",
         .assumption = std::string(assumption),
         .change = "bring all feet to one level"});
}

}  // namespace kw::surveying
