// Does it bear its loads? Stress, sag and joints, of the worst load case.
#include <algorithm>
#include <cmath>

#include "survey/bearing.h"

namespace kw::surveying {
namespace {

constexpr std::string_view frame_source =
    "3D frame of beams and springs, linear; NDS 2018 for strengths and fasteners";
constexpr std::string_view frame_assumption =
    "boards are beams along their grain, panels strips of their width; contacts are springs (wood "
    "pressed across the grain E/20, screws EN 1995-1-1 Table 7.1, from memory); feet do not slide; "
    "cuts lessen the section, holes do not; computed, not tested: follow local codes, and ask "
    "someone licensed where people could be hurt";

struct LoadCase {
  std::string name = {};
  FrameLoads loads = {};
  Duration duration = Duration::permanent;
  bool stays = false;  // long enough to creep
  bool is_people = false;
};

Vec3 down(double newton) {
  return {0, 0, -newton};
}

// The amount in N, N/mm, or N/mm2 (a mass weighs), and how many lengths it is over.
struct Amount {
  double newton = 0;
  int per_length = 0;
};
std::optional<Amount> amount_of(const Value& value) {
  const Dimension& d = value.dimension;
  if (d.mass != 1) return std::nullopt;
  const bool is_force = d.time == -2;
  const int per = is_force ? 1 - d.length : -d.length;
  const double si = in_si(value) * (is_force ? 1 : gravity_n_per_kg);
  return Amount{si / std::pow(1000.0, per), per};
}

class Loader {
 public:
  Loader(const Scene& scene, const Bearing& bearing) : scene_(scene), bearing_(bearing) {}

  std::vector<LoadCase> cases() {
    cases_.push_back({"its own weight", {}, Duration::permanent, true});
    for (const ResolvedLoad& load : scene_.piece.loads) add(load);
    return std::move(cases_);
  }

 private:
  void add(const ResolvedLoad& load) {
    constexpr double person = 1112;  // N: 250 lbf, 2010 ADA Standards 903.6
    Amount amount = amount_of(load.each).value_or(Amount{load.kind == "people" ? person : 0, 0});
    if (load.kind == "people" || (load.kind == "point" && amount.per_length == 0))
      return add_points(load, amount.newton);
    if (load.kind == "wind") return add_wind(load, amount);
    add_even(load, amount);
  }

  [[nodiscard]] Vec3 middle_of(int body) const {
    const Wood& wood = scene_.woods[at(body)];
    return wood.frame.to_world(Vec3{(wood.shape->low.x + wood.shape->high.x) / 2, 0, 0});
  }

  // A person or a point load on the middle of each board in turn; a person is spread over the named
  // boards within 200 mm of it.
  void add_points(const ResolvedLoad& load, double newton) {
    constexpr double reach = 200;
    constexpr std::size_t most_cases = 12;
    const std::size_t step = load.on.size() / most_cases + 1;
    for (std::size_t i = 0; i < load.on.size(); i += step) {
      const int body = scene_.body_of[at(load.on[i])];
      if (body < 0) continue;
      const Vec3 place = middle_of(body);
      std::vector<int> nodes;
      for (const int other : load.on) {
        const int b = scene_.body_of[at(other)];
        if (b < 0) continue;
        const double along = along_near(b, place);
        const Wood& wood = scene_.woods[at(b)];
        const Vec3 nearest = wood.frame.to_world(Vec3{along, 0, 0});
        const bool shares = load.kind == "people" &&
                            std::hypot(nearest.x - place.x, nearest.y - place.y) <= reach &&
                            std::abs(nearest.z - place.z) < 100;
        if (b == body || shares) nodes.push_back(node_at(bearing_, b, along));
      }
      LoadCase one{fmt::format("load `{}` on `{}`", load.name, scene_.id(load.on[i])),
                   {},
                   Duration::ten_years,
                   false,
                   load.kind == "people"};
      for (const int node : nodes)
        one.loads.nodes.push_back({node, down(newton / static_cast<double>(nodes.size()))});
      cases_.push_back(std::move(one));
    }
  }
  [[nodiscard]] double along_near(int body, Vec3 p) const {
    const Wood& wood = scene_.woods[at(body)];
    return std::clamp(wood.frame.to_local(p).x, wood.shape->low.x, wood.shape->high.x);
  }

  // The width (mm) that a board shows to a direction.
  [[nodiscard]] double shown(int board, Vec3 way) const {
    const ResolvedBoard& b = scene_.board(board);
    const Wood& wood = scene_.woods[at(scene_.body_of[at(board)])];
    return b.section.width.in_mm() * std::abs(dot(wood.frame.z, way)) +
           b.section.thickness.in_mm() * std::abs(dot(wood.frame.y, way));
  }

