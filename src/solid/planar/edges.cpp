#include "edges.h"

namespace kw {

EdgeTable::EdgeTable(const Net& net) : starts_(net.points.size() + 1, 0) {
  std::size_t count = 0;
  for (const Ring& ring : net.rings) {
    count += ring.points.size();
    for (const std::uint32_t p : ring.points) ++starts_[p + 1];
  }
  for (std::size_t i = 1; i < starts_.size(); ++i) starts_[i] += starts_[i - 1];
  edges_.resize(count);
  std::vector<std::uint32_t> next(starts_.begin(), starts_.end() - 1);
  for (std::size_t r = 0; r < net.rings.size(); ++r) {
    const auto& points = net.rings[r].points;
    for (std::size_t k = 0; k < points.size(); ++k) {
      const std::uint32_t to = points[k + 1 == points.size() ? 0 : k + 1];
      edges_[next[points[k]]++] = {points[k], to, static_cast<int>(r)};
    }
  }
}

EdgeTable::Use EdgeTable::use_of(std::uint32_t from, std::uint32_t to) const {
  Use use;
  for (std::uint32_t k = starts_[from]; k < starts_[from + 1]; ++k) {
    if (edges_[k].to != to) continue;
    ++use.count;
    if (use.ring < 0) use.ring = edges_[k].ring;
  }
  return use;
}

}  // namespace kw
