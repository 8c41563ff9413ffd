#include "survey/bearing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace kw::surveying {
namespace {

constexpr double same_node = 0.5;  // mm
constexpr double across_to_along =
    20;                        // E over E across the grain (Wood Handbook Table 5-1, about)
constexpr double e_to_g = 16;  // E over G (NDS Supplement)
constexpr double plain_stiffness = 9000;  // MPa, where no species is said

struct Patch {
  Vec3 centre = {}, normal = {}, long_way = {}, short_way = {};
  double half_long = 0, half_short = 0, area = 0;
};

Patch patch_of(const Scene& scene, const Contact& contact) {
  const Wood& wood = scene.woods[at(contact.a)];
  Patch patch{.centre = contact.centre, .area = contact.area.value};
  patch.normal = wood.frame.direction_to_world(wood.shape->faces[at(contact.face_a)].plane.normal);
  double longest = -1;
  for (const int body : {contact.a, contact.b}) {
    const Frame& frame = scene.woods[at(body)].frame;
    for (const Vec3 axis : {frame.x, frame.y, frame.z}) {
      const Vec3 flat = axis - patch.normal * dot(axis, patch.normal);
      if (norm(flat) < 0.3) continue;
      const Vec3 way = unit(flat);
      double low = 1e18, high = -1e18;
      for (const auto& loop : contact.patch)
        for (const Vec3& p : loop) {
          low = std::min(low, dot(p, way));
          high = std::max(high, dot(p, way));
        }
      if (high - low <= longest + 1e-6) continue;
      longest = high - low;
      patch.long_way = way;
    }
  }
  patch.half_long = longest / 2;
  patch.half_short = patch.area / std::max(1e-6, longest) / 2;
  patch.short_way = cross(patch.normal, patch.long_way);
  return patch;
}

double stiffness_of(const Scene& scene, int board) {
  const Species* wood = scene.species_of(board);
  if (wood == nullptr)
    return scene.stock_of(board).is_sheet ? plywood_values().stiffness * psi : plain_stiffness;
  const DesignValues v = values_for(
      scene.catalogue, *wood, scene.stock_of(board).is_sheet ? "clear" : scene.grade_of(board),
      scene.board(board).section.width.in_inches());
  return v.stiffness > 0 ? v.stiffness * psi : plain_stiffness;
}

// What a joint takes out of a board's section: where along it, and what is left.
struct Loss {
  double from = 0, to = 0;
  double width = 0, thickness = 0;
};

std::vector<Loss> losses_of(const Wood& wood, const ResolvedBoard& board) {
  std::vector<Loss> losses;
  const double width = board.section.width.in_mm(), thickness = board.section.thickness.in_mm();
  for (std::size_t i = 1; i < wood.shape->features.size(); ++i) {
    const FeatureKind kind = wood.shape->features[i].kind;
    if (kind != FeatureKind::half_lap && kind != FeatureKind::notch &&
        kind != FeatureKind::housing && kind != FeatureKind::groove &&
        kind != FeatureKind::rabbet && kind != FeatureKind::bridle && kind != FeatureKind::mortise)
      continue;
    Vec3 low{1e18, 1e18, 1e18}, high{-1e18, -1e18, -1e18};
    for (const Face& face : wood.shape->faces) {
      if (face.feature != static_cast<int>(i)) continue;
      for (const auto& loop : face.loops)
        for (const Vec3& p : loop) {
          low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
          high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
        }
    }
    if (high.x - low.x < same_node) continue;
    Loss loss{low.x, high.x, width, thickness};
    const bool spans_width = high.y - low.y > 0.8 * width;
    if (spans_width)
      loss.thickness = std::max(0.1 * thickness, thickness - (high.z - low.z));
    else
      loss.width = std::max(0.1 * width, width - (high.y - low.y));
    losses.push_back(loss);
  }
  return losses;
}

class Reader {
 public:
  explicit Reader(const Scene& scene) : scene_(scene) {}

  Bearing read() {
    for (const Wood& wood : scene_.woods) places_.push_back(own_places(wood));
    held_.resize(places_.size());
    crossed_.resize(places_.size());
    for (std::size_t i = 0; i < scene_.contacts.size(); ++i) meet(static_cast<int>(i));
    stand();
    for (std::size_t i = 0; i < scene_.woods.size(); ++i) lay(static_cast<int>(i));
    for (const Tie& tie : ties_) link(tie);
    for (const Foot& foot : feet_) hold(foot);
    find_loose();
    return std::move(bearing_);
  }

