// Best worths over every capacity, type by type, with rows kept or made again as memory allows.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace kw::cutting::lengths {

// Worths are whole numbers below 2^53, held as doubles: their sums and comparisons are exact.
struct Item {
  int type = 0;
  std::int64_t size = 0;
  int count = 0;
  double worth = 0;
};

// row i, cell c: the most that items 0 .. i - 1 are worth that fill c but for at most the waste;
// far below 0 where they cannot.
class Table {
 public:
  // Grows without filling what it has: over 100 MB at once would be heard as silence by a caller.
  class Room {
   public:
    void want(std::size_t size) {
      if (size <= size_) return;
      cells_.reset();
      cells_ = std::make_unique_for_overwrite<double[]>(size);
      size_ = size;
    }
    [[nodiscard]] double* data() const { return cells_.get(); }

   private:
    std::unique_ptr<double[]> cells_ = {};
    std::size_t size_ = 0;
  };

  // Kept by the caller from one table to the next, so that it need not be got anew.
  struct Memory {
    Room kept = {};  // rows 0, stretch, 2 stretch ...
    Room some = {};  // rows of one stretch
    Room spare = {};
  };

  // What the caller may look at before item i is put in.
  using Look = std::function<void(int i, std::span<const double> row)>;

  Table(std::vector<Item> items, std::int64_t capacity, std::int64_t waste, Memory& memory);

  // All rows, forwards. False when `spend` said no.
  bool build(const std::function<bool(std::int64_t)>& spend, const Look& look);
  // Row i; cheap in falling order of i. After build.
  std::span<const double> row(int i);

  [[nodiscard]] const std::vector<Item>& items() const { return items_; }
  [[nodiscard]] static std::int64_t cells(const std::vector<Item>& items, std::int64_t capacity);
  static constexpr double never = -0x1p60;

 private:
  struct Bundle;
  template <typename Put>
  void each_bundle(int i, const Put& put) const;
  void put(int i, const double* before, double* after);  // item i
  void put_in_place(int i, double* row);
  void first_row(double* row) const;

  std::vector<Item> items_ = {};
  std::vector<std::size_t> least_ = {};  // size of the items before one
  std::size_t width_ = 0;
  std::int64_t waste_ = 0;
  int stretch_ = 1;  // rows between those that are kept
  Memory& memory_;
  int some_from_ = -1;
};

}  // namespace kw::cutting::lengths
