// Every screw as a real axis: against faces, edges, ends, other screws, cuts, and the driver.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include "kerfwright/checks/placing.h"

#include "survey/scene.h"

namespace kw::surveying {
namespace {

constexpr double driver_length = 125;  // mm: bit and chuck (common practice, no published source)
constexpr double driver_radius = 10;
constexpr int samples = 24;

struct Screw {
  const Driven* driven = nullptr;
  const ResolvedJoint* joint = nullptr;
  const Fastener* fastener = nullptr;
  Vec3 tip = {};
  double edge = 0, end = 0;  // the least distance of its axis from edges and ends of its boards, mm
  int edge_board = -1, end_board = -1;
  [[nodiscard]] double diameter() const { return driven->diameter; }
  [[nodiscard]] double bite() const { return driven->length - driven->through; }
  [[nodiscard]] Vec3 point(double t) const { return driven->head + driven->direction * t; }
};

Finding about(const Screw& screw, Verdict verdict, std::string_view check) {
  return {.verdict = verdict,
          .check = check,
          .boards = {screw.driven->near, screw.driven->far},
          .joint = screw.driven->joint};
}

std::string called(const Scene& scene, const Screw& screw) {
  return fmt::format("{} of joint `{}` (`{}` to `{}`)",
                     screw.fastener ? screw.fastener->name : "dowel", screw.joint->id,
                     scene.id(screw.driven->near), scene.id(screw.driven->far));
}

// Least distances from part of the axis to the sides of one board that run along with it.
void measure_sides(const Scene& scene, int board, const std::array<Vec3, 2>& axis, Screw& screw) {
  const int body = scene.body_of[at(board)];
  if (body < 0) return;
  const Wood& wood = scene.woods[at(body)];
  for (const Plane& plane : wood.trims) {
    if (std::abs(dot(plane.normal, screw.driven->direction)) > 0.5) continue;
    const double away = -std::max(plane.distance(axis[0]), plane.distance(axis[1]));
    const bool is_end = std::abs(dot(plane.normal, wood.frame.x)) > 0.5;
    double& least = is_end ? screw.end : screw.edge;
    if (away >= least) continue;
    least = away;
    (is_end ? screw.end_board : screw.edge_board) = board;
  }
}

std::vector<Screw> screws_of(const Scene& scene) {
  std::vector<Screw> screws;
  constexpr double far_off = std::numeric_limits<double>::max();
  for (const Driven& driven : scene.driven) {
    Screw screw{&driven, &scene.piece.joints[at(driven.joint)], nullptr};
    screw.fastener = scene.fastener(*screw.joint);
    screw.tip = screw.point(driven.length);
    screw.edge = screw.end = far_off;
    const Vec3 crossing = screw.point(driven.through);
    // A slanted one goes in through a face and out of the end by design.
    if (!driven.is_pocket && !driven.is_toe_nail)
      measure_sides(scene, driven.near, {driven.head, crossing}, screw);
    const Vec3 last = screw.point(std::min(driven.length, driven.through + driven.wood));
    measure_sides(scene, driven.far, {crossing, last}, screw);
    screws.push_back(screw);
  }
  return screws;
}

std::string better_screw(const Scene& scene, const Screw& screw) {
  const Driven& d = *screw.driven;
  if (screw.fastener == nullptr) return "use a shorter one";
  ScrewWish wish{
      .through = d.through, .wood = d.wood, .kind = screw.fastener->kind, .diameter = d.diameter};
  const Fastener* better = choose_screw(scene.catalogue, wish);
  wish.diameter = 0;
  if (better == nullptr || better == screw.fastener) better = choose_screw(scene.catalogue, wish);
  if (better != nullptr && better != screw.fastener) return fmt::format("use `{}`", better->name);
  return fmt::format(
      "no other {} both bites deeper and stays inside: use thicker stock, more screws, "
      "or glue",
      name_of(screw.fastener->kind));
}

bool may_come_out(const Screw& screw) {
  return screw.driven->is_dowel || (screw.fastener && screw.fastener->kind == FastenerKind::bolt);
}

void check_length(Scene& scene, const Screw& screw) {
  const Driven& d = *screw.driven;
  if (may_come_out(screw)) return;
  const double wood = d.through + d.wood, out = d.length - wood;
  if (out > 0.1) {
    Finding f = about(screw, Verdict::fails, "screw-comes-out");
    f.message = fmt::format(
        "{} comes out: it is {} long and there are {} of wood along it, so the "
        "point stands {} out of `{}`",
        called(scene, screw), scene.length(d.length), scene.length(wood), scene.length(out),
        scene.id(d.far));
    f.number = scene.length(d.length);
    f.limit = scene.length(wood - least_cover, Rounding::down);
    f.source = "geometry; 1/8 in of cover over the point is common practice, no published source";
    f.assumption = "the boards are as thick as the stock says; the head is flush";
    f.change = better_screw(scene, screw);
    f.ratio = d.length / std::max(1.0, wood - least_cover);
    scene.add(std::move(f));
    return;
  }
  const double least = 3 * d.diameter, counted = 6 * d.diameter;
  if (screw.bite() >= std::min(counted, d.wood - least_cover)) return;
  const bool is_short = screw.bite() < least;
  Finding f = about(screw, is_short ? Verdict::fails : Verdict::look, "screw-lacks-bite");
  f.message = fmt::format("{} goes {} into `{}`", called(scene, screw),
                          scene.length(std::max(0.0, screw.bite())), scene.id(d.far));
  f.number = scene.length(std::max(0.0, screw.bite()));
  f.limit = scene.length(counted);
  f.source =
      "NDS 2018 12.1.5: six diameters with the point, else nothing is counted on it; three "
      "diameters as the least that holds at all is common practice";
  f.assumption = "the boards are as thick as the stock says; the head is flush";
  f.change = better_screw(scene, screw);
  f.ratio = counted / std::max(0.1, screw.bite());
  scene.add(std::move(f));
}

bool is_bored(const Screw& screw) {
  return screw.fastener == nullptr || screw.fastener->pilot_soft.in_ticks() > 0 ||
         screw.fastener->clearance.in_ticks() > 0;
}

constexpr double thick = 0.25 * inch;  // from here NDS 12.5.1 has distances of its own

bool is_hardwood(const Scene& scene, int board) {
  const Species* species = board < 0 ? nullptr : scene.species_of(board);
  return species != nullptr && species->kind == WoodKind::hardwood;
}

// What is asked for and the least, in diameters, with where they come from.
struct Asked {
  double wished = 0, least = 0;
  std::string source = {};
};

Asked asked_of_edge(const Screw& screw) {
  const double d = screw.diameter();
  const Distances full = least_distances(d / inch, true, false);
  if (d >= thick)
    return {full.edge_pressed, full.edge,
            fmt::format("{}: {} diameters from an edge that the load presses to, {} from any other",
                        full.source, full.edge_pressed, full.edge)};
  const Distances european = european_distances(d / inch, is_bored(screw), 0);
  return {european.edge, 2,
          fmt::format("{}: {} diameters; EN 1995-1-1 Table 8.2: {} diameters {} a pilot; under 2 "
                      "counts as split: common practice",
                      full.source, full.edge, european.edge, is_bored(screw) ? "with" : "without")};
}

Asked asked_of_end(const Screw& screw, bool is_hard) {
  const double d = screw.diameter();
  const Distances full = least_distances(d / inch, is_bored(screw), is_hard),
                  smallest = smallest_distances(is_hard);
  if (d >= thick)
    return {full.end_pulled, smallest.end_pulled,
            fmt::format("{}: {} diameters where the load pulls to the end, for full value; never "
                        "under {}",
                        full.source, full.end_pulled, smallest.end_pulled)};
  constexpr double least = 3.5;
  return {full.end_pushed, least,
          fmt::format("{}: {} diameters where the load pushes from the end; NDS 2018 12.5.1: never "
                      "under {} in softwood",
                      full.source, full.end_pushed, least)};
}

void check_edge(Scene& scene, const Screw& screw) {
  const Asked asked = asked_of_edge(screw);
  const double least = asked.least * screw.diameter(), wished = asked.wished * screw.diameter();
  // In a dowel's edge the boards decide: a third of the thickness each side is what it has.
  if (screw.driven->is_dowel || screw.edge_board < 0 || screw.edge >= wished) return;
  const bool splits = screw.edge < least - 1e-6;
  Finding f = about(screw, splits ? Verdict::fails : Verdict::look, "screw-splits-edge");
  f.message = fmt::format("{} stands {} from an edge of `{}`{}", called(scene, screw),
                          scene.length(screw.edge), scene.id(screw.edge_board),
                          splits ? ": it splits the wood there" : "");
  f.number = scene.length(screw.edge);
  f.limit = scene.length(splits ? least : wished);
  f.source = asked.source;
  f.assumption = fmt::format("{}; measured from the axis to the nearest edge",
                             is_bored(screw) ? "pilot and clearance are drilled" : "no pilot");
  f.change =
      "move it in from the edge or use a thinner gauge; where it must stay, drill a pilot and "
      "a counterbore for the head, because a head that is drawn in wedges the edge apart";
  f.ratio = wished / std::max(0.1, screw.edge);
  scene.add(std::move(f));
}

void check_end(Scene& scene, const Screw& screw) {
  const Asked asked = asked_of_end(screw, is_hardwood(scene, screw.end_board));
  const double least = asked.least * screw.diameter(), wished = asked.wished * screw.diameter();
  if (screw.driven->is_dowel || screw.end_board < 0 || screw.end >= wished) return;
  const bool splits = screw.end < least - 1e-6;
  Finding f = about(screw, splits ? Verdict::fails : Verdict::look, "screw-splits-end");
  f.message = fmt::format("{} stands {} from the end of `{}`", called(scene, screw),
                          scene.length(screw.end), scene.id(screw.end_board));
  f.number = scene.length(screw.end);
  f.limit = scene.length(splits ? least : wished);
  f.source = asked.source;
  f.assumption = screw.diameter() >= thick
                     ? "the load may pull towards the end"
                     : "the load does not pull towards the end; if it does, twice as far";
  f.change = "move it in from the end, or drill the pilot to the full root diameter";
  f.ratio = wished / std::max(0.1, screw.end);
  scene.add(std::move(f));
}

// A cut or hole of another joint in the way of the axis.
void check_cuts(Scene& scene, const Screw& screw) {
  for (const int board : {screw.driven->near, screw.driven->far}) {
    const int body = scene.body_of[at(board)];
    if (body < 0) continue;
    const Wood& wood = scene.woods[at(body)];
    for (const WoodHollow& hollow : wood.hollows) {
      const Feature& feature = wood.shape->features[at(hollow.feature)];
      if (feature.joint == screw.driven->joint) continue;
      const bool is_screw_hole = feature.kind == FeatureKind::pilot_hole ||
                                 feature.kind == FeatureKind::clearance_hole ||
                                 feature.kind == FeatureKind::pocket_hole;
      if (is_screw_hole) continue;  // screw against screw is told by itself
      for (int i = 1; i < samples; ++i) {
        const Vec3 p = screw.point(screw.driven->length * i / samples);
        if (!wood.is_in_stick(p) || !is_in_hollow(hollow, p, screw.diameter() / 2)) continue;
        const bool is_filled =
            std::any_of(scene.woods.begin(), scene.woods.end(),
                        [&](const Wood& w) { return w.board != board && w.is_in(p); });
        Finding f = about(screw, is_filled ? Verdict::look : Verdict::fails, "screw-meets-cut");
        f.message = fmt::format("{} runs into `{}` cut in `{}`{}", called(scene, screw),
                                feature.name, scene.id(board),
                                is_filled ? ", where the other board of that joint lies" : "");
        f.number = "0";
        f.limit = scene.length(screw.diameter() / 2);
        f.source = "geometry";
        f.assumption = "the screw runs straight along its axis";
        f.change = "move the row with `inset`, or move the cut";
        scene.add(std::move(f));
        break;
      }
    }
  }
}

// Pocket screws: the length that goes with the stock, and where they leave it.
void check_pocket(Scene& scene, const Screw& screw) {
  const Driven& d = *screw.driven;
  if (!d.is_pocket) return;
  const double stock = scene.board(d.near).section.thickness.in_inches();
  const double wanted = pocket_screw_length(stock);
  const Frame& frame = scene.board(d.near).frame;
  const Vec3 exit = d.head + d.direction * d.through;
  const double half = scene.board(d.near).section.thickness.in_mm() / 2;
  const double deep = half - std::abs(dot(exit - frame.origin, frame.z));
  const bool fits = std::abs(wanted - d.length / inch) < 0.26;
  if (fits && deep > d.diameter) return;
  Finding f = about(screw, Verdict::look, "pocket-screw-length");
  f.message =
      fmt::format("{} is {} long and leaves `{}` {} under its face; stock of {} takes {}",
                  called(scene, screw), scene.length(d.length), scene.id(d.near),
                  scene.length(deep), scene.length(stock * inch), scene.length(wanted * inch));
  f.number = scene.length(d.length);
  f.limit = scene.length(wanted * inch);
  f.source = "chart of pocket screws by stock: common practice, no published source";
  f.assumption = "pockets of 15 degrees; half of the screw beyond the pocket's bottom";
  f.change = "take the length of the chart, and set the drill's collar for this stock";
  f.ratio = d.length / inch / wanted;
  scene.add(std::move(f));
}

double distance_between(const Screw& s, const Screw& t) {
  // Closest approach of two segments (Ericson, Real-Time Collision Detection, 5.1.9).
  const Vec3 u = s.tip - s.driven->head, v = t.tip - t.driven->head,
             r = s.driven->head - t.driven->head;
  const double a = dot(u, u), e = dot(v, v), f = dot(v, r), c = dot(u, r), b = dot(u, v);
  const double below = a * e - b * b;
  double on_s = below > 1e-9 ? std::clamp((b * f - c * e) / below, 0.0, 1.0) : 0;
  double on_t = (b * on_s + f) / e;
  if (on_t < 0 || on_t > 1) {
    on_t = std::clamp(on_t, 0.0, 1.0);
    on_s = std::clamp((b * on_t - c) / a, 0.0, 1.0);
  }
  return norm(r + u * on_s - v * on_t);
}

void check_pair(Scene& scene, const Screw& s, const Screw& t) {
  const double touching = (s.diameter() + t.diameter()) / 2;
  const double apart = distance_between(s, t);
  if (apart > touching + 0.5) return;
  Finding f = about(s, Verdict::fails, "screws-meet");
  f.boards.push_back(t.driven->near);
  f.boards.push_back(t.driven->far);
  f.message = fmt::format("{} and {} meet: their axes come within {} of one another",
                          called(scene, s), called(scene, t), scene.length(apart));
  f.number = scene.length(apart);
  f.limit = scene.length(touching + 0.5, Rounding::up);
  f.source = "geometry: half of each diameter and 0.5 mm for the bit's wander";
  f.assumption = "both run straight along their axes";
  f.change = "set one row further in with `inset`, or drive one from the other side with `from`";
  scene.add(std::move(f));
}

void check_pairs(Scene& scene, const std::vector<Screw>& screws) {
  std::vector<std::pair<double, std::size_t>> order;
  const auto low = [&](const Screw& s) { return std::min(s.driven->head.x, s.tip.x) - 10; };
  const auto high = [&](const Screw& s) { return std::max(s.driven->head.x, s.tip.x) + 10; };
  for (std::size_t i = 0; i < screws.size(); ++i) order.emplace_back(low(screws[i]), i);
  std::sort(order.begin(), order.end());
  constexpr std::size_t most_told = 20;
  const std::size_t before = scene.findings.size();
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Screw& s = screws[order[i].second];
    for (std::size_t j = i + 1; j < order.size() && order[j].first <= high(s); ++j) {
      if (scene.findings.size() - before >= most_told) return;
      check_pair(scene, s, screws[order[j].second]);
    }
  }
}

// The first other board in the way of a driver that stands on the head.
int in_the_way(const Scene& scene, const Screw& screw) {
  const Vec3 back = -screw.driven->direction;
  const Vec3 from = screw.driven->head, to = from + back * driver_length;
  for (std::size_t i = 0; i < scene.woods.size(); ++i) {
    const Wood& wood = scene.woods[i];
    if (wood.board == screw.driven->near) continue;
    const auto is_clear = [&](double a, double b, double low, double high) {
      return std::max(a, b) < low || std::min(a, b) > high;
    };
    if (is_clear(from.x, to.x, wood.low.x, wood.high.x) ||
        is_clear(from.y, to.y, wood.low.y, wood.high.y) ||
        is_clear(from.z, to.z, wood.low.z, wood.high.z))
      continue;
    for (double t = driver_radius; t <= driver_length; t += driver_radius / 2)
      if (wood.is_in(from + back * t)) return wood.board;
  }
  return -1;
}

void check_driver(Scene& scene, const Screw& screw) {
  if (screw.driven->is_dowel || screw.driven->is_pocket) return;
  const int blocker = in_the_way(scene, screw);
  if (blocker < 0) return;
  Finding f = about(screw, Verdict::look, "driver-is-blocked");
  f.boards.push_back(blocker);
  f.message = fmt::format("a driver does not reach {} once `{}` is in its place",
                          called(scene, screw), scene.id(blocker));
  f.number = "blocked";
  f.limit = scene.length(driver_length);
  f.source = "geometry; a bit and chuck of 5 in is common practice, no published source";
  f.assumption = "the driver stands along the screw";
  f.change = fmt::format(
      "drive it before `{}` is put on (`step`), or use an angled driver or a "
      "longer bit",
      scene.id(blocker));
  scene.add(std::move(f));
}

// What is alike (the same check of the same declaration of joint) is told once, at its worst.
void tell_once(Scene& scene, std::size_t from) {
  std::vector<Finding> kept(scene.findings.begin(),
                            scene.findings.begin() + static_cast<std::ptrdiff_t>(from));
  std::map<std::string, std::size_t> seen;
  std::map<std::size_t, int> count;
  for (std::size_t i = from; i < scene.findings.size(); ++i) {
    Finding& f = scene.findings[i];
    const std::string joint = f.joint < 0 ? "" : declared_name(scene.piece.joints[at(f.joint)].id);
    const auto [place, is_new] = seen.emplace(std::string(f.check) + " " + joint, kept.size());
    ++count[place->second];
    if (is_new) {
      kept.push_back(std::move(f));
      continue;
    }
    Finding& first = kept[place->second];
    for (const int board : f.boards)
      if (std::find(first.boards.begin(), first.boards.end(), board) == first.boards.end())
        first.boards.push_back(board);
    if (f.verdict == Verdict::fails && first.verdict != Verdict::fails) {
      f.boards = first.boards;
      first = std::move(f);
    }
  }
  for (const auto& [index, n] : count)
    if (n > 1) kept[index].message += fmt::format(" ({} alike)", n);
  scene.findings = std::move(kept);
}

}  // namespace

void survey_screws(Scene& scene) {
  const std::vector<Screw> screws = screws_of(scene);
  if (screws.empty()) return;
  const std::size_t before = scene.findings.size();
  for (const Screw& screw : screws) {
    check_length(scene, screw);
    check_edge(scene, screw);
    check_end(scene, screw);
    check_cuts(scene, screw);
    check_pocket(scene, screw);
    check_driver(scene, screw);
  }
  check_pairs(scene, screws);
  tell_once(scene, before);
  if (scene.findings.size() > before) return;
  scene.add(
      {.verdict = Verdict::passes,
       .check = "screws-fit",
       .message = fmt::format("all {} fasteners stay inside the wood, bite, clear edges, ends, "
                              "cuts and one another, and a driver reaches them",
                              screws.size()),
       .source = "geometry; distances as in docs/checks.md",
       .assumption = "the boards are as thick as the stock says"});
}

}  // namespace kw::surveying
