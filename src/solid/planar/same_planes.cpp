#include "same_planes.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kw {
namespace {

constexpr Vec3 skew = {0.83, 0.71, 0.59};  // square to no usual plane

// A plane as four numbers; the sum of the differences of two such is how far the planes come apart
// in the box. They are the same for both ways that a plane may face.
struct Key {
  std::array<double, 4> parts = {};
  bool is_turned = false;
  double rank = 0;  // differs by no more than the parts do
};

Key key_of(const Plane& plane, const Box& box) {
  const Vec3 middle = (box.low + box.high) * 0.5, half = (box.high - box.low) * 0.5;
  const bool is_turned = dot(plane.normal, skew) < 0;
  const double sign = is_turned ? -1 : 1;
  const Vec3 n = plane.normal * sign;
  Key key{{n.x * half.x, n.y * half.y, n.z * half.z, plane.distance(middle) * sign}, is_turned};
  key.rank = dot(skew, {key.parts[0], key.parts[1], key.parts[2]}) + 0.97 * key.parts[3];
  return key;
}

bool are_one(const Key& a, const Key& b) {
  double apart = 0;
  for (std::size_t i = 0; i < a.parts.size(); ++i) apart += std::abs(a.parts[i] - b.parts[i]);
  return apart <= one_plane;
}

}  // namespace

void unite(const std::vector<Plane*>& planes, const Box& box) {
  std::vector<Key> keys;
  for (const Plane* plane : planes) keys.push_back(key_of(*plane, box));
  std::vector<std::size_t> order(planes.size()), place(planes.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return keys[a].rank != keys[b].rank ? keys[a].rank < keys[b].rank : a < b;
  });
  for (std::size_t k = 0; k < order.size(); ++k) place[order[k]] = k;
  std::vector<bool> is_leader(planes.size(), false);
  const auto joins = [&](std::size_t i, std::size_t leader) {
    if (!is_leader[leader] || !are_one(keys[i], keys[leader])) return false;
    const Plane& plane = *planes[leader];
    const bool is_same_way = keys[i].is_turned == keys[leader].is_turned;
    *planes[i] = is_same_way ? plane : Plane{-plane.normal, -plane.offset};
    return true;
  };
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const auto is_near = [&](std::size_t k) {
      return std::abs(keys[order[k]].rank - keys[i].rank) <= one_plane;
    };
    bool is_joined = false;
    for (std::size_t k = place[i]; !is_joined && k > 0 && is_near(k - 1); --k) {
      is_joined = joins(i, order[k - 1]);
    }
    for (std::size_t k = place[i] + 1; !is_joined && k < order.size() && is_near(k); ++k) {
      is_joined = joins(i, order[k]);
    }
    is_leader[i] = !is_joined;
  }
}

}  // namespace kw
