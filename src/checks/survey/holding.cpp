#include "survey/holding.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kw::surveying {
namespace {

// Screws drawn out of end grain hold 75 % of what they do in side grain (Wood Handbook ch. 8, from
// memory); NDS 12.2.1.3 counts nothing on them.
constexpr double end_grain_withdrawal = 0.75;
// Shear across the grain (rolling) is 18 to 28 % of that along it (Wood Handbook ch. 5, from
// memory); pull across the grain a third of the shear (NDS 5.2.8, from memory).
constexpr double rolling = 0.2, pulled_across = 1.0 / 3;
// Wooden dowels: bending yield 24,850 G^1.13 psi (TFEC 1, from memory), of hardwood G 0.6; the glue
// around them at half the wood's shear (common practice, no published source).
constexpr double dowel_gravity = 0.6, around_dowel = 0.5;

bool interlocks(JointKind kind) {
  return kind == JointKind::half_lap || kind == JointKind::tenon || kind == JointKind::bridle ||
         kind == JointKind::housing || kind == JointKind::notch || kind == JointKind::groove ||
         kind == JointKind::rabbet;
}

double degrees_between(Vec3 a, Vec3 b) {
  const double c = std::abs(dot(a, b)) / std::max(1e-12, norm(a) * norm(b));
  return Angle::radians(std::acos(std::min(1.0, c))).in_degrees();
}

// Below the least penetration that the standard counts, down to three diameters, still in
// proportion: light furniture is screwed so every day (common practice, no published source).
double counted_share(Holding kind, double bite, double diameter) {
  const double counted = penetration_factor(kind, bite, diameter);
  const bool is_lag = kind == Holding::lag_screw;
  if (counted > 0 || is_lag || bite < 3 * diameter) return counted;
  return bite / (10 * diameter);
}

double third_board(const Scene& scene, const Driven& d) {
  const double beyond = d.length - d.through - d.wood;
  if (beyond < 4 * d.diameter) return 0;
  const Vec3 p = d.head + d.direction * (d.through + d.wood + 2);
  for (const Wood& wood : scene.woods)
    if (wood.board != d.near && wood.board != d.far && wood.is_in_stick(p)) return beyond;
  return 0;
}

Fixing fixing_of(const Scene& scene, const Driven& d, const Fastener* screw) {
  Fixing f{.driven = &d, .is_dowel = d.is_dowel, .is_toe_nail = d.is_toe_nail};
  f.diameter = d.diameter / inch;
  f.through = d.through / inch;
  f.bite = std::max(0.0, std::min(d.length - d.through, d.wood)) / inch;
  f.near_gravity = scene.gravity_of(d.near);
  f.far_gravity = scene.gravity_of(d.far);
  f.near_thickness = scene.board(d.near).section.thickness.in_inches();
  const Wood& far = scene.woods[at(scene.body_of[at(d.far)])];
  f.in_end_grain = std::abs(dot(far.frame.x, d.direction)) > 0.7;
  if (!d.is_toe_nail) f.third = third_board(scene, d) / inch;
  f.root = f.diameter;
  if (screw == nullptr) return f;
  f.is_bolt = screw->kind == FastenerKind::bolt;
  f.kind = screw->kind == FastenerKind::lag_screw ? Holding::lag_screw
           : screw->kind == FastenerKind::nail    ? Holding::plain_nail
                                                  : Holding::wood_screw;
  // A bolt bears with its shank, its thread behind the wood (NDS 12.3.7).
  if (screw->root.in_ticks() > 0 && !f.is_bolt) f.root = screw->root.in_inches();
  f.head = screw->head.in_inches();
  f.thread = f.kind == Holding::plain_nail ? f.bite : std::min(f.bite, screw->thread.in_inches());
  return f;
}

// What bears in each board, and what of the far one counts as penetration, in.
struct Depths {
  double in_main = 0, in_side = 0, counted = 0;
};

Depths depths_of(const Fixing& f) {
  if (f.is_bolt) return {f.bite, f.through, f.bite};
  if (!f.is_toe_nail) return {bearing_length(f.bite, f.diameter), f.through, f.bite};
  // As deep as it stands square to the joint, begun a third of its length up (NDS 12.1.6.3,
  // 12.3.10.2).
  const double whole = f.driven->length / inch, third = whole / 3;
  const double sunk = whole * std::cos(std::numbers::pi / 6) - third;
  return {bearing_length(sunk, f.diameter), std::min(f.near_thickness, third), sunk};
}

void space_out(std::vector<Fixing>& row) {
  for (std::size_t i = 0; i < row.size(); ++i) {
    row[i].count = static_cast<int>(row.size());
    if (row.size() > 1)
      row[i].spacing = norm(row.front().driven->head - row.back().driven->head) / inch /
                       static_cast<double>(row.size() - 1);
  }
}

// Where it passes from one board into the other.
Vec3 crossing_of(const Driven& d) {
  return d.head + d.direction * d.through;
}

// What a link does to the joint's far board, in the world: `on` is that board's body.
struct Felt {
  Vec3 at = {}, force = {}, moment = {}, normal = {};
};

Felt felt_by(const Bearing& bearing, const FrameAnswer& answer, int link, bool on_b) {
  const FrameLink& l = bearing.model.links[at(link)];
  const Vec3 f = answer.link_forces[at(link)], m = answer.link_moments[at(link)];
  const double sign = on_b ? 1 : -1;
  return {l.frame.origin, (l.frame.x * f.x + l.frame.y * f.y + l.frame.z * f.z) * sign,
          (l.frame.x * m.x + l.frame.y * m.y + l.frame.z * m.z) * sign, l.frame.z};
}

}  // namespace

