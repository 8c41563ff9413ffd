#include "place.h"
#include "steps.h"

namespace kw::resolving {
namespace {

// Everything that formulas may name, also what nothing uses, so that its faults are told.
void look_through(Work& work, int site) {
  if (!work.seen_scopes.insert(work.sites[site].scope).second) return;
  const Scope& scope = work.sites.scope(site);
  const auto ask = [&](Of of, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i)
      (void)work.values.of(Node{site, of, static_cast<int>(i)});
  };
  ask(Of::derived, scope.derived.size());
  ask(Of::coordinate, 3 * scope.points.size());
  for (const PlaneDecl& plane : scope.planes) (void)plane_of(work, site, plane);
}

}  // namespace

Scene work_out(Work& work, int site) {
  Scene scene{.work = work, .site = site};
  look_through(work, site);
  lay_boards(scene);
  lay_panels(scene);
  place_uses(scene);
  make_copies(scene);
  find_ends(scene);
  cut_planes(scene);
  join(scene);
  enter_others(scene);
  cut_corners(scene);
  bore_holes(scene);
  return scene;
}

}  // namespace kw::resolving
