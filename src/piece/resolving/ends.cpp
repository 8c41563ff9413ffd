// How ends are cut. An end that goes up to another board may need that board's own end, and so on:
// each is found when it is first asked for.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "place.h"
#include "steps.h"

namespace kw::resolving {
namespace {

constexpr double never_ends = 0.01;    // cosine: planes within about half a degree of the axis
constexpr double along_board = 1e-12;  // a ray that has less of a direction does not move in it
constexpr std::size_t deepest = 500;   // ends that lean on one another

double sign_of(Which which) {
  return which == at_start ? -1 : 1;
}

Plane square_end(const Part& part, Which which) {
  return which == at_start ? Plane{{-1, 0, 0}, 0} : Plane{{1, 0, 0}, part.length};
}

// Where a board's line ends, in the scene.
Vec3 end_point(const Part& part, Which which) {
  return part.board.frame.to_world(Vec3{which == at_start ? 0 : part.length, 0, 0});
}

Plane turned_round(const Plane& plane) {
  return {-plane.normal, -plane.offset};
}

class EndFinder {
 public:
  explicit EndFinder(Scene& scene) : scene_(scene) {}
  // False while the same end is being found: it cannot be had now.
  bool find(int part, Which which);

 private:
  struct Leaning {
    int part = 0;
    Which which = at_start;
  };

  [[nodiscard]] std::optional<Plane> found(int part, Which which, const EndDecl& decl);
  [[nodiscard]] std::optional<Plane> against(int part, Which which, const EndDecl& decl);
  [[nodiscard]] std::optional<Plane> named_face(int other, const Name& face, Span at);
  [[nodiscard]] std::optional<Plane> end_of(int other, Which which, Span at);
  [[nodiscard]] std::optional<Plane> first_met(int part, Which which, int other,
                                               const EndDecl& decl);
  [[nodiscard]] std::optional<Plane> mitre(int part, Which which, const Name& with);
  [[nodiscard]] std::optional<Plane> by_angles(const Part& part, Which which,
                                               const AngleEnd& angles);
  [[nodiscard]] std::optional<Plane> outward(const Part& part, Which which, const Plane& plane,
                                             Span at);
  void tell_ring(const Leaning& closing, Span at);
  void tell_missed(const Part& part, Which which, const Part& other, Span at);
  void tell_itself(const Name& name);
  void tell_too_deep(const Part& part);

  Scene& scene_;
  std::vector<Leaning> path_ = {};
};

// A ray in the frame of a board, and what of it is inside.
struct Ray {
  Vec3 from = {}, along = {};
  double enters = std::numeric_limits<double>::lowest(),
         leaves = std::numeric_limits<double>::max();
  Plane entry = {};  // in the frame of the board