JointJudge::JointJudge(const Scene& scene, const Bearing& bearing,
                       const std::vector<Timber>& timbers)
    : scene_(scene),
      bearing_(bearing),
      timbers_(timbers),
      links_(scene.piece.joints.size()),
      fixings_(scene.piece.joints.size()),
      uses_(scene.piece.joints.size()) {
  for (std::size_t l = 0; l < bearing.links.size(); ++l)
    if (bearing.links[l].joint >= 0)
      links_[at(bearing.links[l].joint)].push_back(static_cast<int>(l));
  std::vector<bool> is_unknown(scene.piece.joints.size(), false);
  for (const Driven& d : scene.driven) {
    const Fixing f = fixing_of(scene, d, scene.fastener(scene.piece.joints[at(d.joint)]));
    if (f.near_gravity > 0 && f.far_gravity > 0)
      fixings_[at(d.joint)].push_back(f);
    else
      is_unknown[at(d.joint)] = true;
  }
  for (auto& row : fixings_) space_out(row);
  for (std::size_t j = 0; j < links_.size(); ++j) {
    const ResolvedJoint& joint = scene.piece.joints[j];
    if (!is_glued(joint) || joint.b < 0 || links_[j].empty()) continue;
    for (const int board : {joint.a, joint.b})
      if (timbers[at(scene.body_of[at(board)])].glued_shear <= 0) is_unknown[j] = true;
  }
  for (std::size_t j = 0; j < is_unknown.size(); ++j)
    if (is_unknown[j]) unknown_.push_back(static_cast<int>(j));
}

// Glue and fasteners do not add up: the stiff glue takes it all until it breaks. A glued joint is
// judged by its glue where that may be counted on, else by its fasteners.
void JointJudge::weigh(const LoadCase& load, const FrameAnswer& answer) {
  for (std::size_t j = 0; j < links_.size(); ++j) {
    const int joint = static_cast<int>(j);
    if (links_[j].empty()) continue;
    const JointUse glue =
        is_glued(scene_.piece.joints[j]) ? glue_use(load, answer, joint) : JointUse{};
    const JointUse screws = fixings_[j].empty() ? JointUse{} : fixing_use(load, answer, joint);
    const bool by_screws = glue.ratio == 0 || (screws.ratio > 0 && screws.ratio < glue.ratio);
    const JointUse& use = by_screws ? screws : glue;
    if (use.ratio > uses_[j].ratio) uses_[j] = use;
  }
}

