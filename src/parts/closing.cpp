#include "kerfwright/parts/closing.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "lie.h"
#include "settle.h"

namespace kw {
namespace {

constexpr int most_trials = 600;

// A touch with the rules that place its two faces.
struct Ruled {
  int joint = -1;
  int part_a = -1, rule_a = -1, part_b = -1,
      rule_b = -1;            // rule -1: the face is not placed by a number
  Vec3 at_a = {}, at_b = {};  // the touch on each bench
};

struct Assembly {
  std::vector<Touch> touches = {};
  std::vector<Ruled> ruled = {};
};

bool is_same_plane(const Plane& a, const Plane& b, Vec3 at) {
  return dot(a.normal, b.normal) > 1 - 1e-8 && std::abs(a.distance(at)) < 2e-3 &&
         std::abs(b.distance(at)) < 2e-3;
}

// The rule of a part that made this face, told by where its exact plane lies.
int rule_of(const Part& part, const Plane& face, Vec3 at) {
  for (std::size_t i = 0; i < part.rules.size(); ++i) {
    if (is_same_plane(plane_of(part, part.rules[i], false), face, at)) return static_cast<int>(i);
  }
  return -1;
}

using JointOf = std::map<std::pair<int, int>, int>;

JointOf joints_by_pair(const Resolved& piece) {
  JointOf joints;
  for (std::size_t i = 0; i < piece.joints.size(); ++i) {
    const auto& joint = piece.joints[i];
    joints.emplace(std::minmax(joint.a, joint.b), static_cast<int>(i));
  }
  return joints;
}

const Lie& lie_of(const Part& part, int body) {
  const auto member = std::find_if(part.members.begin(), part.members.end(),
                                   [&](const Member& m) { return m.body == body; });
  KW_ASSERT(member != part.members.end());
  return member->lie;
}

struct Placing {
  int part = -1, rule = -1;
  Vec3 at = {};
};

Placing placing_of(const CutList& list, const std::vector<Body>& bodies, int body, int face,
                   Vec3 world) {
  Placing placing{.part = list.part_of_body[static_cast<std::size_t>(body)]};
  const Part& part = list.parts[static_cast<std::size_t>(placing.part)];
  const Body& b = bodies[static_cast<std::size_t>(body)];
  const Lie& lie = lie_of(part, body);
  placing.at = lie.to_bench(b.frame.to_local(world));
  const Plane plane = to_bench(lie, b.shape->faces[static_cast<std::size_t>(face)].plane);
  placing.rule = rule_of(part, plane, placing.at);
  return placing;
}

void add_contact(Assembly& assembly, const CutList& list, const std::vector<Body>& bodies,
                 const Contact& contact, int joint) {
  const Body& a = bodies[static_cast<std::size_t>(contact.a)];
  const Vec3 normal = a.frame.direction_to_world(
      a.shape->faces[static_cast<std::size_t>(contact.face_a)].plane.normal);
  std::size_t corners = 0;
  for (const auto& loop : contact.patch) corners += loop.size();
  const double weight = contact.area.value / std::max<double>(1, static_cast<double>(corners));
  for (const auto& loop : contact.patch) {
    for (const Vec3& at : loop) {
      const Placing pa = placing_of(list, bodies, contact.a, contact.face_a, at);
      const Placing pb =
          placing_of(list, bodies, contact.b, contact.face_b, at + normal * contact.gap);
      assembly.touches.push_back({contact.a, contact.b, at, normal, weight});
      assembly.ruled.push_back({joint, pa.part, pa.rule, pb.part, pb.rule, pa.at, pb.at});
    }
  }
}

Assembly assembly_of(const Resolved& piece, const std::vector<Body>& bodies, const CutList& list) {
  double widest = 0.01;
  for (const auto& joint : piece.joints) widest = std::max(widest, 0.01 + joint.ease / 2);
  const JointOf joints = joints_by_pair(piece);
  Assembly assembly;
  for (const Contact& contact : contacts_in(bodies, std::min(widest, 3.0))) {
    const int board_a = bodies[static_cast<std::size_t>(contact.a)].board;
    const int board_b = bodies[static_cast<std::size_t>(contact.b)].board;
    const auto joint = joints.find(std::minmax(board_a, board_b));
    add_contact(assembly, list, bodies, contact, joint == joints.end() ? -1 : joint->second);
  }
  return assembly;
}

// How far the printed numbers move a face out of the wood at a place on it.
double moved_out(const CutList& list, int part, int rule, Vec3 at) {
  if (rule < 0) return 0;
  const Part& p = list.parts[static_cast<std::size_t>(part)];
  const PlaneRule& r = p.rules[static_cast<std::size_t>(rule)];
  return plane_of(p, r, false).distance(at) - plane_of(p, r, true).distance(at);
}

std::vector<double> openings_of(const Assembly& assembly, const CutList& list) {
  std::vector<double> openings;
  openings.reserve(assembly.ruled.size());
  for (const Ruled& r : assembly.ruled) {
    openings.push_back(-moved_out(list, r.part_a, r.rule_a, r.at_a) -
                       moved_out(list, r.part_b, r.rule_b, r.at_b));
  }
  return openings;
}

struct Fit {
  double gap = 0, clash = 0, squares = 0;
  std::size_t worst = 0;  // index of the touch
  [[nodiscard]] double size() const { return std::max(gap, clash); }
};

Fit fit_of(const Assembly& assembly, const Settling& settling, const CutList& list,
           std::vector<double>* left = nullptr) {
  const auto after = settling.settle(openings_of(assembly, list));
  Fit fit;
  for (std::size_t i = 0; i < after.size(); ++i) {
    if (std::abs(after[i]) > fit.size()) fit.worst = i;
    fit.gap = std::max(fit.gap, after[i]);
    fit.clash = std::max(fit.clash, -after[i]);
    fit.squares += after[i] * after[i];
  }
  if (left != nullptr) *left = after;
  return fit;
}

bool is_better(const Fit& a, const Fit& b) {
  if (a.size() < b.size() - 1e-6) return true;
  return a.size() < b.size() + 1e-6 && a.squares < b.squares - 1e-9;
}

// The other way to round a figure; nothing when it stands on the rule or is a size of the stick.
std::optional<Length> other_rounding(const Part& part, int figure, Length rule) {
  const ShopFigure& f = part.figures[static_cast<std::size_t>(figure)];
  if (figure == part.thickness || f.printed == f.exact) return std::nullopt;
  const Length down = round_to(f.exact, rule, Rounding::down);
  const Length up = round_to(f.exact, rule, Rounding::up);
  if (down == up) return std::nullopt;
  return f.printed == down ? up : down;
}

struct Choice {
  int part = 0, figure = 0;
  friend bool operator==(const Choice&, const Choice&) = default;
};

// The figures that place faces of any joint the two parts of a touch take part in: nearest first.
std::vector<Choice> choices_near(const Assembly& assembly, const CutList& list, std::size_t worst) {
  std::vector<Choice> choices;
  const auto add = [&](int part, int rule) {
    if (rule < 0) return;
    const auto& r =
        list.parts[static_cast<std::size_t>(part)].rules[static_cast<std::size_t>(rule)];
    for (const int figure : {r.figure, r.second}) {
      const Choice choice{part, figure};
      if (figure >= 0 && std::find(choices.begin(), choices.end(), choice) == choices.end()) {
        choices.push_back(choice);
      }
    }
  };
  const Ruled& w = assembly.ruled[worst];
  add(w.part_a, w.rule_a);
  add(w.part_b, w.rule_b);
  for (const int part : {w.part_a, w.part_b}) {
    const auto& rules = list.parts[static_cast<std::size_t>(part)].rules;
    for (std::size_t i = 0; i < rules.size(); ++i) add(part, static_cast<int>(i));
  }
  for (const Ruled& r : assembly.ruled) {
    const bool is_near = r.part_a == w.part_a || r.part_b == w.part_a || r.part_a == w.part_b ||
                         r.part_b == w.part_b;
    if (!is_near) continue;
    add(r.part_a, r.rule_a);
    add(r.part_b, r.rule_b);
  }
  return choices;
}

// Turns roundings one by one, at the worst place first, while that helps.
Fit choose_roundings(const Assembly& assembly, const Settling& settling, CutList& list, Fit now,
                     double limit) {
  int trials = 0;
  bool helped = true;
  while (helped && now.size() > limit && trials < most_trials) {
    helped = false;
    for (const Choice& choice : choices_near(assembly, list, now.worst)) {
      Part& part = list.parts[static_cast<std::size_t>(choice.part)];
      const auto other = other_rounding(part, choice.figure, list.rule);
      if (!other || ++trials > most_trials) continue;
      Length& printed = part.figures[static_cast<std::size_t>(choice.figure)].printed;
      const Length before = std::exchange(printed, *other);
      const Fit trial = fit_of(assembly, settling, list);
      if (is_better(trial, now)) {
        now = trial;
        helped = true;
        break;
      }
      printed = before;
    }
  }
  return now;
}

int chosen_in(const CutList& list) {
  int chosen = 0;
  for (const Part& part : list.parts) {
    chosen += static_cast<int>(
        std::count_if(part.figures.begin(), part.figures.end(), [&](const ShopFigure& f) {
          return f.printed != f.exact && f.printed != round_to(f.exact, list.rule);
        }));
  }
  return chosen;
}

std::vector<JointClosing> by_joint(const Assembly& assembly, const std::vector<double>& left) {
  std::map<std::tuple<int, int, int>, JointClosing> joints;
  for (std::size_t i = 0; i < left.size(); ++i) {
    const Touch& t = assembly.touches[i];
    auto& closing = joints[{assembly.ruled[i].joint, t.a, t.b}];
    closing.joint = assembly.ruled[i].joint;
    closing.a = t.a;
    closing.b = t.b;
    closing.gap = std::max(closing.gap, left[i]);
    closing.clash = std::max(closing.clash, -left[i]);
  }
  std::vector<JointClosing> all;
  for (const auto& [key, closing] : joints) all.push_back(closing);
  return all;
}

}  // namespace

Closing close_up(const Resolved& piece, const std::vector<Body>& bodies, CutList& cut_list) {
  const Assembly assembly = assembly_of(piece, bodies, cut_list);
  std::vector<Vec3> centres;
  for (const Body& body : bodies) centres.push_back(body.frame.to_world(body.shape->centroid));
  const Settling settling(assembly.touches, centres);
  const double limit = cut_list.rule.in_mm() / 2 + 1e-6;
  const Fit naive = fit_of(assembly, settling, cut_list);
  const Fit best = choose_roundings(assembly, settling, cut_list, naive, limit);
  std::vector<double> left;
  static_cast<void>(fit_of(assembly, settling, cut_list, &left));
  Closing closing{.joints = by_joint(assembly, left),
                  .worst_gap = best.gap,
                  .worst_clash = best.clash,
                  .naive_gap = naive.gap,
                  .naive_clash = naive.clash,
                  .chosen = chosen_in(cut_list),
                  .closes = best.size() <= limit};
  return closing;
}

}  // namespace kw
