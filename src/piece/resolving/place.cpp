#include "place.h"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace kw::resolving {
namespace {

struct AxisWord {
  std::string_view word = {};
  Vec3 axis = {};
};
constexpr std::array axis_words = {
    AxisWord{"x", {1, 0, 0}},     AxisWord{"y", {0, 1, 0}},      AxisWord{"z", {0, 0, 1}},
    AxisWord{"+x", {1, 0, 0}},    AxisWord{"-x", {-1, 0, 0}},    AxisWord{"+y", {0, 1, 0}},
    AxisWord{"-y", {0, -1, 0}},   AxisWord{"+z", {0, 0, 1}},     AxisWord{"-z", {0, 0, -1}},
    AxisWord{"up", {0, 0, 1}},    AxisWord{"down", {0, 0, -1}},  AxisWord{"left", {-1, 0, 0}},
    AxisWord{"right", {1, 0, 0}}, AxisWord{"front", {0, -1, 0}}, AxisWord{"back", {0, 1, 0}}};

constexpr double shortest = 1e-6;  // mm: less is no length
constexpr double parallel = 1e-6;  // sine of the angle below which directions are parallel

std::optional<Vec3> named_point(Work& work, int site, const Name& name) {
  if (name.text.empty()) return std::nullopt;
  const NameTable& points = work.sites.names(site).points;
  const auto found = find(points, name.text);
  if (!found) {
    work.faults.report({.code = "piece.unknown-point",
                        .at = name.at,
                        .message = fmt::format("no point is called `{}`", name.text),
                        .hint = hint_for(name.text, names_in(points), "points")});
    return std::nullopt;
  }
  std::array<double, 3> mm = {};
  for (int axis = 0; axis < 3; ++axis) {
    const auto value = work.values.of(Node{site, Of::coordinate, 3 * *found + axis}, name.at);
    const auto along = value ? work.values.mm(*value, name.at) : std::nullopt;
    if (!along) return std::nullopt;
    mm[at_index(axis)] = *along;
  }
  return Vec3{mm[0], mm[1], mm[2]};
}

std::optional<Vec3> written_point(Work& work, int site, const Formula3& point) {
  const auto x = work.values.mm(point[0], site), y = work.values.mm(point[1], site),
             z = work.values.mm(point[2], site);
  if (!x || !y || !z) return std::nullopt;
  return Vec3{*x, *y, *z};
}

std::nullopt_t no_direction(Work& work, Span at) {
  work.faults.report({.code = "piece.no-direction",
                      .at = at,
                      .message = "this has no length, so it points nowhere",
                      .hint = "one of the three figures must not be zero; two points must differ"});
  return std::nullopt;
}

// [x, y, z] as numbers or as lengths, all alike.
std::optional<Vec3> written_direction(Work& work, int site, const Formula3& three, Span at) {
  std::array<std::optional<Value>, 3> values = {};
  Value kind = value_of(0.0);
  for (std::size_t i = 0; i < 3; ++i) {
    values[i] = work.values.of(three[i], site);
    if (!values[i]) return std::nullopt;
    if (values[i]->dimension == a_length) kind = *values[i];
  }
  std::array<double, 3> amounts = {};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto alike = work.values.like(kind, *values[i], three[i].at);
    if (!alike) return std::nullopt;
    amounts[i] = alike->amount;
  }
  const Vec3 v = {amounts[0], amounts[1], amounts[2]};
  if (norm(v) < 1e-9) return no_direction(work, at);
  return unit_of(v);
}

std::optional<Vec3> unturned(Work& work, int site, const Direction& direction) {
  if (const auto* name = std::get_if<Name>(&direction.is)) return axis_of(work, *name);
  if (const auto* three = std::get_if<Formula3>(&direction.is))
    return written_direction(work, site, *three, direction.at);
  const auto& [from, to] = std::get<2>(direction.is);
  const auto a = point_of(work, site, from), b = point_of(work, site, to);
  if (!a || !b) return std::nullopt;
  if (norm(*b - *a) < shortest) return no_direction(work, direction.at);
  return unit_of(*b - *a);
}

