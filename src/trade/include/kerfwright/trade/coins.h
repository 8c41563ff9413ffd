// From figures to whole coins, as a till rounds.
#pragma once

#include "kerfwright/measure/money.h"

namespace kw::trade {

// The nearest coin, halves away from zero. What lies within a million-millionth of a half counts as
// one: 17.5 % of 27.00 are 4.725, whatever binary fractions make of it. Held to 1e12 coins; no
// number gives none.
[[nodiscard]] Money nearest_coin(double coins);

// `coins` x `share`, to the nearest coin.
[[nodiscard]] Money part_of(Money coins, double share);

}  // namespace kw::trade
