#include "set_out.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "kerfwright/diag/outcome.h"

namespace kw {
namespace {

const Member& member_of(const CutList& cut_list, int body) {
  const Part& part =
      cut_list
          .parts[static_cast<std::size_t>(cut_list.part_of_body[static_cast<std::size_t>(body)])];
  const auto member = std::find_if(part.members.begin(), part.members.end(),
                                   [&](const Member& m) { return m.body == body; });
  KW_ASSERT(member != part.members.end());
  return *member;
}

ShopFigure figure(double mm, Length rule) {
  const Length exact = Length::mm(mm);
  return {Way::along, exact, round_to(exact, rule)};
}

std::vector<Vec3> corners_of(const Body& body) {
  std::vector<Vec3> corners;
  for (const Face& face : body.shape->faces) {
    for (const auto& loop : face.loops) {
      for (const Vec3 p : loop) corners.push_back(body.frame.to_world(p));
    }
  }
  return corners;
}

Vec3 middle_of(const Body& body) {
  return body.frame.to_world(body.shape->centroid);
}

// The corner furthest along `along` among those on the side that `up` looks at.
Vec3 extreme(const std::vector<Vec3>& corners, Vec3 up, Vec3 along) {
  double top = -std::numeric_limits<double>::max();
  for (const Vec3 p : corners) top = std::max(top, dot(p, up));
  Vec3 best = corners.front();
  double furthest = -std::numeric_limits<double>::max();
  for (const Vec3 p : corners) {
    if (dot(p, up) < top - 0.5 || dot(p, along) <= furthest) continue;
    furthest = dot(p, along);
    best = p;
  }
  return best;
}

}  // namespace

std::vector<SetOut> set_out(const std::vector<Body>& bodies, const CutList& cut_list,
                            const std::vector<Contact>& contacts, int on, int of) {
  std::vector<SetOut> marks;
  const Body& body = bodies[static_cast<std::size_t>(on)];
  const Lie& lie = member_of(cut_list, on).lie;
  const double length = body.shape->high.x - body.shape->low.x;
  for (const Contact& c : contacts) {
    if (c.patch.empty() || std::minmax(on, of) != std::minmax(c.a, c.b)) continue;
    const Face& face = body.shape->faces[static_cast<std::size_t>(c.a == on ? c.face_a : c.face_b)];
    if (face.feature != 0 || std::abs(face.plane.normal.x) > 0.5) continue;
    double from = std::numeric_limits<double>::max(), to = -from;
    for (const auto& loop : c.patch) {
      for (const Vec3 p : loop) {
        const double x = lie.to_bench(body.frame.to_local(p)).x;
        from = std::min(from, x);
        to = std::max(to, x);
      }
    }
    if (from < 0.5 && to > length - 0.5) continue;
    const SetOut mark{on, of, figure(from, cut_list.rule), figure(to, cut_list.rule)};
    const auto same = [&](const SetOut& m) {
      return m.from.printed == mark.from.printed && m.to.printed == mark.to.printed;
    };
    if (std::none_of(marks.begin(), marks.end(), same)) marks.push_back(mark);
  }
  return marks;
}

std::vector<Diagonals> diagonals_between(const std::vector<Body>& bodies, Length rule, int a,
                                         int b) {
  const Body& first = bodies[static_cast<std::size_t>(a)];
  const Body& second = bodies[static_cast<std::size_t>(b)];
  const Vec3 along = first.frame.x;
  if (std::abs(dot(along, second.frame.x)) < 1 - 1e-6) return {};
  Vec3 between = middle_of(second) - middle_of(first);
  between = between - along * dot(between, along);
  if (norm(between) < 50) return {};
  Vec3 up = unit(cross(along, between));
  if (up.z < 0) up = -up;
  const auto of_a = corners_of(first), of_b = corners_of(second);
  const Vec3 out = unit(between);  // corners furthest apart come first, then those furthest along
  const auto reach = [&](double side_a, double side_b) {
    const Vec3 p = extreme(of_a, up, along * side_a - out * 1e-3);
    const Vec3 q = extreme(of_b, up, along * side_b + out * 1e-3);
    return figure(norm(q - p), rule);
  };
  return {{a, b, reach(-1, 1), reach(1, -1)}};
}

}  // namespace kw
