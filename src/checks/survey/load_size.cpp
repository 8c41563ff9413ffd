#include "survey/load_size.h"

#include <algorithm>
#include <cmath>

#include "kerfwright/checks/handling.h"

namespace kw::surveying {

std::optional<LoadSize> size_of(const ResolvedLoad& load) {
  const Dimension& d = load.each.dimension;
  if (d.mass != 1) return load.kind == "people" ? std::optional(LoadSize{person, 0}) : std::nullopt;
  const bool is_force = d.time == -2;
  const int per = is_force ? 1 - d.length : -d.length;
  const double si = in_si(load.each) * (is_force ? 1 : gravity_n_per_kg);
  return LoadSize{si / std::pow(1000.0, per), per};
}

double whole_of(const ResolvedLoad& load) {
  const auto size = size_of(load);
  return size && size->per_length == 0 ? size->newton : 0;
}

std::vector<const Pool*> filled_by(Scene& scene, const ResolvedLoad& load) {
  std::vector<const Pool*> filled;
  const auto size = size_of(load);
  if (size && size->per_length != 3) return filled;
  for (const Pool& pool : scene.hollows()) {
    const bool is_meant = std::any_of(load.on.begin(), load.on.end(), [&](int board) {
      const int body = scene.body_of[at(board)];
      return std::find(pool.bodies.begin(), pool.bodies.end(), body) != pool.bodies.end();
    });
    if (is_meant) filled.push_back(&pool);
  }
  return filled;
}

double soil_weight(const ResolvedLoad& load) {
  const auto size = size_of(load);
  return size && size->per_length == 3 ? size->newton
                                       : fills().front().wet * 1e-9 * gravity_n_per_kg;
}

}  // namespace kw::surveying
