#include "half_space_judge.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace kw::test {
namespace {

constexpr double same = 1e-9;       // mm: nearer than this, two planes are one
constexpr double parallel = 1e-10;  // sine of the angle

// The part of the line where planes i and j meet that all others leave; 0 when an equal bound of a
// lower number counts already. `point` on the line, `along` a unit vector, `inward` square to it in
// plane i.
double edge_length(const std::vector<Plane>& planes, std::size_t i, std::size_t j, Vec3 point,
                   Vec3 along) {
  double low = -std::numeric_limits<double>::infinity(), high = -low;
  const Vec3 beyond = cross(planes[i].normal, along);  // one way or the other out of plane j
  const double out_of_j = dot(planes[j].normal, beyond);
  for (std::size_t k = 0; k < planes.size(); ++k) {
    if (k == i || k == j) continue;
    const double slope = dot(planes[k].normal, along), room = -planes[k].distance(point);
    if (std::abs(slope) > parallel) {
      (slope > 0 ? high : low) =
          slope > 0 ? std::min(high, room / slope) : std::max(low, room / slope);
      continue;
    }
    if (room < -same) return 0;
    const bool is_equal = std::abs(room) <= same && dot(planes[k].normal, beyond) * out_of_j > 0;
    if (is_equal && k < j) return 0;
  }
  return std::max(high - low, 0.0);
}

// The area of plane i that the others leave, seen from its foot.
double face_area(const std::vector<Plane>& planes, std::size_t i, Vec3 foot) {
  const Plane& face = planes[i];
  double twice = 0;
  for (std::size_t j = 0; j < planes.size(); ++j) {
    if (j == i) continue;
    const Vec3 along = cross(face.normal, planes[j].normal);
    const double sine = norm(along), room = -planes[j].distance(foot);
    if (sine <= parallel) {
      const bool is_same_way = dot(face.normal, planes[j].normal) > 0;
      if (room < -same || (is_same_way && room <= same && j < i)) return 0;
      continue;
    }
    const Vec3 out = unit(planes[j].normal - face.normal * dot(face.normal, planes[j].normal));
    const double height = room / sine;
    twice += height * edge_length(planes, i, j, foot + out * height, along * (1 / sine));
  }
  return twice / 2;
}

// Adds (-1)^chosen times the volume of `planes`, and of `planes` within each set of the cutters
// from `next` on.
double alternating_sum(const std::vector<Plane>& planes,
                       const std::vector<std::vector<Plane>>& cutters, std::size_t next,
                       double sign) {
  const double volume = volume_of_half_spaces(planes);
  if (volume < 1e-9) return 0;
  double sum = sign * volume;
  for (std::size_t c = next; c < cutters.size(); ++c) {
    std::vector<Plane> within = planes;
    within.insert(within.end(), cutters[c].begin(), cutters[c].end());
    sum += alternating_sum(within, cutters, c + 1, -sign);
  }
  return sum;
}

}  // namespace

double volume_of_half_spaces(const std::vector<Plane>& planes) {
  double thrice = 0;
  const Vec3 origin;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const double height = -planes[i].distance(origin);
    thrice += height * face_area(planes, i, planes[i].normal * height);
  }
  return thrice / 3;
}

double volume_less(const std::vector<Plane>& stick,
                   const std::vector<std::vector<Plane>>& cutters) {
  return alternating_sum(stick, cutters, 0, 1);
}

std::vector<Plane> stick_planes(const Recipe& recipe) {
  std::vector<Plane> planes = {
      {{-1, 0, 0}, -recipe.from_x},        {{1, 0, 0}, recipe.to_x},
      {{0, -1, 0}, recipe.half_width},     {{0, 1, 0}, recipe.half_width},
      {{0, 0, -1}, recipe.half_thickness}, {{0, 0, 1}, recipe.half_thickness}};
  for (const Recipe::Trim& trim : recipe.trims) planes.push_back(trim.plane);
  return planes;
}

std::vector<std::vector<Plane>> cutter_planes(const Recipe& recipe) {
  std::vector<std::vector<Plane>> cutters;
  for (const Cutter& cutter : recipe.cutters) cutters.push_back(cutter.planes);
  return cutters;
}

Membership membership_of(const Recipe& recipe, Vec3 p) {
  Membership answer{true, std::numeric_limits<double>::infinity()};
  const auto is_within = [&](const std::vector<Plane>& planes) {
    bool within = true;
    for (const Plane& plane : planes) {
      answer.margin = std::min(answer.margin, std::abs(plane.distance(p)));
      within = within && plane.distance(p) <= 0;
    }
    return within;
  };
  answer.is_wood = is_within(stick_planes(recipe));
  for (const Cutter& cutter : recipe.cutters) {
    if (is_within(cutter.planes)) answer.is_wood = false;
  }
  return answer;
}

}  // namespace kw::test
