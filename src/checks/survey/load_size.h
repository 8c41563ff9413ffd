// Private to checks: how much a load is.
#pragma once

#include <optional>
#include <vector>

#include "survey/scene.h"

namespace kw::surveying {

inline constexpr double person = 250 * newton_per_pound_force;  // 2010 ADA Standards 903.6

// In N, N/mm, N/mm2 or N/mm3, by how many lengths it is over; a mass weighs.
struct LoadSize {
  double newton = 0;
  int per_length = 0;
};
// People who are not said how heavy are each one person; nothing where any other load does not say
// how much it is, or says what is neither a force nor a mass.
[[nodiscard]] std::optional<LoadSize> size_of(const ResolvedLoad& load);
// All of it, N; 0 where that is not said, or only how much it is over a length.
[[nodiscard]] double whole_of(const ResolvedLoad& load);

// What a load of soil fills: the hollows that its boards wall or floor. Empty where it says its
// whole weight, which then lies on its boards.
[[nodiscard]] std::vector<const Pool*> filled_by(Scene& scene, const ResolvedLoad& load);
// Of the soil, N/mm3: as said, else of wet potting mix.
[[nodiscard]] double soil_weight(const ResolvedLoad& load);

}  // namespace kw::surveying
