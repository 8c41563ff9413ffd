#include "kerfwright/checks/fastener.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace kw {
namespace {

constexpr double quarter = 0.25;
constexpr double impossible = std::numeric_limits<double>::infinity();

double radians(double degrees) {
  return degrees * std::numbers::pi / 180;
}

// K_D of Table 12.3.1B.
double small_reduction(double diameter) {
  return diameter <= 0.17 ? 2.2 : 10 * diameter + 0.5;
}

Yield weakest(const std::array<double, 6>& modes) {
  Yield yield{.modes = modes, .least = impossible};
  for (std::size_t i = 0; i < modes.size(); ++i) {
    if (modes[i] >= yield.least) continue;
    yield.least = modes[i];
    yield.mode = static_cast<YieldMode>(i);
  }
  return yield;
}

bool is_sound(const Shear& s) {
  return s.diameter > 0 && s.in_main > 0 && s.in_side > 0 && s.bearing_main > 0 &&
         s.bearing_side > 0 && s.yield > 0;
}

}  // namespace

double withdrawal_per_inch(Holding kind, double gravity, double diameter) {
  if (gravity <= 0 || diameter <= 0) return 0;
  switch (kind) {
    case Holding::wood_screw:
      return 2850 * gravity * gravity * diameter;
    case Holding::plain_nail:
      return 1380 * std::pow(gravity, 2.5) * diameter;
    case Holding::ring_nail:
      return 1800 * gravity * gravity * diameter;
    case Holding::stainless_nail:
      return 465 * std::pow(gravity, 1.5) * diameter;
    case Holding::lag_screw:
      return 1800 * std::pow(gravity, 1.5) * std::pow(diameter, 0.75);
  }
  return 0;
}

double head_pull_through(double gravity, double head, double thickness) {
  if (gravity <= 0 || head <= 0 || thickness <= 0) return 0;
  const double counted = std::min(thickness, 2.5 * head);
  return 690 * std::numbers::pi * head * gravity * gravity * counted;
}

double bearing_of_small(double gravity) {
  return gravity > 0 ? 16600 * std::pow(gravity, 1.84) : 0;
}

double bearing_along(double gravity) {
  return std::max(0.0, 11200 * gravity);
}

double bearing_across(double gravity, double diameter) {
  if (gravity <= 0 || diameter <= 0) return 0;
  return 6100 * std::pow(gravity, 1.45) / std::sqrt(diameter);
}

double bearing_at(double along, double across, double degrees) {
  const double s = std::sin(radians(degrees)), c = std::cos(radians(degrees));
  const double below = along * s * s + across * c * c;
  return below > 0 ? along * across / below : 0;
}

double tabulated(double bearing) {
  return std::round(bearing / 50) * 50;
}

double bending_yield(double diameter) {
  if (diameter <= 0.142) return 100'000;
  if (diameter <= 0.177) return 90'000;
  if (diameter <= 0.236) return 80'000;
  if (diameter <= 0.273) return 70'000;
  return diameter <= 0.344 ? 60'000 : 45'000;
}

Reduction reduction_for(double nominal, double in_equations, double degrees) {
  const double turn = 1 + 0.25 * degrees / 90;
  if (in_equations >= quarter) return {4 * turn, 3.6 * turn, 3.2 * turn};
  const double small = small_reduction(in_equations) * (nominal >= quarter ? turn : 1);
  return {small, small, small};
}

std::string_view name_of(YieldMode mode) {
  constexpr std::array<std::string_view, 6> names = {"Im", "Is", "II", "IIIm", "IIIs", "IV"};
  return names[static_cast<std::size_t>(mode)];
}

// Table 12.3.1A (p. 83). k2 holds (1 + 2 R_e), k3 (2 + R_e).
Yield single_shear(const Shear& s) {
  if (!is_sound(s)) return {};
  const double d = s.diameter, re = s.bearing_main / s.bearing_side, rt = s.in_main / s.in_side;
  const double stiff = 2 * s.yield * d * d / (3 * s.bearing_main);
  const double k1 =
      (std::sqrt(re + 2 * re * re * (1 + rt + rt * rt) + rt * rt * re * re * re) - re * (1 + rt)) /
      (1 + re);
  const double k2 = -1 + std::sqrt(2 * (1 + re) + stiff * (1 + 2 * re) / (s.in_main * s.in_main));
  const double k3 = -1 + std::sqrt(2 * (1 + re) / re + stiff * (2 + re) / (s.in_side * s.in_side));
  const Reduction& r = s.reduction;
  return weakest(
      {d * s.in_main * s.bearing_main / r.one, d * s.in_side * s.bearing_side / r.one,
       k1 * d * s.in_side * s.bearing_side / r.two,
       k2 * d * s.in_main * s.bearing_main / ((1 + 2 * re) * r.three_and_four),
       k3 * d * s.in_side * s.bearing_main / ((2 + re) * r.three_and_four),
       d * d / r.three_and_four * std::sqrt(2 * s.bearing_main * s.yield / (3 * (1 + re)))});
}

Yield double_shear(const Shear& s) {
  if (!is_sound(s)) return {};
  std::array<double, 6> modes = single_shear(s).modes;
  for (const YieldMode mode : {YieldMode::one_side, YieldMode::three_side, YieldMode::four})
    modes[static_cast<std::size_t>(mode)] *= 2;
  modes[static_cast<std::size_t>(YieldMode::two)] = impossible;
  modes[static_cast<std::size_t>(YieldMode::three_main)] = impossible;
  return weakest(modes);
}