  void spread(const ResolvedLoad& load, const Amount& amount, Vec3 way, LoadCase& into) const {
    into.loads.even.resize(bearing_.model.members.size());
    double whole = 0;
    for (const int board : load.on) whole += length_of(board);
    for (const int board : load.on) {
      const int body = scene_.body_of[at(board)];
      if (body < 0) continue;
      double per_mm = amount.newton;
      if (amount.per_length == 0) per_mm = whole > 0 ? amount.newton / whole : 0;
      if (amount.per_length == 2) per_mm = amount.newton * shown(board, way);
      for (const int member : bearing_.beams[at(body)].members)
        into.loads.even[at(member)] += way * per_mm;
    }
  }
  [[nodiscard]] double length_of(int board) const {
    const int body = scene_.body_of[at(board)];
    if (body < 0) return 0;
    const Shape& shape = *scene_.woods[at(body)].shape;
    return shape.high.x - shape.low.x;
  }

  void add_even(const ResolvedLoad& load, const Amount& amount) {
    if (amount.per_length > 2 || amount.newton <= 0) return;
    LoadCase one{fmt::format("load `{}`", load.name), {}, Duration::ten_years, true};
    if (load.kind == "snow") one.duration = Duration::two_months;
    if (load.kind == "soil") one.duration = Duration::permanent;
    spread(load, amount, {0, 0, -1}, one);
    cases_.push_back(std::move(one));
  }

  void add_wind(const ResolvedLoad& load, const Amount& amount) {
    for (const Vec3 way : {Vec3{1, 0, 0}, Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, -1, 0}}) {
      LoadCase one{fmt::format("load `{}`", load.name), {}, Duration::ten_minutes};
      spread(load, amount, way, one);
      cases_.push_back(std::move(one));
    }
  }

  const Scene& scene_;
  const Bearing& bearing_;
  std::vector<LoadCase> cases_ = {};
};

// What one board is used to in one case.
struct Use {
  double stress = 0, shear = 0, sag = 0, span = 0;
  std::string basis = {}, load = {};
  bool is_people = false;
};

struct JointUse {
  double ratio = 0;
  double shear = 0, pull = 0;              // N on the joint
  double shear_limit = 0, pull_limit = 0;  // N
  std::string load = {};
};

class Judge {
 public:
  Judge(Scene& scene, const Bearing& bearing)
      : scene_(scene),
        bearing_(bearing),
        uses_(scene.woods.size()),
        joints_(scene.piece.joints.size()) {}

  void weigh(const LoadCase& load, const FrameAnswer& answer) {
    for (std::size_t b = 0; b < bearing_.beams.size(); ++b) weigh_board(load, answer, b);
    std::vector<std::array<double, 2>> demand(joints_.size(), {0, 0});
    for (std::size_t l = 0; l < bearing_.links.size(); ++l) add_demand(answer, l, demand);
    for (std::size_t j = 0; j < joints_.size(); ++j)
      if (demand[j][0] > 0 || demand[j][1] > 0) weigh_joint(load, static_cast<int>(j), demand[j]);
  }

  void tell();
  [[nodiscard]] const std::vector<Use>& uses() const { return uses_; }

 private:
  void weigh_board(const LoadCase& load, const FrameAnswer& answer, std::size_t b);
  void add_demand(const FrameAnswer& answer, std::size_t l,
                  std::vector<std::array<double, 2>>& demand) const;
  void weigh_joint(const LoadCase& load, int joint, std::array<double, 2> demand);
  [[nodiscard]] std::array<double, 2> capacity(int joint, Duration duration) const;
  [[nodiscard]] double sag_of(const FrameAnswer& answer, const BeamBoard& beam) const;
  void tell_stress();
  void tell_sag();
  void tell_joints();

