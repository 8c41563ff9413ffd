// Angles and the physical quantities that the shop prints. Each is one double in the unit its
// comment names, behind named constructors, so that no bare number crosses a header.
#pragma once

#include <compare>
#include <numbers>

namespace kw {

// Stored in degrees, so that a typed 35 deg is exactly 35.
class Angle {
 public:
  constexpr Angle() = default;
  [[nodiscard]] static constexpr Angle degrees(double d) { return Angle(d); }
  [[nodiscard]] static constexpr Angle radians(double r) {
    return Angle(r * 180.0 / std::numbers::pi);
  }
  [[nodiscard]] constexpr double in_degrees() const { return degrees_; }
  [[nodiscard]] constexpr double in_radians() const { return degrees_ * std::numbers::pi / 180.0; }

  friend constexpr auto operator<=>(const Angle&, const Angle&) = default;
  friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.degrees_ + b.degrees_); }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.degrees_ - b.degrees_); }
  friend constexpr Angle operator-(Angle a) { return Angle(-a.degrees_); }
  friend constexpr Angle operator*(Angle a, double k) { return Angle(a.degrees_ * k); }

 private:
  constexpr explicit Angle(double d) : degrees_(d) {}
  double degrees_ = 0;
};

// `value` to the nearest whole multiple of `step` degrees (halves away from zero).
[[nodiscard]] Angle round_to(Angle value, Angle step);

// Reduced in degrees, so that quarter turns, 30, 45 and 60 deg give what a double can hold exactly:
// sine_of(30 deg) is 0.5, cosine_of(90 deg) is 0, tangent_of(45 deg) is 1. Elsewhere within 2 ulp.
[[nodiscard]] double sine_of(Angle angle);
[[nodiscard]] double cosine_of(Angle angle);
// Infinite where the cosine is below 1e-12 in size.
[[nodiscard]] double tangent_of(Angle angle);

// One physical quantity kept as a double in its base unit.
template <class Tag>
struct Quantity {
  double value = 0;  // in the base unit named beside the alias below
  friend constexpr auto operator<=>(const Quantity&, const Quantity&) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return {a.value + b.value}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return {a.value - b.value}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return {a.value * k}; }
  Quantity& operator+=(Quantity b) {
    value += b.value;
    return *this;
  }
};

using Area = Quantity<struct AreaTag>;          // mm^2
using Volume = Quantity<struct VolumeTag>;      // mm^3
using Mass = Quantity<struct MassTag>;          // kg
using Force = Quantity<struct ForceTag>;        // N
using Pressure = Quantity<struct PressureTag>;  // MPa (N/mm^2)
using Density = Quantity<struct DensityTag>;    // kg/m^3

inline constexpr double kg_per_pound = 0.45359237;  // exact, international pound (1959)
inline constexpr double newton_per_pound_force = 4.4482216152605;  // exact, with g = 9.80665 m/s^2

// Mass of a volume of a stuff.
[[nodiscard]] constexpr Mass mass_of(Volume v, Density d) {
  return {v.value * 1e-9 * d.value};
}

}  // namespace kw
