#include "kerfwright/parts/cut_list.h"

#include <algorithm>
#include <cmath>

#include "bench.h"
#include "lie.h"
#include "recognise.h"

namespace kw {
namespace {

std::string letter_of(std::size_t index) {
  std::string letters;
  for (std::size_t n = index + 1; n > 0; n = (n - 1) / 26) {
    letters.insert(letters.begin(), static_cast<char>('A' + (n - 1) % 26));
  }
  return letters;
}

// Each member's way onto the bench, from its way onto the first member.
std::vector<Member> laid(const std::vector<Member>& members, const std::vector<Body>& bodies,
                         const Lie& first) {
  std::vector<Member> placed;
  for (const Member& member : members) {
    const Shape& shape = *bodies[static_cast<std::size_t>(member.body)].shape;
    Lie turn_only = first;
    turn_only.move = {};
    Lie lie = compose(member.lie, turn_only);
    // A reflected member lies as the mirror image does: its own turn, told apart by is_mirrored.
    placed.push_back({member.body, on_the_bench(shape, lie)});
  }
  return placed;
}

// A side of the box that is still the stick's own keeps the stick's exact size; as the yard made
// it, it is what it measures and not rounded to the rule.
int size_figure(Bench& bench, Way way, double mm, Length of_stick, bool is_sawn) {
  const bool is_whole = std::abs(of_stick.in_mm() - mm) < 1e-5;
  const int figure = figure_of(bench, way, is_whole ? of_stick.in_mm() : mm);
  if (!is_whole) return figure;
  ShopFigure& f = bench.part->figures[static_cast<std::size_t>(figure)];
  f.exact = of_stick;
  f.printed = is_sawn ? round_to(of_stick, bench.rule) : of_stick;
  return figure;
}

void count_hands(Part& part) {
  for (const Member& member : part.members) ++(member.lie.is_mirrored ? part.right : part.left);
}

bool has_curves(const Shape& shape) {
  return std::any_of(shape.features.begin(), shape.features.end(), [](const Feature& f) {
    return f.kind == FeatureKind::outline || f.kind == FeatureKind::corner;
  });
}

Part part_of(const Resolved& piece, const std::vector<Body>& bodies, const Alike& alike) {
  const Body& body = bodies[static_cast<std::size_t>(alike.members.front().body)];
  const auto& board = piece.boards[static_cast<std::size_t>(body.board)];
  Part part{.name = board.made_from, .stock = board.stock, .strips = board.strips};
  const Lie lie = best_lie(piece, body);
  part.members = laid(alike.members, bodies, lie);
  part.size = body.shape->high - body.shape->low;
  part.volume = body.shape->volume;
  count_hands(part);
  part.is_curved = has_curves(*body.shape);
  Bench bench{&piece, body.shape.get(), lie, part.size, piece.rule, &part};
  part.length = figure_of(bench, Way::along, part.size.x);
  part.width =
      size_figure(bench, Way::across, part.size.y, board.section.width, is_ripped(piece, part));
  part.thickness = size_figure(bench, Way::through, part.size.z, board.section.thickness, false);
  add_ends(bench);
  add_marks(bench);
  add_holes(bench);
  return part;
}

Vec3 with_coordinate(Vec3 at, int axis, double value) {
  return {axis == 0 ? value : at.x, axis == 1 ? value : at.y, axis == 2 ? value : at.z};
}

double value_of(const Part& part, int figure, bool as_printed) {
  const ShopFigure& f = part.figures[static_cast<std::size_t>(figure)];
  return (as_printed ? f.printed : f.exact).in_mm();
}

}  // namespace

Plane plane_of(const Part& part, const PlaneRule& rule, bool as_printed) {
  const auto point = [&](int figure, Vec3 at) {
    const double value = value_of(part, figure, as_printed);
    const double from_far = coordinate(part.size, rule.axis) - value;
    return with_coordinate(at, rule.axis, rule.counts_down ? from_far : value);
  };
  const Vec3 p = point(rule.figure, rule.at);
  Vec3 normal = rule.normal;
  if (rule.second >= 0) {
    const Vec3 trace = point(rule.second, rule.second_at) - p;
    const Vec3 turned = unit(cross(cross(normal, trace), trace));
    normal = dot(turned, normal) < 0 ? -turned : turned;
  }
  return {normal, dot(normal, p)};
}

CutList cut_list_of(const Resolved& piece, const std::vector<Body>& bodies) {
  CutList list{.rule = piece.rule, .unit = piece.unit};
  list.part_of_body.assign(bodies.size(), -1);
  for (const Alike& alike : recognise(piece, bodies)) {
    Part part = part_of(piece, bodies, alike);
    part.letter = letter_of(list.parts.size());
    for (const Member& member : part.members) {
      list.part_of_body[static_cast<std::size_t>(member.body)] =
          static_cast<int>(list.parts.size());
    }
    list.parts.push_back(std::move(part));
  }
  return list;
}

}  // namespace kw