  Scene& scene_;
  const Bearing& bearing_;
  std::vector<Use> uses_;
  std::vector<JointUse> joints_;
};

// How far the board's nodes leave the straight line between its ends.
double Judge::sag_of(const FrameAnswer& answer, const BeamBoard& beam) const {
  const double from = beam.along.front(), length = beam.along.back() - from;
  const Vec3 first = answer.moved[at(beam.nodes.front())],
             last = answer.moved[at(beam.nodes.back())];
  double sag = 0;
  for (std::size_t i = 0; i < beam.nodes.size(); ++i) {
    const double t = length > 0 ? (beam.along[i] - from) / length : 0;
    sag = std::max(sag, norm(answer.moved[at(beam.nodes[i])] - first * (1 - t) - last * t));
  }
  return sag;
}

void Judge::weigh_board(const LoadCase& load, const FrameAnswer& answer, std::size_t b) {
  const BeamBoard& beam = bearing_.beams[b];
  const int board = scene_.woods[b].board;
  const ResolvedBoard& given = scene_.board(board);
  const Species* wood = scene_.species_of(board);
  Use& use = uses_[b];
  const double creep = load.stays ? creep_factor(scene_.is_outdoors) : 1;
  const double sag = sag_of(answer, beam) * creep;
  if (sag > use.sag) {
    use.sag = sag;
    use.is_people = load.is_people;
  }
  use.span = beam.along.back() - beam.along.front();
  if (wood == nullptr) return;
  const double width = given.section.width.in_inches();
  const DesignValues values = values_for(scene_.catalogue, *wood, "", width);
  if (values.bending == 0) return;
  const double size = values.takes_size_factor ? size_factor_of_bending(width) : 1;
  const WetFactors wet = scene_.is_outdoors ? wet_factors(values, size) : WetFactors{};
  const double time = duration_factor(load.duration);
  const double bending = values.bending * size * wet.bending * time * psi;
  const double pull =
      (values.tension > 0 ? values.tension : 0.55 * values.bending) * size * time * psi;
  const double push =
      (values.crush_along > 0 ? values.crush_along : values.bending) * wet.crush_along * time * psi;
  const double shear = values.shear * wet.shear * time * psi;
  for (std::size_t m = 0; m < beam.members.size(); ++m) {
    const MemberForces& f = answer.members[at(beam.members[m])];
    const Profile& p = beam.profiles[m];
    const double thick = std::sqrt(12 * p.inertia_y / p.area),
                 wide = std::sqrt(12 * p.inertia_z / p.area);
    const double axial = f.at_to[0];
    const double stress = f.most_bending_y * thick / 2 / p.inertia_y / bending +
                          f.most_bending_z * wide / 2 / p.inertia_z / bending +
                          std::abs(axial) / p.area / (axial > 0 ? pull : push);
    const double cut =
        std::max(std::hypot(f.at_from[1], f.at_from[2]), std::hypot(f.at_to[1], f.at_to[2]));
    use.shear = std::max(use.shear, shear > 0 ? 1.5 * cut / p.area / shear : 0);
    if (stress <= use.stress) continue;
    use.stress = stress;
    use.basis = values.basis;
    use.load = load.name;
  }
}

void Judge::add_demand(const FrameAnswer& answer, std::size_t l,
                       std::vector<std::array<double, 2>>& demand) const {
  const LinkOrigin& origin = bearing_.links[l];
  if (origin.joint < 0) return;
  const Vec3 force = answer.link_forces[l], moment = answer.link_moments[l];
  auto& [shear, pull] = demand[at(origin.joint)];
  shear += std::hypot(force.x, force.y);
  // The link's z looks from a to b; b pulled away feels a force towards a, below zero.
  pull += std::max(0.0, -force.z) + std::abs(moment.x) / std::max(1.0, 1.5 * origin.reach_y) +
          std::abs(moment.y) / std::max(1.0, 1.5 * origin.reach_x);
}

// Below the least penetration that the standard counts, down to three diameters, still in
// proportion: light furniture is screwed so every day (common practice, no published source).
double counted_share(Holding kind, double bite, double diameter) {
  const double counted = penetration_factor(kind, bite, diameter);
  const bool is_lag = kind == Holding::lag_screw;
  if (counted > 0 || is_lag || bite < 3 * diameter) return counted;
  return bite / (10 * diameter);
}

// What a joint's fasteners or glue may be counted on for: across its face, and pulled off it.
std::array<double, 2> Judge::capacity(int joint, Duration duration) const {
  const double time = duration_factor_of_connection(duration);
  double across = 0, off = 0;
  for (const Driven& d : scene_.driven) {
    if (d.joint != joint || d.is_dowel) continue;
    const Fastener* screw = scene_.fastener(scene_.piece.joints[at(joint)]);
    const double near = scene_.gravity_of(d.near), far = scene_.gravity_of(d.far);
    if (screw == nullptr || near <= 0 || far <= 0) continue;
    const bool is_nail = screw->kind == FastenerKind::nail;
    const Holding kind = screw->kind == FastenerKind::lag_screw ? Holding::lag_screw
                         : is_nail                              ? Holding::plain_nail
                                                                : Holding::wood_screw;
    const double diameter = d.diameter / inch;
    const double root = screw->root.in_ticks() > 0 ? screw->root.in_inches() : diameter;
    const double bite = std::max(0.0, std::min(d.length - d.through, d.wood)) / inch;
    const double thread = is_nail ? bite : std::min(bite, screw->thread.in_inches());
    const Wood& far_wood = scene_.woods[at(scene_.body_of[at(d.far)])];
    const bool in_end_grain = std::abs(dot(far_wood.frame.x, d.direction)) > 0.7;
    const Yield yield = single_shear({root, bearing_length(bite, diameter), d.through / inch,
                                      bearing_of_small(far), bearing_of_small(near),
                                      bending_yield(diameter), reduction_for(diameter, root, 90)});
    across += yield.least * counted_share(kind, bite, diameter) * time *
              wet_lateral(scene_.service(), diameter) * (in_end_grain ? end_grain_lateral : 1);
    double held = withdrawal_per_inch(kind, far, diameter) * thread * time *
                  wet_withdrawal(kind, scene_.service());
    if (in_end_grain) held *= kind == Holding::lag_screw ? end_grain_withdrawal_of_lag : 0;
    if (screw->head.in_ticks() > 0)
      held =
          std::min(held, head_pull_through(near, screw->head.in_inches(), d.through / inch) * time);
    off += held;
  }
  return {across * newton_per_pound_force, off * newton_per_pound_force};
}

void Judge::weigh_joint(const LoadCase& load, int joint, std::array<double, 2> demand) {
  const auto limits = capacity(joint, load.duration);
  if (limits[0] <= 0 || !scene_.piece.joints[at(joint)].glue.empty()) return;
  const double ratio = demand[0] / limits[0] + (limits[1] > 0 ? demand[1] / limits[1] : 0);
  JointUse& use = joints_[at(joint)];
  if (ratio <= use.ratio) return;
  use = {ratio, demand[0], demand[1], limits[0], limits[1], load.name};
}

void Judge::tell_stress() {
  const auto worst = std::max_element(uses_.begin(), uses_.end(), [](const Use& a, const Use& b) {
    return std::max(a.stress, a.shear) < std::max(b.stress, b.shear);
  });
  if (worst == uses_.end() || worst->basis.empty()) return;
  const double ratio = std::max(worst->stress, worst->shear);
  const int board = scene_.woods[at(static_cast<int>(worst - uses_.begin()))].board;
  Finding f{.area = CheckArea::frame,
            .verdict = ratio > 1     ? Verdict::fails
                       : ratio > 0.9 ? Verdict::look
                                     : Verdict::passes,
            .check = "board-stress"};
  f.message =
      fmt::format("`{}` is used most: {:.0f} % of the stress it may be counted on for, under {}",
                  scene_.id(board), 100 * ratio, worst->load);
  f.number = fmt::format("{:.2f}", ratio);
  f.limit = "1.00";
  f.source = fmt::format("{}; {}", frame_source, worst->basis);
  f.assumption = frame_assumption;
  if (ratio > 0.9) f.change = "use a thicker or wider board, a shorter span, or one more bearer";
  f.boards = {board};
  f.ratio = ratio;
  scene_.add(std::move(f));
}

void Judge::tell_sag() {
  std::size_t worst = uses_.size();
  double most = 0;
  // What stays is seen: 0.02 in a foot. A person feels less: L/180.
  const auto limit_of = [](const Use& use) { return use.span / (use.is_people ? 180 : 600); };
  for (std::size_t i = 0; i < uses_.size(); ++i) {
    if (uses_[i].span <= 0 || uses_[i].sag < 0.2) continue;
    const double ratio = uses_[i].sag / limit_of(uses_[i]);
    if (ratio > most) {
      most = ratio;
      worst = i;
    }
  }
  if (worst == uses_.size()) return;
  const Use& use = uses_[worst];
  const int board = scene_.woods[worst].board;
  const double hard = use.span / (use.is_people ? 90 : 144);
  Finding f{.area = CheckArea::frame,
            .verdict = use.sag > hard ? Verdict::fails
                       : most > 1     ? Verdict::look
                                      : Verdict::passes,
            .check = "board-sags"};
  f.message = fmt::format("`{}` sags {} in {}{}", scene_.id(board), scene_.length(use.sag),
                          scene_.length(use.span), most > 1 ? ": more than the eye forgives" : "");
  f.number = scene_.length(use.sag);
  f.limit = scene_.length(limit_of(use));
  f.source = use.is_people
                 ? "L/180 under a person, L/90 at most: common practice, no published source"
                 : "0.02 in a foot (L/600) is seen: common practice, no published source; L/144 at "
                   "most: Architectural Woodwork Standards section 10 (from memory)";
  f.assumption = fmt::format("{}; what stays creeps to {} times (NDS 3.5.2, from memory)",
                             frame_assumption, creep_factor(scene_.is_outdoors));
  if (most > 1)
    f.change =
        "use a thicker board, a shorter span, a bearer in the middle, or a strip glued under its "
        "front edge";
  f.boards = {board};
  f.ratio = most;
  scene_.add(std::move(f));
}

void Judge::tell_joints() {
  int worst = -1;
  for (std::size_t j = 0; j < joints_.size(); ++j) {
    const JointUse& use = joints_[j];
    if (use.ratio <= 0) continue;
    if (worst < 0 || use.ratio > joints_[at(worst)].ratio) worst = static_cast<int>(j);
  }
  if (worst < 0) return;
  const JointUse& use = joints_[at(worst)];
  const ResolvedJoint& joint = scene_.piece.joints[at(worst)];
  Finding f{.area = CheckArea::hold,
            .verdict = use.ratio > 1     ? Verdict::fails
                       : use.ratio > 0.9 ? Verdict::look
                                         : Verdict::passes,
            .check = "joint-strength"};
  f.message = fmt::format(
      "joint `{}` of `{}` and `{}` is used most: {} across and {} pulling off, where "
      "its fasteners may be counted on for {} and {}, under {}",
      joint.id, scene_.id(joint.a), scene_.id(joint.b), scene_.force(use.shear),
      scene_.force(use.pull), scene_.force(use.shear_limit), scene_.force(use.pull_limit),
      use.load);
  f.number = fmt::format("{:.2f}", use.ratio);
  f.limit = "1.00";
  f.source =
      "NDS 2018 12.2 withdrawal and head pull-through, 12.3 yield modes; added up in a straight "
      "line, which is less than 12.4 allows; bites of 3 to 6 diameters counted in proportion, "
      "which NDS does not";
  f.assumption = fmt::format("{}; the fasteners of a joint share alike; {} service",
                             frame_assumption, scene_.is_outdoors ? "wet" : "dry");
  if (use.ratio > 0.9)
    f.change =
        "use more or longer screws, glue the joint, or let the board bear on a notch or cleat";
  f.boards = {joint.a, joint.b};
  f.joint = worst;
  f.ratio = use.ratio;
  scene_.add(std::move(f));
}

void Judge::tell() {
  tell_joints();
  tell_stress();
  tell_sag();
}

void tell_unsolved(Scene& scene, std::string message, std::vector<int> boards, std::string change) {
  scene.add({.area = CheckArea::frame,
             .verdict = Verdict::not_computed,
             .check = "frame-is-loose",
             .message = std::move(message),
             .source = std::string(frame_source),
             .assumption = std::string(frame_assumption),
             .change = std::move(change),
             .boards = std::move(boards)});
}

}  // namespace

