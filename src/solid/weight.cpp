#include "kerfwright/solid/body.h"

namespace kw {

Weight weight_of(const Resolved& piece, const std::vector<Body>& bodies) {
  Weight weight;
  Vec3 by_volume, by_mass;
  for (const Body& body : bodies) {
    const ResolvedBoard& board = piece.boards[static_cast<std::size_t>(body.board)];
    const auto& density = piece.stocks[static_cast<std::size_t>(board.stock)].density;
    const Vec3 centre = body.frame.to_world(body.shape->centroid);
    const Volume volume = body.shape->volume;
    weight.volume += volume;
    by_volume += centre * volume.value;
    if (density) {
      const Mass mass = mass_of(volume, *density);
      weight.mass += mass;
      by_mass += centre * mass.value;
    } else {
      ++weight.without_density;
    }
  }
  const bool is_mass_known = weight.without_density == 0 && weight.mass.value > 0;
  const double whole = is_mass_known ? weight.mass.value : weight.volume.value;
  if (whole > 0) weight.centre = (is_mass_known ? by_mass : by_volume) * (1 / whole);
  return weight;
}

}  // namespace kw