// What a row of fasteners bears together, at its middle, in the plane that they hold.
struct JointJudge::Row {
  Vec3 middle = {}, in = {};  // and the way they go in
  Vec3 across = {};           // N
  double pressed = 0;         // N; below zero: pulled apart
  double twist = 0;           // N mm, about the way in
  double pried = 0;           // N mm that the pressing does not hold shut
  Vec3 opens = {};            // the side that opens, and how far the pressed edge lies behind
  double reach = 0;
  [[nodiscard]] Vec3 place(const Fixing& f) const { return crossing_of(*f.driven) - middle; }
  [[nodiscard]] double lever(const Fixing& f) const {
    constexpr double to_middle_of_pressure = 5.0 / 6;
    return std::max(1.0, dot(place(f), opens) + reach * to_middle_of_pressure);
  }
};

JointJudge::Row JointJudge::row_of(const FrameAnswer& answer, int joint) const {
  const std::vector<Fixing>& fixings = fixings_[at(joint)];
  const Driven& first = *fixings.front().driven;
  Row row;
  for (const Fixing& f : fixings) {
    row.middle += crossing_of(*f.driven);
    row.in += f.driven->direction;  // toe-nails lean to both sides
  }
  row.middle = row.middle * (1 / static_cast<double>(fixings.size()));
  row.in = unit(row.in);
  Vec3 force = {}, moment = {};
  std::vector<Vec3> corners;
  for (const int link : links_[at(joint)]) {
    const Contact& contact = scene_.contacts[at(bearing_.links[at(link)].contact)];
    const bool on_b = contact.b == scene_.body_of[at(first.far)];
    const Felt felt = felt_by(bearing_, answer, link, on_b);
    const bool is_slanted = first.is_pocket || first.is_toe_nail;
    if (std::abs(dot(felt.normal, row.in)) < 0.9 && !is_slanted) continue;
    force += felt.force;
    moment += felt.moment + cross(felt.at - row.middle, felt.force);
    for (const auto& loop : contact.patch) corners.insert(corners.end(), loop.begin(), loop.end());
  }
  row.pressed = dot(force, row.in);
  row.across = force - row.in * row.pressed;
  row.twist = dot(moment, row.in);
  const Vec3 prying = moment - row.in * row.twist;
  if (norm(prying) > 1e-9) row.opens = cross(prying, row.in) * (1 / norm(prying));
  for (const Vec3& corner : corners)
    row.reach = std::max(row.reach, -dot(corner - row.middle, row.opens));
  row.pried = std::max(0.0, norm(prying) - std::max(0.0, row.pressed) * row.reach);
  return row;
}

JointUse JointJudge::fixing_use(const LoadCase& load, const FrameAnswer& answer, int joint) const {
  const std::vector<Fixing>& fixings = fixings_[at(joint)];
  const Row row = row_of(answer, joint);
  const double count = static_cast<double>(fixings.size());
  double radii = 0, levers = 0;
  for (const Fixing& f : fixings) {
    radii += dot(row.place(f), row.place(f));
    levers += row.lever(f) * row.lever(f);
  }
  JointUse worst;
  for (const Fixing& f : fixings) {
    const Vec3 turning = radii > 1 ? cross(row.in, row.place(f)) * (row.twist / radii) : Vec3{};
    const Vec3 shear = row.across * (1 / count) + turning;
    const double pull = std::max(0.0, -row.pressed) / count + row.pried * row.lever(f) / levers;
    const JointUse use = use_of(f, shear, pull, load);
    if (use.ratio > worst.ratio) worst = use;
  }
  return worst;
}