 private:
  struct Tie {
    int contact = 0;
    Vec3 centre = {};
    int parts = 1;
    Patch patch = {};
  };

  struct Foot {
    int body = 0;
    Vec3 at = {};
    double half_x = 0, half_y = 0;
  };

  [[nodiscard]] double along_of(int body, Vec3 p) const {
    const Wood& wood = scene_.woods[at(body)];
    return std::clamp(wood.frame.to_local(p).x, wood.shape->low.x, wood.shape->high.x);
  }

  std::vector<double> own_places(const Wood& wood) const {
    const double from = wood.shape->low.x, to = wood.shape->high.x;
    std::vector<double> places = {from, to, (from + to) / 2};
    for (const Loss& loss : losses_of(wood, scene_.board(wood.board))) {
      places.push_back(std::clamp(loss.from, from, to));
      places.push_back(std::clamp(loss.to, from, to));
    }
    return places;
  }

  void meet(int index) {
    const Contact& contact = scene_.contacts[at(index)];
    const Patch patch = patch_of(scene_, contact);
    constexpr double stretch = 120;  // mm of a long patch that one link stands for
    const int parts = std::clamp(static_cast<int>(std::ceil(2 * patch.half_long / stretch)), 1, 12);
    for (int i = 0; i < parts; ++i) {
      const double offset = parts == 1 ? 0 : patch.half_long * ((2.0 * i + 1) / parts - 1);
      const Vec3 centre = patch.centre + patch.long_way * offset;
      ties_.push_back({index, centre, parts, patch});
      for (const int body : {contact.a, contact.b}) {
        places_[at(body)].push_back(along_of(body, centre));
        held_[at(body)].push_back(along_of(body, centre));
        crossed_[at(body)].push_back(along_of(body, centre));
      }
    }
  }

  // Where boards touch the ground: a bed of springs under each foot.
  void stand() {
    constexpr double on_ground = 1;  // mm
    for (std::size_t i = 0; i < scene_.woods.size(); ++i) {
      const Wood& wood = scene_.woods[i];
      if (wood.low.z > scene_.floor + on_ground) continue;
      Vec3 low{1e18, 1e18, 0}, high{-1e18, -1e18, 0};
      for (const Face& face : wood.shape->faces)
        for (const auto& loop : face.loops)
          for (const Vec3& corner : loop) {
            const Vec3 p = wood.frame.to_world(corner);
            if (p.z > scene_.floor + on_ground) continue;
            low = {std::min(low.x, p.x), std::min(low.y, p.y), p.z};
            high = {std::max(high.x, p.x), std::max(high.y, p.y), p.z};
          }
      const int body = static_cast<int>(i);
      const Vec3 size = high - low, middle = (low + high) * 0.5;
      const double section = scene_.board(wood.board).section.width.in_mm();
      const Vec3 way = wood.frame.x;
      std::vector<Foot> feet = {{body, middle, size.x / 2, size.y / 2}};
      if (std::hypot(size.x, size.y) > 2 * section) {  // it lies along the ground
        feet = {{body, middle - way * (dot(way, size) / 2), 0, 0},
                {body, middle + way * (dot(way, size) / 2), 0, 0}};
      }
      for (const Foot& foot : feet) {
        places_[i].push_back(along_of(body, foot.at));
        held_[i].push_back(along_of(body, foot.at));
        feet_.push_back(foot);
      }
    }
  }

  void hold(const Foot& foot) {
    const double area = std::max(100.0, 4 * foot.half_x * foot.half_y);
    const double bed =
        stiffness_of(scene_, scene_.woods[at(foot.body)].board) / across_to_along / 50;
    const double press = bed * area;
    const int ground = static_cast<int>(bearing_.model.nodes.size());
    bearing_.model.nodes.push_back({foot.at, {true, true, true, true, true, true}});
    const double half = 0.5;  // a foot lifts on one side
    bearing_.model.links.push_back(
        {ground,
         node_at(bearing_, foot.body, along_of(foot.body, foot.at)),
         {.origin = foot.at},
         {press, press, press},
         {half * press * foot.half_y * foot.half_y / 3,
          half * press * foot.half_x * foot.half_x / 3,
          0.02 * press * (foot.half_x * foot.half_x + foot.half_y * foot.half_y)}});
    bearing_.links.push_back({-1, -1, area, foot.half_x, foot.half_y});
    ++bearing_.feet;
  }