void survey_frame(Scene& scene, std::vector<double>* use) {
  if (scene.woods.empty()) return;
  const Bearing bearing = bearing_of(scene);
  if (!bearing.loose.empty())
    tell_unsolved(
        scene,
        fmt::format("{} boards touch nothing that stands on the ground, as `{}`: what they "
                    "bear was not computed",
                    bearing.loose.size(), scene.id(bearing.loose.front())),
        bearing.loose, "bring them into contact, or join them");
  std::vector<LoadCase> cases = Loader(scene, bearing).cases();
  std::vector<FrameLoads> loads;
  for (const LoadCase& one : cases) loads.push_back(one.loads);
  const auto answers = solve(bearing.model, loads);
  if (!answers.front().is_solved)
    return tell_unsolved(scene, "the frame moves freely somewhere, so nothing was computed of it",
                         {}, "look for boards that only touch in a point or that no joint holds");
  Judge judge(scene, bearing);
  for (std::size_t i = 0; i < cases.size(); ++i) judge.weigh(cases[i], answers[i]);
  if (use != nullptr)
    for (std::size_t b = 0; b < judge.uses().size(); ++b)
      if (!judge.uses()[b].basis.empty())
        (*use)[at(scene.woods[b].board)] = std::max(judge.uses()[b].stress, judge.uses()[b].shear);
  judge.tell();
  if (scene.piece.loads.empty())
    scene.add({.area = CheckArea::frame,
               .verdict = Verdict::not_computed,
               .check = "no-load-named",
               .message = "the piece file names no load, so only its own weight was computed",
               .source = "docs/piece-file.md, Loads",
               .assumption = "none",
               .change = "say what it must carry: [load.NAME] on = [...], kind = \"people\""});
}

}  // namespace kw::surveying