// Both at once, by NDS 12.4.
JointUse JointJudge::use_of(const Fixing& f, Vec3 shear, double pull, const LoadCase& load) const {
  const Limits limits = limits_of(f, shear, load.duration);
  const double size = std::hypot(norm(shear), pull);
  if (limits.across <= 0 || limits.pull <= 0 || size < 1e-9) return {};
  const double degrees = Angle::radians(std::atan2(pull, norm(shear))).in_degrees();
  const bool is_nail = f.kind == Holding::plain_nail && !f.is_dowel;
  const double held = is_nail ? combined_nail(limits.pull, limits.across, degrees)
                              : combined_screw(limits.pull, limits.across, degrees);
  return {.ratio = size / held,
          .load = load.name,
          .across = norm(shear),
          .pull = pull,
          .across_limit = limits.across,
          .pull_limit = limits.pull,
          .by_dowel = f.is_dowel,
          .by_toe_nail = f.is_toe_nail,
          .pulled_from_end_grain =
              f.in_end_grain && !f.is_dowel && !f.is_bolt && pull > 0.1 * limits.pull,
          .mode = limits.mode};
}

JointJudge::Limits JointJudge::limits_of(const Fixing& f, Vec3 across, Duration duration) const {
  const double time = duration_factor_of_connection(duration);
  if (f.is_dowel) return limits_of_dowel(f, across, time);
  const Frame &near = scene_.board(f.driven->near).frame, &far = scene_.board(f.driven->far).frame;
  const bool is_small = f.diameter < 0.25;
  const double near_turn = is_small ? 0 : degrees_between(across, near.x),
               far_turn = is_small ? 0 : degrees_between(across, far.x);
  const auto bearing = [&](double gravity, double turn) {
    return is_small ? bearing_of_small(gravity)
                    : bearing_at(bearing_along(gravity), bearing_across(gravity, f.diameter), turn);
  };
  const Depths depths = depths_of(f);
  Shear shear{.diameter = f.root,
              .in_main = depths.in_main,
              .in_side = depths.in_side,
              .bearing_main = bearing(f.far_gravity, far_turn),
              .bearing_side = bearing(f.near_gravity, near_turn),
              .yield = bending_yield(f.diameter),
              .reduction = reduction_for(f.diameter, f.root, std::max(near_turn, far_turn))};
  Yield yield = single_shear(shear);
  if (f.third > 0) {  // two planes; each bears half
    shear.in_main = f.driven->wood / inch;
    shear.in_side = std::min(f.through, f.third);
    yield = double_shear(shear);
    yield.least /= 2;
  }
  const Timber &near_wood = timbers_[at(scene_.body_of[at(f.driven->near)])],
               &far_wood = timbers_[at(scene_.body_of[at(f.driven->far)])];
  const auto stretch = [&](int board, const Timber& timber) {
    const Section& s = scene_.board(board).section;
    return timber.values.stiffness * s.thickness.in_inches() * s.width.in_inches();
  };
  const double group =
      group_factor({f.count, f.diameter, f.spacing, stretch(f.driven->far, far_wood),
                    stretch(f.driven->near, near_wood)});
  const double share =
      f.is_bolt || f.third > 0 ? 1 : counted_share(f.kind, depths.counted, f.diameter);
  Limits limits{.mode = yield.mode};
  limits.across = yield.least * share * time * wet_lateral(scene_.service(), f.diameter) *
                  (f.in_end_grain ? end_grain_lateral : 1) * (group > 0 ? group : 1);
  double held = withdrawal_per_inch(f.kind, f.far_gravity, f.diameter) * f.thread * time *
                wet_withdrawal(f.kind, scene_.service());
  if (f.is_toe_nail) {
    limits.across *= toe_nail_lateral;
    held = withdrawal_per_inch(f.kind, f.far_gravity, f.diameter) * f.thread * time *
           toe_nail_withdrawal;  // C_M does not apply (NDS 12.5.4.1, from memory)
  }
  if (f.in_end_grain)
    held *= f.kind == Holding::lag_screw ? end_grain_withdrawal_of_lag : end_grain_withdrawal;
  const double through_head =
      f.head > 0 ? head_pull_through(f.near_gravity, f.head, f.through) * time : held;
  limits.pull = f.is_bolt ? std::max(through_head, 1.0) : std::min(held, through_head);
  limits.across *= newton_per_pound_force;
  limits.pull *= newton_per_pound_force;
  return limits;
}