  // Makes a board's nodes and members.
  void lay(int body) {
    const Wood& wood = scene_.woods[at(body)];
    const ResolvedBoard& board = scene_.board(wood.board);
    BeamBoard beam{.body = body, .held = held_[at(body)]};
    std::sort(beam.held.begin(), beam.held.end());
    std::vector<double>& places = places_[at(body)];
    std::sort(places.begin(), places.end());
    for (const double x : places) {
      if (!beam.along.empty() && x - beam.along.back() < same_node) continue;
      beam.along.push_back(x);
      beam.nodes.push_back(static_cast<int>(bearing_.model.nodes.size()));
      bearing_.model.nodes.push_back({wood.frame.to_world(Vec3{x, 0, 0})});
    }
    const auto losses = losses_of(wood, board);
    const double e = stiffness_of(scene_, wood.board);
    const auto& density = scene_.stock_of(wood.board).density;
    for (std::size_t i = 0; i + 1 < beam.nodes.size(); ++i) {
      const double middle = (beam.along[i] + beam.along[i + 1]) / 2;
      double width = board.section.width.in_mm(), thickness = board.section.thickness.in_mm();
      for (const Loss& loss : losses) {
        if (middle <= loss.from || middle >= loss.to) continue;
        width = std::min(width, loss.width);
        thickness = std::min(thickness, loss.thickness);
      }
      const Profile profile = rectangle(width, thickness);
      const double weight =
          profile.area * 1e-9 * (density ? density->value : 500) * gravity_n_per_kg;
      beam.members.push_back(static_cast<int>(bearing_.model.members.size()));
      beam.profiles.push_back(profile);
      bearing_.model.members.push_back({beam.nodes[i],
                                        beam.nodes[i + 1],
                                        wood.frame.z,
                                        profile,
                                        e,
                                        e / e_to_g,
                                        {0, 0, -weight}});
      bearing_.member_body.push_back(body);
    }
    bearing_.beams.push_back(std::move(beam));
  }

  [[nodiscard]] int joint_between(int a, int b) const {
    const int board_a = scene_.woods[at(a)].board, board_b = scene_.woods[at(b)].board;
    for (std::size_t i = 0; i < scene_.piece.joints.size(); ++i) {
      const ResolvedJoint& j = scene_.piece.joints[i];
      const bool is_it = (j.a == board_a && j.b == board_b) || (j.a == board_b && j.b == board_a);
      if (is_it) return static_cast<int>(i);
    }
    return -1;
  }

  struct Screws {
    int count = 0;
    double slip = 0, pull = 0;  // N/mm of one
    double spread = 0;          // sum of squared distances from the patch's middle
  };
  [[nodiscard]] Screws screws_in(int joint, Vec3 centre) const {
    Screws screws;
    for (const Driven& d : scene_.driven) {
      if (d.joint != joint) continue;
      const auto& density = scene_.stock_of(d.far).density;
      const double rho = density ? density->value : 450;
      // EN 1995-1-1 Table 7.1: rho^1.5 d / 23; along the axis 25 d l (technical approvals); both
      // from memory.
      screws.slip = std::pow(rho, 1.5) * d.diameter / 23;
      screws.pull = 25 * d.diameter * std::max(0.0, std::min(d.wood, d.length - d.through));
      const Vec3 crossing = d.head + d.direction * d.through;
      const double r = norm(crossing - centre);
      screws.spread += r * r;
      ++screws.count;
    }
    return screws;
  }

  // A board that crosses others in two places or more is turned by neither: the couple of its
  // bearers does that, and what one screw resists by prying is let go (it yields, and the board
  // still bears). So its lap is a pin about the axis square to its grain.
  [[nodiscard]] bool is_carried_on(int body, const Patch& patch, Vec3 way) const {
    const Wood& wood = scene_.woods[at(body)];
    const Vec3 grain = wood.frame.x;
    if (std::abs(dot(grain, patch.normal)) > 0.3) return false;
    if (std::abs(dot(cross(patch.normal, grain), way)) < 0.7) return false;
    const std::vector<double>& crossed = crossed_[at(body)];
    const auto [first, last] = std::minmax_element(crossed.begin(), crossed.end());
    const double apart = 2 * scene_.board(wood.board).section.width.in_mm();
    return first != crossed.end() && *last - *first > apart;
  }

