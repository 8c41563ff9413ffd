#include "kerfwright/checks/timber.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace kw {
namespace {

struct Graded {
  std::string_view group = {}, grade = {};
  double widest = 0;  // the row holds up to this nominal width; 0: any
  std::array<double, 7> psi = {};
};

// NDS Supplement 2018 Table 4A (read in a secondary transcription); southern pine Table 4B: F_b
// from memory, checked against an SI table; F_v, F_c across and E_min from memory.
constexpr std::array graded = {
    Graded{"Douglas fir-larch", "Select Structural", 0, {1500, 1000, 180, 625, 1700, 1.9e6, 690e3}},
    Graded{"Douglas fir-larch", "No. 1 & Btr", 0, {1200, 800, 180, 625, 1550, 1.8e6, 660e3}},
    Graded{"Douglas fir-larch", "No. 1", 0, {1000, 675, 180, 625, 1500, 1.7e6, 620e3}},
    Graded{"Douglas fir-larch", "No. 2", 0, {900, 575, 180, 625, 1350, 1.6e6, 580e3}},
    Graded{"Douglas fir-larch", "No. 3", 0, {525, 325, 180, 625, 775, 1.4e6, 510e3}},
    Graded{"Douglas fir-larch", "Stud", 0, {700, 450, 180, 625, 850, 1.4e6, 510e3}},
    Graded{"Hem-fir", "Select Structural", 0, {1400, 925, 150, 405, 1500, 1.6e6, 580e3}},
    Graded{"Hem-fir", "No. 1", 0, {975, 625, 150, 405, 1350, 1.5e6, 550e3}},
    Graded{"Hem-fir", "No. 2", 0, {850, 525, 150, 405, 1300, 1.3e6, 470e3}},
    Graded{"Hem-fir", "No. 3", 0, {500, 300, 150, 405, 725, 1.2e6, 440e3}},
    Graded{"Hem-fir", "Stud", 0, {675, 400, 150, 405, 800, 1.2e6, 440e3}},
    Graded{"Spruce-pine-fir", "Select Structural", 0, {1150, 700, 135, 425, 1400, 1.5e6, 550e3}},
    Graded{"Spruce-pine-fir", "No. 1", 0, {875, 450, 135, 425, 1150, 1.4e6, 510e3}},
    Graded{"Spruce-pine-fir", "No. 2", 0, {875, 450, 135, 425, 1150, 1.4e6, 510e3}},
    Graded{"Spruce-pine-fir", "No. 3", 0, {500, 250, 135, 425, 650, 1.2e6, 440e3}},
    Graded{"Spruce-pine-fir", "Stud", 0, {675, 350, 135, 425, 725, 1.2e6, 440e3}},
    Graded{"Southern pine", "No. 2", 4, {1100, 0, 175, 565, 0, 1.4e6, 510e3}},
    Graded{"Southern pine", "No. 2", 6, {1000, 0, 175, 565, 0, 1.4e6, 510e3}},
    Graded{"Southern pine", "No. 2", 8, {925, 0, 175, 565, 0, 1.4e6, 510e3}},
    Graded{"Southern pine", "No. 2", 10, {800, 0, 175, 565, 0, 1.4e6, 510e3}},
    Graded{"Southern pine", "No. 2", 12, {750, 0, 175, 565, 0, 1.4e6, 510e3}},
};

std::string letters_of(std::string_view words) {
  std::string letters;
  for (const char c : words) {
    if (c >= 'A' && c <= 'Z') letters += static_cast<char>(c - 'A' + 'a');
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) letters += c;
  }
  return letters;
}

double psi_of(const std::optional<Pressure>& pressure) {
  constexpr double psi_per_mpa = 145.037737730209;
  return pressure ? pressure->value * psi_per_mpa : 0;
}

// Nominal width of a dressed one: 3 1/2 is called 4, 7 1/4 is called 8.
double nominal_width(double dressed) {
  return dressed <= 5.6 ? std::ceil(dressed + 0.2) : std::ceil(dressed + 0.4);
}

double low_in_twenty(double mean, double variation) {
  return mean * (1 - 1.645 * variation);
}

double stable_share(double ratio, double c) {
  const double a = (1 + ratio) / (2 * c);
  return a - std::sqrt(std::max(0.0, a * a - ratio / c));
}

DesignValues weakest_of(const Catalogue& catalogue, const Species& species, double ratio) {
  DesignValues weakest = clear_values(species, ratio);
  for (const std::string& name : species.members) {
    const Species* member = find_species(catalogue, name);
    const DesignValues values = member ? clear_values(*member, ratio) : DesignValues{};
    if (values.bending == 0) continue;
    if (weakest.bending == 0) weakest = values;
    for (auto figure : {&DesignValues::bending, &DesignValues::tension, &DesignValues::shear,
                        &DesignValues::crush_across, &DesignValues::crush_along,
                        &DesignValues::stiffness, &DesignValues::least_stiffness})
      weakest.*figure = std::min(weakest.*figure, values.*figure);
    weakest.basis = fmt::format("{}, the weakest of its members: {}", species.name, values.basis);
  }
  return weakest;
}

}  // namespace