JointJudge::Limits JointJudge::limits_of_dowel(const Fixing& f, Vec3 across, double time) const {
  const Frame &near = scene_.board(f.driven->near).frame, &far = scene_.board(f.driven->far).frame;
  const double near_turn = degrees_between(across, near.x),
               far_turn = degrees_between(across, far.x);
  const auto bearing = [&](double gravity, double turn) {
    return bearing_at(bearing_along(gravity), bearing_across(gravity, f.diameter), turn);
  };
  const Yield yield = single_shear(
      {.diameter = f.diameter,
       .in_main = f.bite,
       .in_side = f.through,
       .bearing_main = bearing(f.far_gravity, far_turn),
       .bearing_side = bearing(f.near_gravity, near_turn),
       .yield = 24'850 * std::pow(dowel_gravity, 1.13),
       .reduction = reduction_for(f.diameter, f.diameter, std::max(near_turn, far_turn))});
  double weakest = 1e18;
  for (const int board : {f.driven->near, f.driven->far}) {
    const Timber& timber = timbers_[at(scene_.body_of[at(board)])];
    weakest = std::min(weakest, timber.glued_shear * timber.wet.shear);
  }
  const double glued = std::numbers::pi * f.diameter * std::min(f.bite, f.through);
  return {yield.least * time * wet_lateral(scene_.service(), f.diameter) * newton_per_pound_force,
          weakest * around_dowel * glued * time * newton_per_pound_force, yield.mode};
}

// Shear and, where the joint has no cheeks, pull on each glued patch, by the weaker wood.
JointUse JointJudge::glue_use(const LoadCase& load, const FrameAnswer& answer, int joint) const {
  JointUse worst;
  const double time = duration_factor(load.duration);
  for (const int l : links_[at(joint)]) {
    const LinkOrigin& origin = bearing_.links[at(l)];
    const Contact& contact = scene_.contacts[at(origin.contact)];
    const FrameLink& link = bearing_.model.links[at(l)];
    const Vec3 force = answer.link_forces[at(l)], moment = answer.link_moments[at(l)];
    double shear_limit = 1e18, pull_limit = 1e18;
    bool is_on_end = false;
    const Vec3 across = link.frame.x * force.x + link.frame.y * force.y;
    for (const int body : {contact.a, contact.b}) {
      const Timber& timber = timbers_[at(body)];
      const Vec3 grain = scene_.woods[at(body)].frame.x;
      is_on_end |= std::abs(dot(grain, link.frame.z)) > 0.7;
      const double strong = timber.glued_shear * timber.wet.shear * time * psi;
      const double c = norm(across) > 1e-9 ? std::abs(dot(unit(across), grain)) : 1;
      // Along the grain all of it, across it the rolling share, between them by the ellipse.
      const double share = 1 / std::sqrt(c * c + (1 - c * c) / (rolling * rolling));
      shear_limit = std::min(shear_limit, strong * share);
      pull_limit = std::min(pull_limit, strong * pulled_across);
    }
    if (is_on_end || shear_limit <= 0) continue;  // glue on end grain is not counted on
    const double twist = 3 * std::abs(moment.z) /
                         std::max(1.0, origin.area * std::hypot(origin.reach_x, origin.reach_y));
    const double slides = norm(across) / origin.area + twist;
    double opens = std::max(0.0, -force.z) / origin.area +
                   3 * std::abs(moment.x) / std::max(1.0, origin.area * origin.reach_y) +
                   3 * std::abs(moment.y) / std::max(1.0, origin.area * origin.reach_x) -
                   std::max(0.0, force.z) / origin.area;
    if (interlocks(scene_.piece.joints[at(joint)].kind)) opens = 0;
    const double ratio = slides / shear_limit + std::max(0.0, opens) / pull_limit;
    if (ratio <= worst.ratio) continue;
    worst = {.ratio = ratio,
             .load = load.name,
             .across = slides * origin.area,
             .pull = std::max(0.0, opens) * origin.area,
             .across_limit = shear_limit * origin.area,
             .pull_limit = pull_limit * origin.area,
             .by_glue = true};
  }
  return worst;
}

}  // namespace kw::surveying
