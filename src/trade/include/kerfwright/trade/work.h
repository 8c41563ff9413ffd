// What takes time in the shop, counted.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace kw::trade {

enum class Activity : std::uint8_t {
  job,       // what each job takes once: fetching boards, sweeping up
  board,     // a board picked, carried and marked
  set_up,    // a saw or stop set
  cut,       // a cut made
  hole,      // a hole drilled
  screw,     // a screw driven
  glue_up,   // a joint glued and clamped
  assembly,  // a step of the assembly
  sanding,   // a square metre sanded
  coat,      // a square metre coated once
};
inline constexpr std::size_t activities = 10;
[[nodiscard]] std::string_view name_of(Activity activity);  // "set-up", "glue-up"
[[nodiscard]] std::optional<Activity> activity_named(std::string_view name);

// How much of each there is to do, or was done.
struct Work {
  std::array<double, activities> amount = {};
  [[nodiscard]] double& of(Activity a) { return amount[static_cast<std::size_t>(a)]; }
  [[nodiscard]] double of(Activity a) const { return amount[static_cast<std::size_t>(a)]; }
  friend bool operator==(const Work&, const Work&) = default;
  friend Work operator+(Work a, const Work& b) {
    for (std::size_t i = 0; i < activities; ++i) a.amount[i] += b.amount[i];
    return a;
  }
  friend Work operator*(Work a, double n) {
    for (double& each : a.amount) each *= n;
    return a;
  }
};

}  // namespace kw::trade
