#include "kerfwright/checks/shop.h"

#include <cmath>

namespace kw {

double hours_allowed_osha(double decibels) {
  return 8 * std::pow(2, (90 - decibels) / 5);
}

double hours_allowed_niosh(double decibels) {
  return 8 * std::pow(2, (85 - decibels) / 3);
}

}  // namespace kw