// The line's start and its vector.
struct Line {
  Vec3 start = {}, along = {};
  double length = 0;
};

std::nullopt_t no_length(Work& work, Span at) {
  work.faults.report({.code = "piece.no-length",
                      .at = at,
                      .message = "the board has no length: its two points are the same place",
                      .hint = "give it two points that differ, or a length above zero"});
  return std::nullopt;
}

std::optional<Line> line_of(Work& work, int site, const PlacementDecl& placement, Span at) {
  if (placement.runs) {
    const auto from = point_of(work, site, (*placement.runs)[0]);
    const auto to = point_of(work, site, (*placement.runs)[1]);
    if (!from || !to) return std::nullopt;
    const double length = norm(*to - *from);
    if (length < shortest) return no_length(work, at);
    return Line{*from, unit_of(*to - *from), length};
  }
  if (!placement.from || !placement.along || !placement.length) return std::nullopt;
  const auto from = point_of(work, site, *placement.from);
  const auto along = direction_of(work, site, *placement.along);
  const auto length = work.values.positive_mm(*placement.length, site);
  if (!from || !along || !length) return std::nullopt;
  return Line{*from, *along, *length};
}

// The part of `face` that is square to the unit vector `along`; empty when they are parallel.
std::optional<Vec3> square_to(Vec3 along, Vec3 face) {
  const Vec3 z = face - along * dot(along, face);
  return norm(z) < parallel ? std::nullopt : std::optional(unit_of(z));
}

// Where the broad face looks when nothing is said: up, or to the front on a board that stands.
Vec3 usual_face(Vec3 along) {
  const Vec3 up = {0, 0, 1}, front = {0, -1, 0};
  const bool stands = std::abs(along.z) > std::sqrt(0.5) + 1e-9;
  return *square_to(along, stands ? front : up);
}

std::optional<Vec3> face_of(Work& work, int site, const PlacementDecl& placement, Vec3 along) {
  if (!placement.face) return usual_face(along);
  const auto face = direction_of(work, site, *placement.face);
  if (!face) return std::nullopt;
  const auto square = square_to(along, *face);
  if (!square)
    work.faults.report({.code = "piece.face-along-board",
                        .at = placement.face->at,
                        .message = "the face looks along the board itself",
                        .hint = "give `face` a direction across the board"});
  return square;
}

// How far the board's middle stands from its line: -1, 0 or 1 times half its size.
std::optional<double> held(Work& work, const Name& word) {
  if (word.text == "low") return 1;
  if (word.text == "middle") return 0;
  if (word.text == "high") return -1;
  if (!word.text.empty())
    work.faults.report({.code = "piece.unknown-word",
                        .at = word.at,
                        .message = fmt::format("`{}` is no place to hold a board by", word.text),
                        .hint = hint_for(word.text, {"low", "middle", "high"}, "places")});
  return std::nullopt;
}

// From the line to the board's middle line, across and through.
std::optional<Vec2> moved_by(Work& work, int site, const PlacementDecl& placement,
                             const Section& section) {
  Vec2 move = {};
  if (placement.hold) {
    const auto across = held(work, (*placement.hold)[0]),
               through = held(work, (*placement.hold)[1]);
    if (!across || !through) return std::nullopt;
    move = {*across * section.width.in_mm() / 2, *through * section.thickness.in_mm() / 2};
  }
  if (placement.shift) {
    const auto across = work.values.mm((*placement.shift)[0], site);
    const auto through = work.values.mm((*placement.shift)[1], site);
    if (!across || !through) return std::nullopt;
    move = move + Vec2{*across, *through};
  }
  return move;
}

}  // namespace

Vec3 unit_of(Vec3 a) {
  const double n = norm(a);
  return {a.x / n, a.y / n, a.z / n};
}

Vec3 turned(Vec3 v, Vec3 axis, Angle angle) {
  const Vec3 along = axis * dot(axis, v), across = v - along;
  return along + across * cosine_of(angle) + cross(axis, across) * sine_of(angle);
}

