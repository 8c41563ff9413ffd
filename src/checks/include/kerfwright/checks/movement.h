// How wood moves with the moisture of the air. Pure.
#pragma once

#include <string_view>
#include <vector>

#include "kerfwright/lumber/catalogue.h"

namespace kw {

// The air where a piece lives: degrees Celsius, and relative humidity in percent.
struct Air {
  double celsius = 20;
  double humidity = 50;
};

// Equilibrium moisture content, % of ovendry mass (Wood Handbook FPL-GTR-190 Eq. 4-5; constants for
// degrees Fahrenheit from Simpson, FPL-RN-0268). Humidity is held to 0 to 100.
[[nodiscard]] double equilibrium_moisture(const Air& air);
// With the handbook's constants for degrees Celsius; within 0.011 of the other.
[[nodiscard]] double equilibrium_moisture_metric(const Air& air);

// Two seasons that a piece goes through, by name. Typical figures of temperate houses and gardens
// (common practice, no published source); what is measured is better.
struct Climate {
  std::string_view name = {};
  Air dry = {}, humid = {};
};
[[nodiscard]] const std::vector<Climate>& climates();
// Null when there is none of this name.
[[nodiscard]] const Climate* find_climate(std::string_view name);

// Change of a width by the tabulated coefficient (Eq. 13-2), 6 to 14 % moisture.
[[nodiscard]] double change_by_coefficient(double width, double coefficient, double from,
                                           double to);
// By shrinkage in % from green to ovendry (Eq. 13-3); moisture at most `start`, where shrinkage
// starts: 30 %, but 22 % for redwood, western redcedar and northern white cedar.
[[nodiscard]] double change_by_shrinkage(double width, double shrinkage, double from, double to,
                                         double start = 30);
[[nodiscard]] double start_of_shrinkage(const Species& species);

enum class Sawn : std::uint8_t { flat, quarter };
// Fraction of the width that a board changes by from one moisture to another: by the coefficient
// within 6 to 14 %, else by shrinkage; flat sawn moves by the tangential figures. Empty when the
// species has none.
[[nodiscard]] Figure movement_of(const Species& species, Sawn sawn, double from, double to);

// Shrinkage of lumber from green (28 %) to a moisture of 8 to 19 %, in % of the green size
// (FPL-RP-489, Green 1989).
[[nodiscard]] double lumber_width_shrinkage(double moisture);
[[nodiscard]] double lumber_thickness_shrinkage(double moisture);

}  // namespace kw
