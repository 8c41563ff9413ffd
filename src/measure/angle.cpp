#include "kerfwright/measure/angle.h"

#include <cmath>

namespace kw {

Angle round_to(Angle value, Angle step) {
  if (step.in_degrees() <= 0) return value;
  return Angle::degrees(std::round(value.in_degrees() / step.in_degrees()) * step.in_degrees());
}

}  // namespace kw
