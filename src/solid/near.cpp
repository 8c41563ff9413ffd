#include "near.h"

#include <array>
#include <bit>
#include <cstdint>
#include <numeric>

#include "convex_parts.h"

namespace kw {
namespace {

using FrameKey = std::array<std::uint64_t, 12>;

FrameKey key_of(const Frame& frame) {
  FrameKey key = {};
  std::size_t i = 0;
  for (const Vec3& v : {frame.origin, frame.x, frame.y, frame.z}) {
    for (const double d : {v.x, v.y, v.z}) key[i++] = std::bit_cast<std::uint64_t>(d);
  }
  return key;
}

bool is_same(const Body& a, const Body& b) {
  return a.shape == b.shape && key_of(a.frame) == key_of(b.frame);
}

int widest_axis(const std::vector<Box>& boxes) {
  Box middles;
  for (const Box& box : boxes) middles.take_in((box.low + box.high) * 0.5);
  const Vec3 size = middles.high - middles.low;
  return size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
}

}  // namespace

std::vector<Box> boxes_of(const std::vector<Body>& bodies) {
  std::vector<Box> boxes;
  for (const Body& body : bodies) {
    Box box;
    for (const Vec3& p : body.shape->convex->stick.points) box.take_in(body.frame.to_world(p));
    boxes.push_back(box);
  }
  return boxes;
}

Pairs pairs_near(const std::vector<Box>& boxes, double slack, const Carried& carried) {
  const int axis = widest_axis(boxes);
  const auto low = [&](int i) { return coordinate(boxes[static_cast<std::size_t>(i)].low, axis); };
  const auto high = [&](int i) {
    return coordinate(boxes[static_cast<std::size_t>(i)].high, axis);
  };
  std::vector<int> order(boxes.size());
  std::iota(order.begin(), order.end(), 0);
  std::sort(order.begin(), order.end(),
            [&](int i, int j) { return low(i) != low(j) ? low(i) < low(j) : i < j; });
  Pairs pairs;
  std::vector<int> open;  // boxes that the sweep has not left yet
  for (const int i : order) {
    std::erase_if(open, [&](int j) { return high(j) + slack < low(i); });
    for (const int j : open) {
      const int a = std::min(i, j), b = std::max(i, j);
      if (carried.is_settled(a, b)) continue;
      if (!boxes[static_cast<std::size_t>(a)].is_near(boxes[static_cast<std::size_t>(b)], slack))
        continue;
      pairs.emplace_back(a, b);
    }
    open.push_back(i);
  }
  std::sort(pairs.begin(), pairs.end());
  return pairs;
}

Carried carried_over(const std::vector<Body>& before, const std::vector<Body>& now) {
  Carried carried{std::vector<int>(now.size(), -1)};
  std::vector<bool> is_taken(before.size(), false);
  for (std::size_t i = 0; i < std::min(before.size(), now.size()); ++i) {
    if (!is_same(before[i], now[i])) continue;
    carried.before[i] = static_cast<int>(i);
    is_taken[i] = true;
  }
  // Boards may have moved up or down in the list: the rest are found by where they stand.
  std::vector<std::pair<FrameKey, std::size_t>> places;
  for (std::size_t i = 0; i < before.size(); ++i) {
    if (!is_taken[i]) places.emplace_back(key_of(before[i].frame), i);
  }
  std::sort(places.begin(), places.end());
  for (std::size_t i = 0; i < now.size(); ++i) {
    if (carried.before[i] >= 0) continue;
    const FrameKey key = key_of(now[i].frame);
    auto place = std::lower_bound(places.begin(), places.end(), std::pair(key, std::size_t{0}));
    for (; place != places.end() && place->first == key; ++place) {
      if (is_taken[place->second] || before[place->second].shape != now[i].shape) continue;
      is_taken[place->second] = true;
      carried.before[i] = static_cast<int>(place->second);
      break;
    }
  }
  return carried;
}

}  // namespace kw