DesignValues graded_values(std::string_view group, std::string_view grade, double width) {
  const std::string wanted = letters_of(group), of_grade = letters_of(grade);
  for (const Graded& row : graded) {
    if (letters_of(row.group) != wanted || letters_of(row.grade) != of_grade) continue;
    if (row.widest > 0 && nominal_width(width) > row.widest && row.widest < 12) continue;
    const auto& p = row.psi;
    return {p[0],
            p[1],
            p[2],
            p[3],
            p[4],
            p[5],
            p[6],
            row.widest == 0,
            fmt::format("{} {}, NDS Supplement 2018 Table 4{}", row.group, row.grade,
                        row.widest == 0 ? "A" : "B (from memory in part)")};
  }
  return {};
}

DesignValues clear_values(const Species& species, double strength_ratio) {
  DesignValues values;
  if (!species.rupture || !species.stiffness) return values;
  values.bending = low_in_twenty(psi_of(species.rupture), 0.16) / 2.1 * strength_ratio;
  values.tension = values.bending * 0.55;  // ASTM D245 (from memory)
  values.shear = low_in_twenty(psi_of(species.shear), 0.14) / 2.1 * std::min(1.0, strength_ratio);
  values.crush_along = low_in_twenty(psi_of(species.crush_along), 0.18) / 1.9 * strength_ratio;
  values.crush_across = psi_of(species.crush_across) / 1.67;
  values.stiffness = psi_of(species.stiffness);
  values.least_stiffness = low_in_twenty(values.stiffness, 0.22) / 1.66;
  values.takes_size_factor = false;
  values.basis = fmt::format(
      "{}, clear wood at 12 % (Wood Handbook FPL-GTR-190 Table 5-3a), lowest in twenty over ASTM "
      "D245 factors, strength ratio {:.2f}",
      species.name, strength_ratio);
  return values;
}

DesignValues plywood_values() {
  constexpr double rupture = 4890, stiffness = 1.01e6;
  DesignValues values;
  values.bending = low_in_twenty(rupture, 0.16) / 2.1;
  values.tension = values.bending * 0.55;
  values.stiffness = stiffness;
  values.least_stiffness = low_in_twenty(stiffness, 0.22) / 1.66;
  values.basis =
      "plywood, its kind not said: the least of the Wood Handbook's range, 4,890 psi and 1.01 "
      "million psi along the face grain (FPL-GTR-282 Table 12-1, read in a transcription), lowest "
      "in "
      "twenty over ASTM D245 factors as of clear wood; shear in its plies not judged";
  return values;
}

DesignValues values_for(const Catalogue& catalogue, const Species& species, std::string_view grade,
                        double width) {
  constexpr double ratio_of_number_2 = 0.45;
  if (letters_of(grade) == "clear") return weakest_of(catalogue, species, 1);
  const std::string_view counted = grade.empty() ? "No. 2" : grade;
  DesignValues values = graded_values(species.name, counted, width);
  for (std::size_t i = 0; i < species.aka.size() && values.bending == 0; ++i)
    values = graded_values(species.aka[i], counted, width);
  return values.bending > 0 ? values : weakest_of(catalogue, species, ratio_of_number_2);
}

double size_factor_of_bending(double width) {
  const double nominal = nominal_width(width);
  if (nominal <= 4) return 1.5;
  if (nominal <= 5) return 1.4;
  if (nominal <= 6) return 1.3;
  if (nominal <= 8) return 1.2;
  if (nominal <= 10) return 1.1;
  return nominal <= 12 ? 1.0 : 0.9;
}

double flat_use_factor(double width) {
  const double nominal = nominal_width(width);
  if (nominal <= 3) return 1.0;
  if (nominal <= 5) return 1.1;
  return nominal <= 8 ? 1.15 : 1.2;
}

WetFactors wet_factors(const DesignValues& values, double size_factor) {
  return {.bending = values.bending * size_factor <= 1150 ? 1 : 0.85,
          .shear = 0.97,
          .crush_across = 0.67,
          .crush_along = values.crush_along * size_factor <= 750 ? 1 : 0.8,
          .stiffness = 0.9,
          .tension = 1};
}

double slenderness(const Lateral& beam) {
  return beam.breadth > 0 ? std::sqrt(beam.effective * beam.depth) / beam.breadth : 0;
}

double critical_bending(const Lateral& beam) {
  const double r = slenderness(beam);
  return r > 0 ? 1.20 * beam.stiffness / (r * r) : 0;
}

double lateral_stability(const Lateral& beam) {
  if (beam.bending <= 0 || slenderness(beam) <= 0) return 1;
  return stable_share(critical_bending(beam) / beam.bending, 0.95);
}

double column_stability(double slender, double crushing, double stiffness) {
  if (slender <= 0 || crushing <= 0) return 1;
  return stable_share(0.822 * stiffness / (slender * slender) / crushing, 0.8);
}

double strength_at(double moisture, double at_12, double green, double mp) {
  return at_12 * std::pow(at_12 / green, (12 - moisture) / (mp - 12));
}

double creep_factor(bool is_wet_or_panel) {
  return is_wet_or_panel ? 2.0 : 1.5;
}

double beam_deflection(const Beam& b, double k_bending, double k_shear) {
  const double bending = k_bending * b.load * std::pow(b.span, 3) / (b.stiffness * b.inertia);
  const double shear =
      b.shear_stiffness > 0 ? k_shear * b.load * b.span / (b.shear_stiffness * b.area) : 0;
  return bending + shear;
}

}  // namespace kw