double bearing_length(double penetration, double diameter) {
  return std::max(0.0, penetration - diameter);
}

double penetration_factor(Holding kind, double penetration, double diameter) {
  if (diameter <= 0) return 0;
  const bool is_lag = kind == Holding::lag_screw;
  const double depth = penetration / diameter;
  if (depth < (is_lag ? 4 : 6) - 1e-9) return 0;
  return std::min(1.0, depth / (is_lag ? 8 : 10));
}

double duration_factor(Duration duration) {
  constexpr std::array<double, 6> factors = {0.9, 1.0, 1.15, 1.25, 1.6, 2.0};
  return factors[static_cast<std::size_t>(duration)];
}

double duration_factor_of_connection(Duration duration) {
  return std::min(duration_factor(duration), duration_factor(Duration::ten_minutes));
}

double wet_lateral(Service service, double diameter) {
  if (service == Service::dry) return 1;
  if (service == Service::wet) return 0.7;
  return diameter < quarter ? 0.7 : 0.4;
}

double wet_withdrawal(Holding kind, Service service) {
  if (service == Service::dry) return 1;
  const bool is_nail = kind != Holding::wood_screw && kind != Holding::lag_screw;
  if (is_nail) return service == Service::wet ? 1 : 0.25;
  return service == Service::wet ? 0.7 : 1;
}

double heat_factor(double fahrenheit, bool is_wet) {
  if (fahrenheit <= 100) return 1;
  if (fahrenheit <= 125) return is_wet ? 0.7 : 0.8;
  return is_wet ? 0.5 : 0.7;
}

double group_factor(const Row& row) {
  if (row.count < 2 || row.diameter < quarter) return 1;
  if (row.main_stiffness <= 0 || row.side_stiffness <= 0) return 0;
  const double slip = (row.is_steel_side ? 270'000 : 180'000) * std::pow(row.diameter, 1.5);
  const double u = 1 + slip * row.spacing / 2 * (1 / row.main_stiffness + 1 / row.side_stiffness);
  const double m = u - std::sqrt(u * u - 1);
  const double ratio =
      std::min(row.side_stiffness / row.main_stiffness, row.main_stiffness / row.side_stiffness);
  const double mn = std::pow(m, row.count), n = row.count;
  return m * (1 - mn * mn) / (n * ((1 + ratio * mn) * (1 + m) - 1 + mn * mn)) * (1 + ratio) /
         (1 - m);
}

double combined_screw(double withdrawal, double lateral, double degrees) {
  const double c = std::cos(radians(degrees)), s = std::sin(radians(degrees));
  const double below = withdrawal * c * c + lateral * s * s;
  return below > 0 ? withdrawal * lateral / below : 0;
}

double combined_nail(double withdrawal, double lateral, double degrees) {
  const double c = std::cos(radians(degrees)), s = std::sin(radians(degrees));
  const double below = withdrawal * c + lateral * s;
  return below > 0 ? withdrawal * lateral / below : 0;
}

double lead_for_withdrawal(double gravity, double root) {
  if (gravity > 0.6) return 0.9 * root;
  return gravity > 0.5 ? 0.7 * root : 0;
}

double lead_for_thread(double gravity, double root) {
  return gravity > 0.6 ? root : 7.0 / 8 * root;
}

double lead_for_shank(double gravity, double diameter) {
  return gravity > 0.6 ? diameter : 7.0 / 8 * diameter;
}

Distances least_distances(double diameter, bool is_bored, bool is_hardwood) {
  if (diameter >= quarter) {
    return {.edge = 1.5,
            .edge_pressed = 4,
            .end_pulled = is_hardwood ? 5.0 : 7.0,
            .end_pushed = 4,
            .in_row = 4,
            .between_rows = 1.5,
            .source = "NDS 2018 Tables 12.5.1A to E"};
  }
  const auto by = [&](double bored, double driven) { return is_bored ? bored : driven; };
  return {.edge = 2.5,
          .edge_pressed = 2.5,
          .end_pulled = by(10, 15),
          .end_pushed = by(5, 10),
          .in_row = by(10, 15),
          .in_row_across = by(5, 10),
          .between_rows = by(3, 5),
          .between_staggered = 2.5,
          .source = "NDS Commentary Tables C12.1.5.7 and C12.1.6.6 (from memory)"};
}

Distances smallest_distances(bool is_hardwood) {
  return {.edge = 1.5,
          .edge_pressed = 4,
          .end_pulled = is_hardwood ? 2.5 : 3.5,
          .end_pushed = 2,
          .in_row = 3,
          .source = "NDS 2018 Tables 12.5.1A to E"};
}

Distances european_distances(double diameter, bool is_bored, double degrees) {
  const double c = std::abs(std::cos(radians(degrees))), s = std::abs(std::sin(radians(degrees)));
  const bool is_thin = diameter < 5 / 25.4;
  Distances d{.source =
                  "EN 1995-1-1 Table 8.2, density to 420 kg/m3 (read in a secondary "
                  "transcription)"};
  d.edge = is_bored ? 3 : 5;
  d.edge_pressed = is_bored ? 3 + (is_thin ? 2 : 4) * s : 5 + (is_thin ? 2 : 5) * s;
  d.end_pulled = is_bored ? 7 + 5 * c : 10 + 5 * c;
  d.end_pushed = is_bored ? 7 : 10;
  d.in_row = is_bored ? 4 + c : 5 + (is_thin ? 5 : 7) * c;
  d.between_rows = is_bored ? 3 + s : 5;
  return d;
}

}  // namespace kw
