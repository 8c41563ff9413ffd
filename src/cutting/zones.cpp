#include "zones.h"

#include <algorithm>
#include <cmath>

#include "model.h"

namespace kw::cutting {

std::int64_t widest_cut(const Problem& problem) {
  const std::int64_t kerf = problem.saw.kerf.in_ticks();
  std::int64_t widest = kerf;
  for (const Demand& d : problem.demands) {
    const double slope = std::max(std::abs(d.left_slope), std::abs(d.right_slope));
    if (d.count == 0 || slope == 0) continue;
    const double cut = static_cast<double>(kerf) * std::sqrt(1 + slope * slope);
    widest = std::max(widest, ticks_above(cut));
  }
  return widest;
}

std::vector<Stretch> zones_of(const Stock& stock, std::int64_t trim, std::int64_t widest) {
  const std::int64_t usable = stock.length.in_ticks() - 2 * trim;
  std::vector<Stretch> all;
  for (const FaultyZone& fault : stock.faults) {
    const std::int64_t from = fault.from.in_ticks() - trim;
    const std::int64_t to = from + std::max(fault.length.in_ticks(), widest);
    const Stretch zone{std::max<std::int64_t>(from, 0), std::min(to, usable)};
    if (zone.length() > 0) all.push_back(zone);
  }
  std::sort(all.begin(), all.end(),
            [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
  std::vector<Stretch> apart;
  for (const Stretch& zone : all) {
    if (apart.empty() || zone.from > apart.back().to) {
      apart.push_back(zone);
    } else {
      apart.back().to = std::max(apart.back().to, zone.to);
    }
  }
  return apart;
}

std::vector<Stretch> clear_between(const std::vector<Stretch>& zones, std::int64_t usable) {
  std::vector<Stretch> clear;
  std::int64_t from = 0;
  for (const Stretch& zone : zones) {
    if (zone.from > from) clear.push_back({from, zone.from});
    from = zone.to;
  }
  if (usable > from) clear.push_back({from, usable});
  return clear;
}

}  // namespace kw::cutting
