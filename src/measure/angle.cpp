#include "kerfwright/measure/angle.h"

#include <cmath>
#include <limits>

namespace kw {
namespace {

struct Point {
  double cosine = 1;
  double sine = 0;
};

// On the unit circle, for an angle of at most half a quarter turn.
Point near_the_axis(double degrees) {
  const double size = std::abs(degrees);
  if (size == 30) return {std::sqrt(0.75), std::copysign(0.5, degrees)};
  if (size == 45) return {std::sqrt(0.5), std::copysign(std::sqrt(0.5), degrees)};
  const double radians = Angle::degrees(degrees).in_radians();
  return {std::cos(radians), std::sin(radians)};
}

Point on_the_circle(Angle angle) {
  int quarters = 0;
  const Point p = near_the_axis(std::remquo(angle.in_degrees(), 90.0, &quarters));
  switch (quarters & 3) {
    case 0:
      return p;
    case 1:
      return {-p.sine, p.cosine};
    case 2:
      return {-p.cosine, -p.sine};
    default:
      return {p.sine, -p.cosine};
  }
}

}  // namespace

Angle round_to(Angle value, Angle step) {
  if (step.in_degrees() <= 0) return value;
  return Angle::degrees(std::round(value.in_degrees() / step.in_degrees()) * step.in_degrees());
}

double sine_of(Angle angle) {
  return on_the_circle(angle).sine;
}

double cosine_of(Angle angle) {
  return on_the_circle(angle).cosine;
}

double tangent_of(Angle angle) {
  const Point p = on_the_circle(angle);
  if (std::abs(p.cosine) < 1e-12) return std::numeric_limits<double>::infinity();
  return p.sine / p.cosine;
}

}  // namespace kw
