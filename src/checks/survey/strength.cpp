#include "survey/strength.h"

#include <algorithm>
#include <cmath>

namespace kw::surveying {
namespace {

// NDS 3.3.3: effective length of a beam between braces under an even load (from memory).
double effective_length(double unbraced, double depth) {
  if (depth <= 0) return 0;
  return unbraced / depth < 7 ? 2.06 * unbraced : 1.63 * unbraced + 3 * depth;
}

double longest_stretch(const BeamBoard& beam) {
  if (beam.held.empty()) return beam.along.back() - beam.along.front();
  double longest =
      std::max(beam.held.front() - beam.along.front(), beam.along.back() - beam.held.back());
  for (std::size_t i = 1; i < beam.held.size(); ++i)
    longest = std::max(longest, beam.held[i] - beam.held[i - 1]);
  return longest;
}

// One axis of bending of one member.
struct Bent {
  double stress = 0, limit = 0;  // MPa
  double stable = 1;             // C_L
  double critical = 0;           // F_bE, MPa
  double euler = 0;              // F_cE of buckling that way, MPa
};

struct Member {
  double thick = 0, wide = 0, area = 0;  // mm
  double moment_flat = 0, moment_edge = 0, axial = 0, shear = 0;
};

Member member_of(const MemberForces& f, const Profile& p) {
  return {std::sqrt(12 * p.inertia_y / p.area),
          std::sqrt(12 * p.inertia_z / p.area),
          p.area,
          f.most_bending_y,
          f.most_bending_z,
          f.at_to[0],
          std::max(std::hypot(f.at_from[1], f.at_from[2]), std::hypot(f.at_to[1], f.at_to[2]))};
}

Bent bent(const Timber& timber, double moment, double depth, double breadth, double duration) {
  const double modulus = breadth * depth * depth / 6;
  const DesignValues& v = timber.values;
  const double all_but_stable = v.bending * timber.size * timber.wet.bending * duration;  // psi
  const double least_e = v.least_stiffness * timber.wet.stiffness;
  Bent one{.stress = moment / modulus};
  if (depth > breadth * 1.0001) {
    const Lateral beam{breadth / inch, depth / inch,
                       effective_length(timber.unbraced, depth) / inch, all_but_stable, least_e};
    one.stable = lateral_stability(beam);
    one.critical = critical_bending(beam) * psi;
  }
  const bool is_flat = depth < breadth && timber.is_dimension && v.takes_size_factor;
  const double flat = is_flat ? flat_use_factor(breadth / inch) : 1;
  one.limit = all_but_stable * one.stable * flat * psi;
  const double slender = timber.unbraced / std::max(1.0, depth);
  one.euler = slender > 0 ? 0.822 * least_e * psi / (slender * slender) : 1e9;
  return one;
}

// Bending with pull: a straight sum; with push: NDS 3.9.2.
double together(const Bent& edge, const Bent& flat, double push, double push_limit) {
  if (push <= 0) return edge.stress / edge.limit + flat.stress / flat.limit;
  const double left_edge = 1 - push / edge.euler;
  double left_flat = 1 - push / flat.euler;
  if (edge.critical > 0) left_flat -= std::pow(edge.stress / edge.critical, 2);
  constexpr double least = 0.05;  // past it the formula has no meaning: the ratio is above 1 anyway
  return std::pow(push / push_limit, 2) + edge.stress / (edge.limit * std::max(least, left_edge)) +
         flat.stress / (flat.limit * std::max(least, left_flat));
}

}  // namespace

double creep_of(const Scene& scene, int body) {
  return creep_factor(scene.is_outdoors || scene.stock_of(scene.woods[at(body)].board).is_sheet);
}

std::vector<Timber> timbers_of(const Scene& scene, const Bearing& bearing) {
  std::vector<Timber> timbers;
  for (std::size_t b = 0; b < bearing.beams.size(); ++b) {
    const int board = scene.woods[b].board;
    const ResolvedBoard& given = scene.board(board);
    Timber timber{.unbraced = longest_stretch(bearing.beams[b])};
    if (const Species* wood = scene.species_of(board)) {
      const double width = given.section.width.in_inches();
      timber.values = values_for(scene.catalogue, *wood, scene.grade_of(board), width);
      timber.glued_shear = values_for(scene.catalogue, *wood, "clear", width).shear;
      timber.size = timber.values.takes_size_factor ? size_factor_of_bending(width) : 1;
      if (scene.is_outdoors) timber.wet = wet_factors(timber.values, timber.size);
      timber.is_dimension = given.section.thickness.in_inches() >= 1.4;
    } else if (scene.stock_of(board).is_sheet) {
      timber.values = plywood_values();
      if (scene.is_outdoors) timber.wet = wet_factors(timber.values, timber.size);
    }
    timbers.push_back(std::move(timber));
  }
  return timbers;
}

void BoardJudge::weigh(const LoadCase& load, const FrameAnswer& answer, const FrameAnswer& always) {
  for (std::size_t b = 0; b < bearing_.beams.size(); ++b) {
    weigh_sag(load, answer, always, b);
    weigh_stress(load, answer, b);
  }
}

// How far the board's nodes leave the straight line between its ends.
void BoardJudge::weigh_sag(const LoadCase& load, const FrameAnswer& answer,
                           const FrameAnswer& always, std::size_t body) {
  const BeamBoard& beam = bearing_.beams[body];
  const double more = creep_of(scene_, static_cast<int>(body)) - 1;
  const auto moved = [&](int node) {
    return answer.moved[at(node)] + always.moved[at(node)] * more;
  };
  const double from = beam.along.front(), length = beam.along.back() - from;
  const Vec3 first = moved(beam.nodes.front()), last = moved(beam.nodes.back());
  double sag = 0;
  for (std::size_t i = 0; i < beam.nodes.size(); ++i) {
    const double t = length > 0 ? (beam.along[i] - from) / length : 0;
    sag = std::max(sag, norm(moved(beam.nodes[i]) - first * (1 - t) - last * t));
  }
  BoardUse& use = uses_[body];
  use.span = length;
  const double ratio =
      length > 0 ? sag * (load.has_passing ? seen_passing : seen_always) / length : 0;
  if (ratio <= use.sag_ratio) return;
  use.sag = sag;
  use.sag_ratio = ratio;
  use.is_passing = load.has_passing;
}

void BoardJudge::weigh_stress(const LoadCase& load, const FrameAnswer& answer, std::size_t body) {
  const Timber& timber = timbers_[body];
  const DesignValues& v = timber.values;
  if (v.bending == 0) return;
  const BeamBoard& beam = bearing_.beams[body];
  BoardUse& use = uses_[body];
  const double time = duration_factor(load.duration);
  const double pull_limit =
      (v.tension > 0 ? v.tension : 0.55 * v.bending) * timber.size * time * psi;
  const double shear_limit = v.shear * timber.wet.shear * time * psi;
  const double crush =
      (v.crush_along > 0 ? v.crush_along : v.bending) * timber.wet.crush_along * time;
  for (std::size_t m = 0; m < beam.members.size(); ++m) {
    const Member one = member_of(answer.members[at(beam.members[m])], beam.profiles[m]);
    const Bent edge = bent(timber, one.moment_edge, one.wide, one.thick, time);
    const Bent flat = bent(timber, one.moment_flat, one.thick, one.wide, time);
    const double slender = timber.unbraced / std::max(1.0, std::min(one.thick, one.wide));
    const double column =
        column_stability(slender, crush, v.least_stiffness * timber.wet.stiffness);
    const double push = std::max(0.0, -one.axial) / one.area;
    double stress = together(edge, flat, push, crush * column * psi);
    if (one.axial > 0) stress += one.axial / one.area / pull_limit;
    if (shear_limit > 0) use.shear = std::max(use.shear, 1.5 * one.shear / one.area / shear_limit);
    if (stress <= use.stress) continue;
    use.stress = stress;
    use.load = load.name;
    use.beam_factor = std::min(edge.stable, flat.stable);
    use.column_factor = push > 0 ? column : 1;
  }
}

}  // namespace kw::surveying
