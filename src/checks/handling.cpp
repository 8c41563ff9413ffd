#include "kerfwright/checks/handling.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kw {
namespace {

// Table 5 of 94-110 (from memory): lifts a minute, then up to 1, 2 and 8 hours, hands below 75 cm.
struct Often {
  double per_minute = 0;
  std::array<double, 3> factors = {};
};
constexpr std::array often = {
    Often{0.2, {1.00, 0.95, 0.85}}, Often{0.5, {0.97, 0.92, 0.81}}, Often{1, {0.94, 0.88, 0.75}},
    Often{2, {0.91, 0.84, 0.65}},   Often{3, {0.88, 0.79, 0.55}},   Often{4, {0.84, 0.72, 0.45}},
    Often{5, {0.80, 0.60, 0.35}},   Often{6, {0.75, 0.50, 0.27}},
};

double often_factor(const Lift& lift) {
  const std::size_t column = lift.hours <= 1 ? 0 : lift.hours <= 2 ? 1 : 2;
  for (const Often& row : often)
    if (lift.per_minute <= row.per_minute) return row.factors[column];
  return 0;
}

double grip_factor(const Lift& lift) {
  if (lift.grip == Lift::Grip::good) return 1;
  if (lift.grip == Lift::Grip::poor) return 0.90;
  return lift.height >= 75 ? 1 : 0.95;
}

}  // namespace

double lifting_limit(const Lift& lift) {
  if (lift.horizontal > 63 || lift.height < 0 || lift.height > 175 || lift.travel > 175 ||
      lift.twist > 135)
    return 0;
  const double horizontal = 25 / std::max(25.0, lift.horizontal);
  const double height = 1 - 0.003 * std::abs(lift.height - 75);
  const double travel = 0.82 + 4.5 / std::max(25.0, lift.travel);
  const double twist = 1 - 0.0032 * lift.twist;
  return 23 * horizontal * height * std::min(1.0, travel) * twist * often_factor(lift) *
         grip_factor(lift);
}

double lifting_index(double mass, const Lift& lift) {
  const double limit = lifting_limit(lift);
  return limit > 0 ? mass / limit : 0;
}

bool goes_through(double a, double b, double c, double width, double height) {
  std::array<double, 3> sides = {a, b, c};
  std::sort(sides.begin(), sides.end());
  const double small = std::min(width, height), large = std::max(width, height);
  return sides[0] <= small && sides[1] <= large;
}

const std::vector<Comfort>& comforts() {
  static const std::vector<Comfort> all = {
      {"bench seat height", 432, 483, "2010 ADA Standards 903.5, read (17 to 19 in)"},
      {"bench seat depth", 508, 610, "2010 ADA Standards 903.3, read (20 to 24 in)"},
      {"chair seat height", 380, 480, "common practice, no published source"},
      {"dining or work table height", 710, 760, "common practice, no published source"},
      {"standing bench height", 850, 1000, "common practice, no published source"},
  };
  return all;
}

const std::vector<FillMaterial>& fills() {
  static const std::vector<FillMaterial> all = {
      {"potting mix", 480, 960,
       "60 lb/ft3 saturated, common practice; web pages disagree (12 to 60 lb/ft3)"},
      {"topsoil", 1220, 1920, "100 to 120 lb/ft3 saturated, common practice, no published source"},
      {"water", 1000, 1000, "62.4 lb/ft3, physical constant"},
  };
  return all;
}

}  // namespace kw
