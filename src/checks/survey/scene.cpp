#include "survey/scene.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace kw::surveying {
namespace {

bool is_cutter(const Feature& feature) {
  return !feature.planes.empty() && feature.kind >= FeatureKind::half_lap;
}

// A side of the stick or of what trims it: all the wood lies behind it.
bool is_trim(const Shape& shape, const Face& face) {
  constexpr double slack = 0.05;  // mm
  if (shape.features[at(face.feature)].kind >= FeatureKind::half_lap) return false;
  for (const Face& other : shape.faces)
    for (const auto& loop : other.loops)
      for (const Vec3& corner : loop)
        if (face.plane.distance(corner) > slack) return false;
  return true;
}

void add_hollows(const Feature& feature, int index, const Frame& frame, Wood& wood) {
  std::vector<int> begins = feature.cutter_begin;
  if (begins.empty()) begins.push_back(0);
  for (std::size_t i = 0; i < begins.size(); ++i) {
    const auto from = feature.planes.begin() + begins[i];
    const auto to =
        i + 1 < begins.size() ? feature.planes.begin() + begins[i + 1] : feature.planes.end();
    WoodHollow hollow{.feature = index};
    for (auto plane = from; plane != to; ++plane) hollow.planes.push_back(frame.to_world(*plane));
    if (!hollow.planes.empty()) wood.hollows.push_back(std::move(hollow));
  }
}

bool has_tag(const Resolved& piece, std::string_view tag) {
  return std::find(piece.tags.begin(), piece.tags.end(), tag) != piece.tags.end();
}

// Asked for, else as the file says, else by its tags. Wet service where the wood comes above 19 %
// (NDS 4.3.3), and outdoors.
void set_climate(Scene& scene) {
  const ResolvedClimate& said = scene.piece.climate;
  const Climate* named = find_climate(scene.options.climate);
  if (named == nullptr) named = find_climate(said.named);
  const bool is_by_tags = named == nullptr;
  const bool is_open = has_tag(scene.piece, "outdoors") || has_tag(scene.piece, "garden");
  if (is_by_tags) named = find_climate(is_open ? "outdoors" : "indoors");
  scene.climate = *named;
  if (said.humidity) {
    scene.climate.dry.humidity = (*said.humidity)[0];
    scene.climate.humid.humidity = (*said.humidity)[1];
  }
  if (said.celsius) {
    scene.climate.dry.celsius = (*said.celsius)[0];
    scene.climate.humid.celsius = (*said.celsius)[1];
  }
  scene.built = said.moisture;
  const bool is_typed = said.humidity || said.celsius;
  const bool is_wet = named->name == "outdoors" || named->name == "damp";
  constexpr double wet_from = 19;
  scene.is_outdoors = is_wet || (is_typed && equilibrium_moisture(scene.climate.humid) > wet_from);
}

}  // namespace

bool Wood::is_in_stick(Vec3 p, double radius) const {
  return std::all_of(trims.begin(), trims.end(),
                     [&](const Plane& plane) { return plane.distance(p) <= -radius; });
}

bool Wood::is_in(Vec3 p) const {
  if (!is_in_stick(p)) return false;
  return std::none_of(hollows.begin(), hollows.end(),
                      [&](const WoodHollow& hollow) { return is_in_hollow(hollow, p, 0); });
}

bool is_in_hollow(const WoodHollow& hollow, Vec3 p, double radius) {
  return std::all_of(hollow.planes.begin(), hollow.planes.end(),
                     [&](const Plane& plane) { return plane.distance(p) <= radius; });
}

Wood wood_of(const Body& body) {
  constexpr double huge = std::numeric_limits<double>::max();
  Wood wood{.board = body.board,
            .frame = body.frame,
            .shape = body.shape.get(),
            .low = {huge, huge, huge},
            .high = {-huge, -huge, -huge}};
  for (const Face& face : body.shape->faces) {
    if (is_trim(*body.shape, face)) wood.trims.push_back(body.frame.to_world(face.plane));
    for (const auto& loop : face.loops) {
      for (const Vec3& corner : loop) {
        const Vec3 p = body.frame.to_world(corner);
        wood.low = {std::min(wood.low.x, p.x), std::min(wood.low.y, p.y),
                    std::min(wood.low.z, p.z)};
        wood.high = {std::max(wood.high.x, p.x), std::max(wood.high.y, p.y),
                     std::max(wood.high.z, p.z)};
      }
    }
  }
  for (std::size_t i = 0; i < body.shape->features.size(); ++i) {
    const Feature& feature = body.shape->features[i];
    if (is_cutter(feature)) add_hollows(feature, static_cast<int>(i), body.frame, wood);
  }
  return wood;
}

