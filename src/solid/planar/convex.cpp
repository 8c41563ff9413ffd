#include "convex.h"

#include <algorithm>
#include <limits>

namespace kw {
namespace {

constexpr std::uint32_t no_number = std::numeric_limits<std::uint32_t>::max();

void clear(Convex& solid) {
  solid.points.clear();
  solid.sides.clear();
  solid.corners.clear();
}

}  // namespace

Convex convex_box(Vec3 low, Vec3 high) {
  Convex box;
  for (int i = 0; i < 8; ++i) {
    box.points.push_back({(i & 1) != 0 ? high.x : low.x, (i & 2) != 0 ? high.y : low.y,
                          (i & 4) != 0 ? high.z : low.z});
  }
  box.sides = {{{{-1, 0, 0}, -low.x}, 0, 0, 4},   {{{1, 0, 0}, high.x}, 1, 4, 8},
               {{{0, -1, 0}, -low.y}, 2, 8, 12},  {{{0, 1, 0}, high.y}, 3, 12, 16},
               {{{0, 0, -1}, -low.z}, 4, 16, 20}, {{{0, 0, 1}, high.z}, 5, 20, 24}};
  box.corners = {0, 4, 6, 2, 1, 3, 7, 5, 0, 1, 5, 4, 2, 6, 7, 3, 0, 2, 3, 1, 4, 5, 7, 6};
  return box;
}

double volume_of(const Convex& solid) {
  if (solid.is_empty()) return 0;
  const Vec3 apex = solid.points[solid.corners[0]];
  double six_volumes = 0;
  for (const Convex::Side& side : solid.sides) {
    const Vec3 a = solid.points[solid.corners[side.begin]] - apex;
    for (std::uint32_t k = side.begin + 1; k + 1 < side.end; ++k) {
      six_volumes += dot(a, cross(solid.points[solid.corners[k]] - apex,
                                  solid.points[solid.corners[k + 1]] - apex));
    }
  }
  return six_volumes / 6;
}

Cut Knife::cut(Convex& solid, const Plane& plane, int source) {
  const Cut outcome = classify(solid, plane);
  if (outcome == Cut::gone) clear(solid);
  if (outcome != Cut::through) return outcome;
  clear(next_);
  new_number_.assign(solid.points.size(), no_number);
  crossings_.clear();
  is_rim_.clear();
  rim_.clear();
  for (const Convex::Side& side : solid.sides) trim(solid, side);
  close(plane, source);
  std::swap(solid, next_);
  return Cut::through;
}

Cut Knife::classify(const Convex& solid, const Plane& plane) {
  heights_.clear();
  signs_.clear();
  bool is_behind = false, is_before = false;
  for (const Vec3& p : solid.points) {
    const double height = plane.distance(p);
    heights_.push_back(height);
    signs_.push_back(height < -on_plane ? -1 : height > on_plane ? 1 : 0);
    is_behind = is_behind || height < -on_plane;
    is_before = is_before || height > on_plane;
  }
  if (!is_behind) return Cut::gone;
  return is_before ? Cut::through : Cut::missed;
}

void Knife::trim(const Convex& solid, const Convex::Side& side) {
  const auto first = solid.corners.begin() + side.begin;
  const auto last = solid.corners.begin() + side.end;
  if (std::none_of(first, last, [&](std::uint32_t p) { return signs_[p] < 0; })) return;
  const std::size_t begin = next_.corners.size();
  std::uint32_t before = *(last - 1);
  for (auto here = first; here != last; before = *here++) {
    if (signs_[before] * signs_[*here] < 0) {
      next_.corners.push_back(crossing(solid, before, *here));
    }
    if (signs_[*here] <= 0) next_.corners.push_back(kept(solid, *here));
  }
  const std::size_t end = next_.corners.size();
  next_.sides.push_back({side.plane, side.source, static_cast<std::uint32_t>(begin),
                         static_cast<std::uint32_t>(end)});
  std::uint32_t u = next_.corners[end - 1];
  for (std::size_t k = begin; k < end; ++k) {
    const std::uint32_t v = next_.corners[k];
    if (is_rim_[u] && is_rim_[v]) rim_.push_back({v, u});
    u = v;
  }
}

std::uint32_t Knife::kept(const Convex& solid, std::uint32_t point) {
  std::uint32_t& number = new_number_[point];
  if (number == no_number) {
    number = static_cast<std::uint32_t>(next_.points.size());
    next_.points.push_back(solid.points[point]);
    is_rim_.push_back(signs_[point] == 0);
  }
  return number;
}

std::uint32_t Knife::crossing(const Convex& solid, std::uint32_t a, std::uint32_t b) {
  if (a > b) std::swap(a, b);
  for (const Crossing& c : crossings_) {
    if (c.a == a && c.b == b) return c.point;
  }
  const auto number = static_cast<std::uint32_t>(next_.points.size());
  const double t = heights_[a] / (heights_[a] - heights_[b]);
  next_.points.push_back(solid.points[a] + (solid.points[b] - solid.points[a]) * t);
  is_rim_.push_back(true);
  crossings_.push_back({a, b, number});
  return number;
}

// The sides that were trimmed leave a hole whose rim, walked once, is the new side.
void Knife::close(const Plane& plane, int source) {
  const auto begin = static_cast<std::uint32_t>(next_.corners.size());
  const auto from = [&](std::uint32_t point) {
    return std::find_if(rim_.begin(), rim_.end(), [&](const auto& e) { return e[0] == point; });
  };
  for (auto edge = rim_.begin(); edge != rim_.end(); edge = from((*edge)[1])) {
    next_.corners.push_back((*edge)[0]);
    if ((*edge)[1] == next_.corners[begin] || next_.corners.size() - begin > rim_.size()) break;
  }
  next_.sides.push_back({plane, source, begin, static_cast<std::uint32_t>(next_.corners.size())});
}

}  // namespace kw
