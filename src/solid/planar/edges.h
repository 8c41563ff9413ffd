// Private to solid: the directed edges of rings, found by their ends.
#pragma once

#include "net.h"

namespace kw {

struct NetEdge {
  std::uint32_t from = 0, to = 0;
  int ring = 0;
};

// Edges sorted by their first point. Find takes as long as there are edges at a point.
class EdgeTable {
 public:
  explicit EdgeTable(const Net& net);
  [[nodiscard]] const std::vector<NetEdge>& all() const { return edges_; }
  // How many edges run so, and the ring of the first of them (-1 when there is none).
  struct Use {
    int count = 0;
    int ring = -1;
  };
  [[nodiscard]] Use use_of(std::uint32_t from, std::uint32_t to) const;

 private:
  std::vector<std::uint32_t> starts_ = {};
  std::vector<NetEdge> edges_ = {};
};

}  // namespace kw