bool is_glued(const ResolvedJoint& joint) {
  return !joint.glue.empty() || joint.kind == JointKind::glue;
}

std::string declared_name(std::string_view id) {
  const auto is_number = [](std::string_view word) {
    return !word.empty() && word.find_first_not_of("0123456789") == std::string_view::npos;
  };
  std::size_t line = id.rfind('/');
  if (line != std::string_view::npos && line > 0 && is_number(id.substr(line + 1))) {
    id = id.substr(0, line);
    line = id.rfind('/');
  }
  return std::string(line == std::string_view::npos ? id : id.substr(line + 1));
}

std::string Scene::length(double mm, Rounding how) const {
  const Length exact = Length::mm(mm);
  const Length step =
      piece.unit == LengthUnit::mm ? Length::mm(0.1) : divide(Length::inches(1), 64);
  return format_length(round_to(exact, step, how),
                       {.unit = piece.unit, .finest = 64, .decimals = 1});
}

std::string Scene::force(double newton) const {
  return piece.unit == LengthUnit::mm ? fmt::format("{:.0f} N", newton)
                                      : fmt::format("{:.0f} lbf", newton / newton_per_pound_force);
}

std::string Scene::mass(double kg) const {
  return piece.unit == LengthUnit::mm ? fmt::format("{:.1f} kg", kg)
                                      : fmt::format("{:.0f} lb", kg / kg_per_pound);
}

const Species* Scene::species_of(int index) const {
  return species[at(board(index).stock)];
}

const Fastener* Scene::fastener(const ResolvedJoint& joint) const {
  const auto found = fasteners.find(joint.fastener);
  return found == fasteners.end() ? nullptr : found->second;
}

double Scene::gravity_of(int index) const {
  const Species* wood = species_of(index);
  if (wood == nullptr) return 0;
  if (wood->gravity_nds) return *wood->gravity_nds;
  // NDS Supplement 3.1 turned round at 12 %: G / (1 + 0.009 G 12) = gravity at 12 %.
  return wood->gravity_12 ? *wood->gravity_12 / (1 - 0.108 * *wood->gravity_12) : 0;
}

Scene scene_of(const Resolved& piece, const std::vector<Body>& bodies, const Catalogue& catalogue,
               const SurveyOptions& options) {
  Scene scene{piece, bodies, catalogue, options};
  scene.body_of.assign(piece.boards.size(), -1);
  scene.floor = std::numeric_limits<double>::max();
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    scene.woods.push_back(wood_of(bodies[i]));
    scene.body_of[at(bodies[i].board)] = static_cast<int>(i);
    scene.floor = std::min(scene.floor, scene.woods.back().low.z);
  }
  for (const ResolvedStock& stock : piece.stocks)
    scene.species.push_back(stock.species.empty() ? nullptr
                                                  : find_species(catalogue, stock.species));
  for (const ResolvedJoint& joint : piece.joints)
    if (!joint.fastener.empty() && scene.fasteners.count(joint.fastener) == 0)
      scene.fasteners[joint.fastener] = find_fastener(catalogue, joint.fastener);
  constexpr double touching = 0.6;
  scene.contacts = contacts_in(bodies, touching);
  scene.driven = driven_in(piece);
  set_climate(scene);
  return scene;
}

double Scene::top_of(const std::vector<int>& boards) const {
  double top = 0;
  for (const int board : boards)
    if (const int body = body_of[at(board)]; body >= 0)
      top = std::max(top, woods[at(body)].high.z - floor);
  return top;
}

const std::vector<Pool>& Scene::hollows() {
  if (!pools) pools = pools_in(bodies);
  return *pools;
}

}  // namespace kw::surveying
