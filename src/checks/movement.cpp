#include "kerfwright/checks/movement.h"

#include <algorithm>
#include <cmath>

namespace kw {
namespace {

struct Sorption {
  double w = 0, k = 0, k1 = 0, k2 = 0;
};

double moisture(const Sorption& s, double humidity) {
  const double h = std::clamp(humidity, 0.0, 100.0) / 100;
  const double kh = s.k * h;
  const double both = s.k1 * s.k2 * kh * kh;
  return 1800 / s.w * (kh / (1 - kh) + (s.k1 * kh + 2 * both) / (1 + s.k1 * kh + both));
}

}  // namespace

double equilibrium_moisture(const Air& air) {
  const double t = air.celsius * 9 / 5 + 32;
  return moisture({330 + 0.452 * t + 0.00415 * t * t, 0.791 + 4.63e-4 * t - 8.44e-7 * t * t,
                   6.34 + 7.75e-4 * t - 9.35e-5 * t * t, 1.09 + 2.84e-2 * t - 9.04e-5 * t * t},
                  air.humidity);
}

double equilibrium_moisture_metric(const Air& air) {
  const double t = air.celsius;
  return moisture({349 + 1.29 * t + 0.0135 * t * t, 0.805 + 7.36e-4 * t - 2.73e-6 * t * t,
                   6.27 - 9.38e-3 * t - 3.03e-4 * t * t, 1.91 + 4.07e-2 * t - 2.93e-4 * t * t},
                  air.humidity);
}

const std::vector<Climate>& climates() {
  static const std::vector<Climate> all = {
      {"indoors", {21, 30}, {24, 60}},
      {"heated", {21, 20}, {24, 55}},
      {"outdoors", {25, 50}, {5, 85}},
      {"damp", {20, 65}, {10, 92}},
  };
  return all;
}

const Climate* find_climate(std::string_view name) {
  for (const Climate& climate : climates())
    if (climate.name == name) return &climate;
  return nullptr;
}

double change_by_coefficient(double width, double coefficient, double from, double to) {
  return width * coefficient * (to - from);
}

double change_by_shrinkage(double width, double shrinkage, double from, double to, double start) {
  if (shrinkage <= 0) return 0;
  const double a = std::min(from, start), b = std::min(to, start);
  return width * (b - a) / (100 * start / shrinkage - start + a);
}

double start_of_shrinkage(const Species& species) {
  const auto is_called = [&](std::string_view word) {
    return species.name.find(word) != std::string::npos;
  };
  return is_called("Redwood") || is_called("western redcedar") || is_called("northern white") ? 22
                                                                                              : 30;
}

Figure movement_of(const Species& species, Sawn sawn, double from, double to) {
  const Figure& coefficient = sawn == Sawn::flat ? species.move_tangential : species.move_radial;
  const Figure& shrinkage = sawn == Sawn::flat ? species.shrink_tangential : species.shrink_radial;
  const bool is_near = std::min(from, to) >= 6 && std::max(from, to) <= 14;
  if (coefficient && (is_near || !shrinkage))
    return change_by_coefficient(1, *coefficient, from, to);
  if (!shrinkage) return std::nullopt;
  return change_by_shrinkage(1, *shrinkage, from, to, start_of_shrinkage(species));
}

double lumber_width_shrinkage(double moisture) {
  return 6.031 - 0.215 * moisture;
}

double lumber_thickness_shrinkage(double moisture) {
  return 5.062 - 0.181 * moisture;
}

}  // namespace kw
