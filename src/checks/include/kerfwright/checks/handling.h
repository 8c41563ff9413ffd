// Lifting, carrying, filling and using a piece. Pure.
#pragma once

#include <string_view>
#include <vector>

namespace kw {

// One lift with both hands: cm, degrees, lifts a minute.
struct Lift {
  double horizontal = 40;  // of the hands from between the ankles, cm
  double height = 75;      // of the hands above the floor at the start, cm
  double travel = 25;      // how far up or down, cm
  double twist = 0;        // degrees
  double per_minute = 0.2;
  double hours = 1;  // of such work in the day
  enum class Grip { good, fair, poor } grip = Grip::fair;
};
// Recommended weight limit, kg: 23 x HM x VM x DM x AM x FM x CM (Revised NIOSH lifting equation,
// DHHS (NIOSH) 94-110; constants from memory). Zero outside its range.
[[nodiscard]] double lifting_limit(const Lift& lift);
// Mass over the limit: above 1 some people are at risk of a hurt back, above 3 many.
[[nodiscard]] double lifting_index(double mass, const Lift& lift);

// Whether a box (mm) can be pushed through an upright opening, longest side first, tilted in its
// own planes only.
[[nodiscard]] bool goes_through(double a, double b, double c, double width, double height);

// A range that suits most people, mm, with where it is from.
struct Comfort {
  std::string_view what = {};
  double from = 0, to = 0;
  std::string_view source = {};
};
[[nodiscard]] const std::vector<Comfort>& comforts();

// Bulk densities, kg/m^3, of what a box is filled with.
struct FillMaterial {
  std::string_view name = {};
  double dry = 0, wet = 0;
  std::string_view source = {};
};
[[nodiscard]] const std::vector<FillMaterial>& fills();

}  // namespace kw
