// What the seasons do: slats that swell shut, boards and panels that are held across the grain.
#include <algorithm>
#include <cmath>
#include <set>

#include "survey/scene.h"

namespace kw::surveying {
namespace {

struct Season {
  double built = 0, dry = 0, humid = 0;  // moisture, %
};

std::string words_of(const Scene& scene, const Season& s) {
  return fmt::format(
      "flat sawn; put together at {:.0f} % moisture; climate `{}`: {:.1f} to {:.1f} % (Wood "
      "Handbook Eq. 4-5)",
      s.built, scene.climate.name, s.dry, s.humid);
}

constexpr std::string_view movement_source =
    "Wood Handbook FPL-GTR-190 Eq. 13-2 and 13-3, Tables 4-3 and 13-5";

Season season_of(const Scene& scene) {
  Season s{.dry = equilibrium_moisture(scene.climate.dry),
           .humid = equilibrium_moisture(scene.climate.humid)};
  // Common practice, no published source, where the file does not say it.
  s.built = scene.built.value_or(scene.is_outdoors ? 12 : 8);
  return s;
}

// What a board holds when it is put together: as the season says, but green lumber 28 %
// (FPL-RP-489, where shrinkage starts).
double built_of(const Scene& scene, int board, const Season& season) {
  constexpr double green = 28;
  const bool is_green = scene.stock_of(board).is_green;
  return is_green && !scene.built ? green : season.built;
}

double change_of(const Scene& scene, int board, double width, double from, double to) {
  const Species* wood = scene.species_of(board);
  const bool is_sheet = scene.stock_of(board).is_sheet;
  if (wood == nullptr || is_sheet) return 0;
  return width * movement_of(*wood, Sawn::flat, from, to).value_or(0);
}

bool is_edge(const Wood& wood, int face) {
  const Face& f = wood.shape->faces[at(face)];
  return std::abs(f.plane.normal.y) > 0.7;
}

// Slats beside one another: the gap less what both swell by.
void check_slats(Scene& scene, const Season& season) {
  constexpr double widest = 15;
  const Contact* worst = nullptr;
  double least = 1e18, swells = 0;
  int rows = 0;
  const auto gaps = contacts_in(scene.bodies, widest);
  for (const Contact& c : gaps) {
    if (c.gap < 0.05) continue;
    const Wood &a = scene.woods[at(c.a)], &b = scene.woods[at(c.b)];
    if (!is_edge(a, c.face_a) || !is_edge(b, c.face_b) ||
        std::abs(dot(a.frame.x, b.frame.x)) < 0.99)
      continue;
    const auto grows = [&](int board) {
      return change_of(scene, board, scene.board(board).section.width.in_mm(),
                       built_of(scene, board, season), season.humid);
    };
    const double grow = (grows(a.board) + grows(b.board)) / 2;
    ++rows;
    if (c.gap - grow >= least) continue;
    least = c.gap - grow;
    swells = grow;
    worst = &c;
  }
  if (worst == nullptr) return;
  const int a = scene.woods[at(worst->a)].board, b = scene.woods[at(worst->b)].board;
  Finding f{.area = CheckArea::move,
            .verdict = least < 0   ? Verdict::fails
                       : least < 1 ? Verdict::look
                                   : Verdict::passes,
            .check = "slats-swell"};
  f.message =
      least < 0
          ? fmt::format("the gap of {} between `{}` and `{}` swells shut: they grow by {}",
                        scene.length(worst->gap), scene.id(a), scene.id(b), scene.length(swells))
          : fmt::format(
                "of {} gaps between slats the tightest, between `{}` and `{}`, keeps {} of {}",
                rows, scene.id(a), scene.id(b), scene.length(least), scene.length(worst->gap));
  f.number = scene.length(swells);
  f.limit = scene.length(worst->gap);
  f.source = std::string(movement_source);
  f.assumption = words_of(scene, season) + "; each slat is held in its middle";
  if (least < 1)
    f.change = fmt::format("leave gaps of {} or more, or use narrower slats",
                           scene.length(swells + 1.5, Rounding::up));
  f.boards = {a, b};
  f.ratio = swells / worst->gap;
  scene.add(std::move(f));
}

// How far across its width a board is held by one other board whose grain runs across its own.
struct Held {
  double across = 0;  // mm
  int by = -1, joint = -1;
  std::string how = {};
};

Held held_by_joint(const Scene& scene, int board, int joint) {
  const ResolvedJoint& j = scene.piece.joints[at(joint)];
  const int other = j.a == board ? j.b : j.a;
  if (other < 0 || scene.body_of[at(board)] < 0) return {};
  const Frame &frame = scene.board(board).frame, &beside = scene.board(other).frame;
  if (std::abs(dot(frame.y, beside.x)) < 0.9)
    return {};  // moves along with it, or is held at an end
  double low = 1e18, high = -1e18;
  if (is_glued(j)) {
    for (const Contact& c : scene.contacts) {
      const int a = scene.woods[at(c.a)].board, b = scene.woods[at(c.b)].board;
      if (!((a == board && b == other) || (a == other && b == board))) continue;
      for (const auto& loop : c.patch)
        for (const Vec3& p : loop) {
          low = std::min(low, frame.to_local(p).y);
          high = std::max(high, frame.to_local(p).y);
        }
    }
    return {std::max(0.0, high - low), other, joint, "glued"};
  }
  for (const Driven& d : scene.driven) {
    if (d.joint != joint) continue;
    const double y = frame.to_local(d.head + d.direction * d.through).y;
    low = std::min(low, y);
    high = std::max(high, y);
  }
  return {std::max(0.0, high - low), other, joint, "screwed"};
}

// Held at both edges by boards that bear on them.
Held held_between(const Scene& scene, int body) {
  const Wood& wood = scene.woods[at(body)];
  int low = -1, high = -1;
  for (const Contact& c : scene.contacts) {
    if (c.gap > 0.05 || (c.a != body && c.b != body)) continue;
    const int face = c.a == body ? c.face_a : c.face_b;
    const double y = wood.shape->faces[at(face)].plane.normal.y;
    const int other = c.a == body ? c.b : c.a;
    // A board alike beside it moves too; what counts is one that keeps its place.
    if (std::abs(dot(scene.woods[at(other)].frame.y, wood.frame.y)) > 0.9) continue;
    if (y < -0.7) low = other;
    if (y > 0.7) high = other;
  }
  if (low < 0 || high < 0 || low == high) return {};
  return {scene.board(wood.board).section.width.in_mm(), scene.woods[at(low)].board, -1,
          fmt::format("shut in between `{}` and `{}`", scene.id(scene.woods[at(low)].board),
                      scene.id(scene.woods[at(high)].board))};
}

void tell_trapped(Scene& scene, int board, const Held& held, const Season& season) {
  const double built = built_of(scene, board, season);
  const double grow = change_of(scene, board, held.across, built, season.humid);
  const double shrink = -change_of(scene, board, held.across, built, season.dry);
  const double most = std::max(grow, shrink);
  constexpr double look = 1.6,
                   fail = 3.2;    // 1/16 and 1/8 in (common practice, no published source)
  constexpr double narrow = 100;  // mm: joints across less are made every day
  if (most < look || held.across < narrow) return;
  Finding f{.area = CheckArea::move,
            .verdict = most > fail ? Verdict::fails : Verdict::look,
            .check = "panel-trapped"};
  f.message = fmt::format(
      "`{}` is trapped: {} over {} of its width{}, and it {} by {}", scene.id(board), held.how,
      scene.length(held.across),
      held.joint >= 0 ? fmt::format(" across the grain of `{}`", scene.id(held.by)) : "",
      grow >= shrink ? "swells" : "shrinks", scene.length(most));
  f.number = scene.length(most);
  f.limit = scene.length(look);
  f.source = fmt::format("{}; 1/16 in gives, 1/8 in splits or pushes apart: {}", movement_source,
                         practice);
  f.assumption = words_of(scene, season);
  f.change =
      held.joint >= 0
          ? "fix it in the middle only and let the rest slide: slotted holes, buttons, or no glue"
          : "leave room at its edges, in a groove for instance, and fix it in the middle only";
  f.boards = {board, held.by};
  f.joint = held.joint;
  f.ratio = most / look;
  scene.add(std::move(f));
}

void check_trapped(Scene& scene, const Season& season) {
  std::set<std::string> told;
  for (std::size_t b = 0; b < scene.woods.size(); ++b) {
    const int board = scene.woods[b].board;
    Held worst = held_between(scene, static_cast<int>(b));
    for (std::size_t j = 0; j < scene.piece.joints.size(); ++j) {
      const ResolvedJoint& joint = scene.piece.joints[j];
      if (joint.a != board && joint.b != board) continue;
      const Held held = held_by_joint(scene, board, static_cast<int>(j));
      if (held.across > worst.across) worst = held;
    }
    if (worst.by >= 0 && told.insert(scene.board(board).made_from).second)
      tell_trapped(scene, board, worst, season);
  }
}

// Green lumber is cut to size wet and ends up smaller.
void tell_green(Scene& scene, const Season& season) {
  std::set<int> told;
  for (const Wood& wood : scene.woods) {
    const ResolvedBoard& board = scene.board(wood.board);
    const ResolvedStock& stock = scene.stock_of(wood.board);
    if (!stock.is_green || scene.built || !told.insert(board.stock).second) continue;
    const double dry = std::clamp(season.dry, 8.0, 19.0);  // where the lines hold
    const double wide = board.section.width.in_mm() * lumber_width_shrinkage(dry) / 100;
    const double thick = board.section.thickness.in_mm() * lumber_thickness_shrinkage(dry) / 100;
    scene.add(
        {.area = CheckArea::move,
         .verdict = Verdict::look,
         .check = "green-shrinks",
         .message = fmt::format(
             "stock `{}` is sold green: as it dries to {:.0f} % it loses {} of its width and {} "
             "of its thickness, and its joints open by as much",
             stock.name, dry, scene.length(wide), scene.length(thick)),
         .number = scene.length(wide),
         .limit = "0",
         .source = "shrinkage of lumber, FPL-RP-489 (Green 1989)",
         .assumption = fmt::format("28 % when it is sawn; climate `{}`", scene.climate.name),
         .change = "let it dry before it is sawn, buy it dry, or say what a meter reads: "
                   "[climate] moisture",
         .boards = {wood.board}});
  }
}

void tell_unnamed(Scene& scene) {
  int unnamed = 0;
  for (const Wood& wood : scene.woods) unnamed += scene.species_of(wood.board) == nullptr ? 1 : 0;
  if (unnamed > 0)
    scene.add({.area = CheckArea::move,
               .verdict = Verdict::not_computed,
               .check = "movement-unknown",
               .message = fmt::format(
                   "{} boards have no species, so their movement was not computed", unnamed),
               .source = std::string(movement_source),
               .assumption = "none",
               .change = "name the species of every stock"});
}

}  // namespace

void survey_movement(Scene& scene) {
  const Season season = season_of(scene);
  const std::size_t before = scene.findings.size();
  check_slats(scene, season);
  check_trapped(scene, season);
  tell_green(scene, season);
  tell_unnamed(scene);
  if (scene.findings.size() > before) return;
  double widest = 0;
  int board = -1;
  for (const Wood& wood : scene.woods) {
    const double width = scene.board(wood.board).section.width.in_mm();
    const double moves = change_of(scene, wood.board, width, season.dry, season.humid);
    if (moves <= widest) continue;
    widest = moves;
    board = wood.board;
  }
  if (board < 0) return;
  scene.add({.area = CheckArea::move,
             .verdict = Verdict::passes,
             .check = "moves-freely",
             .message =
                 fmt::format("no board is held across its grain; `{}` moves most, {} over the year",
                             scene.id(board), scene.length(widest)),
             .number = scene.length(widest),
             .source = std::string(movement_source),
             .assumption = words_of(scene, season),
             .boards = {board}});
}

}  // namespace kw::surveying
