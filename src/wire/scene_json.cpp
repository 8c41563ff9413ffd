#include "kerfwright/wire/scene_json.h"

#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "kerfwright/planbook/steps.h"

namespace kw {
namespace {

using nlohmann::json;

double rounded(double mm) {
  return std::round(mm * 100) / 100;
}

json numbers_of(const std::vector<Vec3>& points, const Frame& frame) {
  json list = json::array();
  for (const Vec3 p : points) {
    const Vec3 w = frame.to_world(p);
    for (const double v : {w.x, w.y, w.z}) list.push_back(rounded(v));
  }
  return list;
}

template <class Indices>
void add_all(json& list, const Indices& indices) {
  for (const auto i : indices) list.push_back(i);
}

}  // namespace

std::string scene_json(const PlanData& data, const LengthStyle& style) {
  json scene{{"bodies", json::array()}, {"steps", json::array()}};
  std::vector<int> whole(data.assembly->steps.size(), 0);  // number among the steps of the whole
  const auto steps = steps_of(data, style);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (data.assembly->steps[i].sub >= 0) continue;
    whole[i] = static_cast<int>(scene["steps"].size());
    scene["steps"].push_back(fmt::format("Step {}. {}", i + 1, steps[i].title));
  }
  const auto meshes = meshes_of(*data.bodies);
  for (std::size_t b = 0; b < data.bodies->size(); ++b) {
    const Body& body = (*data.bodies)[b];
    json triangles = json::array(), edges = json::array();
    for (const auto& t : meshes[b]->triangles) add_all(triangles, t);
    for (const auto& e : meshes[b]->edges) add_all(edges, e);
    const Vec3 apart = data.assembly->apart[b];
    scene["bodies"].push_back(
        {{"name", data.piece->boards[static_cast<std::size_t>(body.board)].id},
         {"points", numbers_of(meshes[b]->points, body.frame)},
         {"triangles", triangles},
         {"edges", edges},
         {"apart", {rounded(apart.x), rounded(apart.y), rounded(apart.z)}},
         {"step", whole[static_cast<std::size_t>(data.assembly->step_of_body[b])]}});
  }
  return scene.dump();
}

}  // namespace kw
