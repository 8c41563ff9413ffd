#include "kerfwright/trade/coins.h"

#include <algorithm>
#include <cmath>

namespace kw::trade {

Money nearest_coin(double coins) {
  if (std::isnan(coins)) return {};
  constexpr double most = 1e12;
  return {std::llround(std::clamp(coins * (1 + 1e-12), -most, most))};
}

Money part_of(Money coins, double share) {
  return nearest_coin(static_cast<double>(coins.coins) * share);
}

}  // namespace kw::trade