  // What of it is on the inner side of one more plane.
  void cut(const Plane& plane) {
    const double across = dot(plane.normal, along), distance = plane.distance(from);
    if (std::abs(across) < along_board) {
      if (distance > 0) leaves = std::numeric_limits<double>::lowest();
      return;
    }
    const double t = -distance / across;
    if (across > 0) leaves = std::min(leaves, t);
    if (across < 0 && t > enters) {
      enters = t;
      entry = plane;
    }
  }
  [[nodiscard]] bool is_inside_somewhere() const { return enters < leaves; }
  [[nodiscard]] bool has_entry() const { return enters > std::numeric_limits<double>::lowest(); }
};

// From the middle of a board towards one of its ends, as the other board sees it, within its long
// sides.
Ray ray_towards(const Part& part, Which which, const Part& other) {
  const Frame &own = part.board.frame, &frame = other.board.frame;
  Ray ray{frame.to_local(own.to_world(Vec3{part.length / 2, 0, 0})),
          frame.direction_to_local(own.x * sign_of(which))};
  for (const std::string_view side : {"+y", "-y", "+z", "-z"})
    ray.cut(*long_side(side, other.board.section));
  return ray;
}

// Half of what a board measures across its line, in a direction across.
double half_extent(const Part& part, Vec3 across) {
  const Frame& frame = part.board.frame;
  return std::abs(dot(across, frame.y)) * part.board.section.width.in_mm() / 2 +
         std::abs(dot(across, frame.z)) * part.board.section.thickness.in_mm() / 2;
}

// A line of a board's outline where it goes into a mitre, seen along `normal`: through a point,
// along u.
Vec3 meeting_of(Vec3 p, Vec3 u, Vec3 q, Vec3 v, Vec3 normal) {
  // In the plane across `normal`: p + u s = q + v t.
  const double s = dot(cross(q - p, v), normal) / dot(cross(u, v), normal);
  return p + u * s;
}

bool EndFinder::find(int index, Which which) {
  Part& part = scene_.part(index);
  EndCut& end = part.ends[which];
  if (end.state == EndState::busy) return false;
  if (end.state == EndState::done || part.is_broken) return true;
  end.state = EndState::busy;
  path_.push_back({index, which});
  std::optional<Plane> plane;
  if (path_.size() > deepest)
    tell_too_deep(part);
  else if (part.source >= 0 && find(part.source, which))
    plane = scene_.part(part.source).ends[which].plane;
  else if (end.decl)
    plane = found(index, which, *end.decl);
  if (plane && part.is_flipped) plane = flipped(*plane);
  path_.pop_back();
  end.plane = plane.value_or(square_end(part, which));
  end.state = EndState::done;
  if (which == at_start) part.starts_at = end_on_line(part, at_start);
  return true;
}

void EndFinder::tell_too_deep(const Part& part) {
  scene_.work.faults.report(
      {.code = "piece.too-deep",
       .at = part.board.at,
       .message = fmt::format("more than {} ends lean on one another", deepest),
       .hint = "cut some of them to planes"});
}

std::optional<Plane> EndFinder::found(int index, Which which, const EndDecl& decl) {
  const Part& part = scene_.part(index);
  std::optional<Plane> plane;
  if (const auto* named = std::get_if<PlaneEnd>(&decl.how)) {
    const auto world = plane_of(scene_.work, scene_.site, named->plane);
    if (world) plane = part.board.frame.to_local(*world);
  } else if (std::holds_alternative<AgainstEnd>(decl.how)) {
    plane = against(index, which, decl);
  } else if (const auto* with = std::get_if<MitreEnd>(&decl.how)) {
    plane = mitre(index, which, with->board);
  } else if (const auto* angles = std::get_if<AngleEnd>(&decl.how)) {
    plane = by_angles(part, which, *angles);
  } else {
    plane = square_end(part, which);
  }
  if (plane) plane = outward(part, which, *plane, decl.at);
  const auto add = decl.add ? scene_.work.values.mm(*decl.add, scene_.site) : std::optional(0.0);
  if (!plane || !add) return std::nullopt;
  plane->offset += *add * std::abs(plane->normal.x);
  return tidied(*plane);
}

// The plane with its normal out of the wood.
std::optional<Plane> EndFinder::outward(const Part& part, Which which, const Plane& plane,
                                        Span at) {
  if (std::abs(plane.normal.x) >= never_ends)
    return plane.normal.x * sign_of(which) > 0 ? plane : turned_round(plane);
  scene_.work.faults.report(
      {.code = "piece.end-never-ends",
       .at = at,
       .message = fmt::format("this runs along `{}` and so never ends it", part.board.id),
       .hint = "cut the end to a plane, or against a face, that crosses the board"});
  return std::nullopt;
}

std::optional<Plane> EndFinder::by_angles(const Part& part, Which which, const AngleEnd& angles) {
  Values& values = scene_.work.values;
  const auto mitre =
      angles.mitre ? values.angle(*angles.mitre, scene_.site) : std::optional(Angle());
  const auto bevel =
      angles.bevel ? values.angle(*angles.bevel, scene_.site) : std::optional(Angle());
  if (!mitre || !bevel) return std::nullopt;
  const Vec3 normal = {sign_of(which) * cosine_of(*bevel) * cosine_of(*mitre),
                       cosine_of(*bevel) * sine_of(*mitre), sine_of(*bevel)};
  return plane_through({which == at_start ? 0 : part.length, 0, 0}, normal);
}

std::optional<Plane> EndFinder::against(int index, Which which, const EndDecl& decl) {
  const auto& how = std::get<AgainstEnd>(decl.how);
  const int other = select_one(scene_, how.board);
  if (other < 0 || scene_.part(other).is_broken) return std::nullopt;
  if (other == index) return tell_itself(how.board), std::nullopt;
  const auto in_other =
      how.face ? named_face(other, *how.face, decl.at) : first_met(index, which, other, decl);
  if (!in_other) return std::nullopt;
  return scene_.part(index).board.frame.to_local(
      scene_.part(other).board.frame.to_world(*in_other));
}

void EndFinder::tell_itself(const Name& name) {
  scene_.work.faults.report({.code = "piece.against-itself",
                             .at = name.at,
                             .message = "a board's end cannot be cut against the board itself",
                             .hint = "name the board that it meets"});
}

std::optional<Plane> EndFinder::named_face(int other, const Name& face, Span at) {
  if (face.text.empty()) return std::nullopt;
  if (face.text == "start") return end_of(other, at_start, at);
  if (face.text == "end") return end_of(other, at_end, at);
  const auto side = long_side(face.text, scene_.part(other).board.section);
  if (!side)
    scene_.work.faults.report({.code = "piece.unknown-word",
                               .at = face.at,
                               .message = fmt::format("`{}` is no side of a board", face.text),
                               .hint = "say one of +y, -y, +z, -z, start, end"});
  return side;
}

std::optional<Plane> EndFinder::end_of(int other, Which which, Span at) {
  if (find(other, which)) return scene_.part(other).ends[which].plane;
  tell_ring({other, which}, at);
  return std::nullopt;
}

// The side of the other board that the middle line meets first. Its ends are looked at only where
// the line meets the sides beyond the other's own line: so boards that run around a frame, each
// against the next, do not lean on one another in a ring.
std::optional<Plane> EndFinder::first_met(int index, Which which, int other, const EndDecl& decl) {
  Ray ray = ray_towards(scene_.part(index), which, scene_.part(other));
  const double x = ray.from.x + ray.along.x * ray.enters, length = scene_.part(other).length;
  bool may_meet = ray.is_inside_somewhere();
  if (may_meet && (!ray.has_entry() || x < 0 || x > length)) {
    for (const Which side : {at_start, at_end}) {
      const bool is_known = find(other, side);
      const Plane plane =
          is_known ? scene_.part(other).ends[side].plane : square_end(scene_.part(other), side);
      const double entered = ray.enters;
      ray.cut(plane);
      if (!is_known && ray.enters != entered)
        return tell_ring({other, side}, decl.at), std::nullopt;
    }
    may_meet = ray.is_inside_somewhere() && ray.has_entry();
  }
  if (may_meet && ray.enters > 0) return ray.entry;
  tell_missed(scene_.part(index), which, scene_.part(other), decl.at);
  return std::nullopt;
}

void EndFinder::tell_missed(const Part& part, Which which, const Part& other, Span at) {
  scene_.work.faults.report(
      {.code = "piece.does-not-meet",
       .at = at,
       .message = fmt::format("the middle line of `{}`, followed past its {}, does not meet `{}`",
                              part.board.id, which == at_start ? "start" : "end", other.board.id),
       .hint = fmt::format("name the side to cut it against, as in {{ "
                           "against = \"{}\", face = \"+z\" }}, or move it",
                           other.board.id)});
}

void EndFinder::tell_ring(const Leaning& closing, Span at) {
  Diagnostic fault{
      .code = "piece.cycle",
      .at = at,
      .message = fmt::format("this end needs the {} of `{}`, which needs this end in turn",
                             closing.which == at_start ? "start" : "end",
                             scene_.part(closing.part).board.id),
      .hint = "cut one of them to a plane, or name a long side with `face`"};
  for (const Leaning& leaning : path_) {
    const EndDecl* decl = scene_.part(leaning.part).ends[leaning.which].decl;
    if (decl && !(decl->at == at))
      fault.notes.push_back(
          {decl->at, fmt::format("the {} of `{}`", leaning.which == at_start ? "start" : "end",
                                 scene_.part(leaning.part).board.id)});
  }
  scene_.work.faults.report(std::move(fault));
}

// The plane through the inner and the outer corner of two boards that meet, seen square to both.
std::optional<Plane> EndFinder::mitre(int index, Which which, const Name& with) {
  const int other_index = select_one(scene_, with);
  if (other_index < 0 || scene_.part(other_index).is_broken) return std::nullopt;
  if (other_index == index) return tell_itself(with), std::nullopt;
  const Part &part = scene_.part(index), &other = scene_.part(other_index);
  const Vec3 corner = end_point(part, which);
  const bool is_start =
      norm(end_point(other, at_start) - corner) <= norm(end_point(other, at_end) - corner);
  const Which side = is_start ? at_start : at_end;
  const Vec3 u = part.board.frame.x * sign_of(which), v = other.board.frame.x * sign_of(side);
  if (norm(cross(u, v)) < 1e-6) {
    scene_.work.faults.report(
        {.code = "piece.mitre-parallel",
         .at = with.at,
         .message = fmt::format("`{}` and `{}` are parallel, so they share no corner",
                                part.board.id, other.board.id),
         .hint = "mitre boards that meet at an angle, or cut the end square"});
    return std::nullopt;
  }
  const Vec3 normal = unit_of(cross(u, v));
  const Vec3 out_u = unit_of(v - u * dot(u, v)), out_v = unit_of(u - v * dot(u, v));
  const Vec3 to_side_u = out_u * half_extent(part, out_u),
             to_side_v = out_v * half_extent(other, out_v);
  const Vec3 q = end_point(other, side);
  const Vec3 outer = meeting_of(corner + to_side_u, u, q + to_side_v, v, normal);
  const Vec3 inner = meeting_of(corner - to_side_u, u, q - to_side_v, v, normal);
  const Vec3 across = cross(outer - inner, normal);
  return part.board.frame.to_local(plane_through(outer, unit_of(across)));
}

}  // namespace

void find_ends(Scene& scene) {
  EndFinder finder(scene);
  for (int i = 0; i < static_cast<int>(scene.parts.size()); ++i)
    for (const Which which : {at_start, at_end}) (void)finder.find(i, which);
}

}  // namespace kw::resolving
