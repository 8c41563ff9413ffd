// The shortest rows: how few ticks of a stick the joints and tips of given shapes can take, in any
// order and any of the ways to lie. Exact, and remembered by how many there are of each shape,
// since parts of one shape may change places freely.
//
// With J(n, l) the least that lies before the left end l of a part that follows the shapes n,
//     J(0, l) = reach(l),
//     J(n, l) = min over shapes s in n and ways (a, b) of s of J(n - s, a) + gap(b, l).
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "angled/shapes.h"

namespace kw::cutting::angled {

class Rows {
 public:
  // `model` and `shapes` must outlive this.
  Rows(const Model& model, const Shapes& shapes);

  static constexpr int empty = 0;  // the row of nothing
  static constexpr int none = -1;

  // The row with one part more; none when no more rows can be kept.
  int with(int row, int shape);

  // What joints and tips take at least; the parts' own lengths come on top.
  [[nodiscard]] std::int64_t joints(int row) const { return joints_[at(row)]; }

  // Parts in the order, and lying in the ways, that take least. None when no more rows can be kept.
  [[nodiscard]] std::vector<Cut> order_of(const PartCounts& parts);

  // Steps taken so far: the measure of work.
  [[nodiscard]] std::int64_t work() const { return work_; }

 private:
  int make(std::string counts, int row, int shape);
  void reckon(int row);
  // The row with one part less, which is always known.
  [[nodiscard]] int without(int row, std::size_t shape) const {
    return fewer_[at(row) * shapes_.all.size() + shape];
  }
  [[nodiscard]] std::int64_t* before(int row) {
    return before_.data() + at(row) * at(shapes_.ends);
  }

  const Model& model_;
  const Shapes& shapes_;
  std::size_t most_rows_ = 0;
  std::int64_t work_ = 0;
  std::unordered_map<std::string, int> known_ = {};  // by counts of each shape, a byte each
  std::vector<std::string> counts_ = {};             // by row
  std::vector<int> next_ = {};                       // row * shapes + shape; none if not yet made
  std::vector<int> fewer_ = {};                      // row * shapes + shape; none if it has none
  std::vector<std::int64_t> before_ = {};            // row * ends + left end
  std::vector<std::int64_t> joints_ = {};            // by row
};

}  // namespace kw::cutting::angled