std::optional<Vec3> axis_called(std::string_view word) {
  for (const AxisWord& known : axis_words)
    if (known.word == word) return known.axis;
  return std::nullopt;
}

std::optional<Vec3> axis_of(Work& work, const Name& word) {
  const auto axis = axis_called(word.text);
  if (axis || word.text.empty()) return axis;
  std::vector<std::string> known;
  for (const AxisWord& name : axis_words) known.emplace_back(name.word);
  const std::string nearest = nearest_name(word.text, known);
  work.faults.report({.code = "piece.unknown-word",
                      .at = word.at,
                      .message = fmt::format("`{}` is no direction", word.text),
                      .hint = nearest.empty()
                                  ? "say +x -x +y -y +z -z, or up down left right front back"
                                  : fmt::format("did you mean `{}`?", nearest)});
  return std::nullopt;
}

std::optional<Vec3> point_of(Work& work, int site, const PointRef& point) {
  if (const auto* name = std::get_if<Name>(&point)) return named_point(work, site, *name);
  return written_point(work, site, std::get<Formula3>(point));
}

std::optional<Vec3> direction_of(Work& work, int site, const Direction& direction) {
  const auto is = unturned(work, site, direction);
  if (!direction.turn || !direction.about) return is;
  const auto angle = work.values.angle(*direction.turn, site);
  const auto axis = axis_of(work, *direction.about);
  if (!is || !angle || !axis) return std::nullopt;
  return unit_of(turned(*is, *axis, *angle));
}

Plane plane_through(Vec3 point, Vec3 normal) {
  return {normal, dot(normal, point)};
}

std::optional<Plane> plane_of(Work& work, int site, const PlaneDecl& plane) {
  const auto at = point_of(work, site, plane.at);
  const auto faces = direction_of(work, site, plane.faces);
  if (!at || !faces) return std::nullopt;
  return plane_through(*at, *faces);
}

namespace {

std::optional<Plane> plane_called(Work& work, int site, std::string_view name) {
  if (const auto found = find(work.sites.names(site).planes, name))
    return plane_of(work, site, work.sites.scope(site).planes[at_index(*found)]);
  return name == "floor" ? std::optional(Plane{{0, 0, -1}, 0}) : std::nullopt;
}

bool is_plane(const Work& work, int site, std::string_view name) {
  return name == "floor" || find(work.sites.names(site).planes, name);
}

void unknown_plane(Work& work, int site, const Name& name,
                   std::initializer_list<std::string_view> others) {
  if (name.text.empty()) return;
  std::vector<std::string> known = names_in(work.sites.names(site).planes);
  known.insert(known.end(), others.begin(), others.end());
  work.faults.report({.code = "piece.unknown-plane",
                      .at = name.at,
                      .message = fmt::format("no plane is called `{}`", name.text),
                      .hint = hint_for(name.text, known, "planes")});
}

}  // namespace

std::optional<Plane> plane_of(Work& work, int site, const Name& name) {
  if (is_plane(work, site, name.text)) return plane_called(work, site, name.text);
  unknown_plane(work, site, name, {"floor"});
  return std::nullopt;
}

std::optional<Plane> glass_of(Work& work, int site, const Name& name) {
  if (is_plane(work, site, name.text)) return plane_called(work, site, name.text);
  if (name.text.size() == 1)
    if (const auto axis = axis_called(name.text)) return Plane{*axis, 0};
  unknown_plane(work, site, name, {"floor", "x", "y", "z"});
  return std::nullopt;
}

std::optional<Lie> lie_of(Work& work, int site, const PlacementDecl& placement,
                          const Section& section, Span at) {
  const auto line = line_of(work, site, placement, at);
  const auto move = moved_by(work, site, placement, section);
  if (!line || !move) return std::nullopt;
  const auto z = face_of(work, site, placement, line->along);
  if (!z) return std::nullopt;
  const Vec3 y = cross(*z, line->along);
  return Lie{{line->start + y * move->x + *z * move->y, line->along, y, *z}, line->length};
}

}  // namespace kw::resolving