  void link(const Tie& tie) {
    const Contact& contact = scene_.contacts[at(tie.contact)];
    const int joint = joint_between(contact.a, contact.b);
    const Patch& patch = tie.patch;
    const Wood& wa = scene_.woods[at(contact.a)];
    const Wood& wb = scene_.woods[at(contact.b)];
    const double depth = (scene_.board(wa.board).section.thickness.in_mm() +
                          scene_.board(wb.board).section.thickness.in_mm()) /
                         2;
    const double e = (stiffness_of(scene_, wa.board) + stiffness_of(scene_, wb.board)) / 2;
    const double area = patch.area / tie.parts;
    const double half_long = patch.half_long / tie.parts, half_short = patch.half_short;
    const double bed = e / across_to_along / depth;  // N/mm3
    const double press = bed * area;
    FrameLink link{.a = node_at(bearing_, contact.a, along_of(contact.a, tie.centre)),
                   .b = node_at(bearing_, contact.b, along_of(contact.b, tie.centre)),
                   .frame = {tie.centre, patch.long_way, patch.short_way, patch.normal}};
    const double about_x = press * half_short * half_short / 3,
                 about_y = press * half_long * half_long / 3;
    const ResolvedJoint* j = joint < 0 ? nullptr : &scene_.piece.joints[at(joint)];
    if (j && is_glued(*j)) {
      link.moving = {press, press, press};
      link.turning = {about_x, about_y, about_x + about_y};
    } else {
      const Screws screws = joint < 0 ? Screws{} : screws_in(joint, patch.centre);
      const double n = static_cast<double>(screws.count) / tie.parts;
      const double rub = 0.02 * press;  // friction of what only bears
      const double lever = 0.8 * 0.8 * n * screws.pull;
      link.moving = {rub + n * screws.slip, rub + n * screws.slip, press};
      link.parting = std::min(press, 1e-3 * press + n * screws.pull);
      const auto pins = [&](Vec3 way) {
        return is_carried_on(contact.a, patch, way) || is_carried_on(contact.b, patch, way);
      };
      const double pry_x = pins(patch.long_way) ? 0 : lever * half_short * half_short,
                   pry_y = pins(patch.short_way) ? 0 : lever * half_long * half_long;
      // What only touches turns until it bears on one edge: next to freely.
      const double rests = screws.count > 0 ? 0.02 : 0.002;
      link.turning = {std::min(about_x, rests * about_x + pry_x),
                      std::min(about_y, rests * about_y + pry_y),
                      0.02 * (about_x + about_y) + screws.slip * screws.spread / tie.parts};
    }
    bearing_.model.links.push_back(link);
    bearing_.links.push_back({tie.contact, joint, area, half_long, half_short});
  }

  // Boards that hang together with no foot are held in the air, so that the rest can be solved.
  void find_loose() {
    std::vector<int> group(scene_.woods.size());
    std::iota(group.begin(), group.end(), 0);
    const auto root = [&](int i) {
      while (group[at(i)] != i) i = group[at(i)] = group[at(group[at(i)])];
      return i;
    };
    for (const Tie& tie : ties_)
      group[at(root(scene_.contacts[at(tie.contact)].a))] =
          root(scene_.contacts[at(tie.contact)].b);
    std::vector<bool> stands(scene_.woods.size(), false);
    for (const Foot& foot : feet_) stands[at(root(foot.body))] = true;
    for (std::size_t i = 0; i < scene_.woods.size(); ++i) {
      if (stands[at(root(static_cast<int>(i)))]) continue;
      bearing_.loose.push_back(scene_.woods[i].board);
      for (const int node : bearing_.beams[i].nodes)
        bearing_.model.nodes[at(node)].held = {true, true, true, true, true, true};
    }
  }

  const Scene& scene_;
  Bearing bearing_ = {};
  // By body, along it: its nodes, where anything touches it, where other boards do.
  std::vector<std::vector<double>> places_ = {}, held_ = {}, crossed_ = {};
  std::vector<Tie> ties_ = {};
  std::vector<Foot> feet_ = {};
};

}  // namespace

int node_at(const Bearing& bearing, int body, double along) {
  const BeamBoard& beam = bearing.beams[at(body)];
  int best = beam.nodes.front();
  double nearest = std::numeric_limits<double>::max();
  for (std::size_t i = 0; i < beam.along.size(); ++i) {
    if (std::abs(beam.along[i] - along) >= nearest) continue;
    nearest = std::abs(beam.along[i] - along);
    best = beam.nodes[i];
  }
  return best;
}

Bearing bearing_of(const Scene& scene) {
  return Reader(scene).read();
}

}  // namespace kw::surveying
