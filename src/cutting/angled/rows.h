// The shortest rows: how few ticks of a stick the joints and tips of given shapes can take, in any
// order and any of the ways to lie. Exact, and remembered by how many there are of each shape,
// since parts of one shape may change places freely.
//
// With J(n, l) the least that lies before the left end l of a part that follows the shapes n,
//     J(0, l) = reach(l),
//     J(n, l) = min over shapes s in n and ways (a, b) of s of J(n - s, a) + gap(b, l).
#pragma once

#include <algorithm>
#include <cstdint>
#include <memory>
#include <vector>

#include "angled/shapes.h"
#include "work.h"

namespace kw::cutting::angled {

// Rows of `width` values that stay where they are while more come.
template <class T>
class Table {
 public:
  explicit Table(std::size_t width) : width_(width) {}

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] T* operator[](int row) const {
    return blocks_[at(row) / block].get() + at(row) % block * width_;
  }

  T* add(T value) {
    if (size_ % block == 0) blocks_.push_back(std::make_unique<T[]>(block * width_));
    T* const row = (*this)[static_cast<int>(size_++)];
    std::fill_n(row, width_, value);
    return row;
  }

 private:
  static constexpr std::size_t block = 1'024;
  std::size_t width_ = 0, size_ = 0;
  std::vector<std::unique_ptr<T[]>> blocks_ = {};
};

class Rows {
 public:
  // All must outlive this.
  Rows(const Model& model, const Shapes& shapes, Work& work);

  static constexpr int empty = 0;  // the row of nothing
  static constexpr int none = -1;

  // The row with one part more; none when no more rows can be kept, or the work is over.
  int with(int row, int shape);

  // What joints and tips take at least; the parts' own lengths come on top.
  [[nodiscard]] std::int64_t joints(int row) const { return heads_[row]->joints; }

  // Parts in the order, and lying in the ways, that take least. None when no more rows can be kept.
  [[nodiscard]] std::vector<Cut> order_of(const PartCounts& parts);

 private:
  using Count = std::uint8_t;
  using Counts = std::vector<Count>;  // by shape
  struct Head {
    std::uint64_t mark = 0;  // of the counts, for finding them
    std::int64_t joints = 0;
  };

  [[nodiscard]] std::uint64_t mark_of(const Counts& counts) const;
  [[nodiscard]] int known(const Counts& counts, std::uint64_t mark) const;
  int row_of(Counts& counts, std::uint64_t mark);
  int make(Counts& counts, std::uint64_t mark);
  [[nodiscard]] bool may_make();
  void keep(int row, std::uint64_t mark);
  void reckon(int row, Counts& counts, std::uint64_t mark);

  const Model& model_;
  const Shapes& shapes_;
  Work& work_;
  std::size_t most_rows_ = 0;
  int left_after_ = 0;                     // rows that may be made though the work is over
  std::vector<std::uint64_t> marks_ = {};  // by shape: what one part adds
  std::vector<int> slots_ = {};            // rows by mark; none where free; a power of 2
  Table<Head> heads_;                      // by row
  Table<Count> counts_;                    // by row and shape
  Table<int> next_;                        // by row and shape; none if not yet made
  Table<std::int64_t> before_;             // by row and left end
};

}  // namespace kw::cutting::angled
