#include "lengths/table.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::lengths {
namespace {

constexpr std::size_t all_rows = std::size_t{1} << 24;  // doubles that may be kept at once, 128 MB

// after[c] = max(before[c], before[c - size] + worth); compiles to vector instructions.
void put_one(const double* __restrict before, double* __restrict after, std::size_t width,
             std::size_t size, double worth) {
  std::copy(before, before + std::min(size, width), after);
  for (std::size_t c = size; c < width; ++c) {
    const double with = before[c - size] + worth;
    after[c] = with > before[c] ? with : before[c];
  }
}

// 1, 2, 4 ... and the rest: every number of copies up to `count` is a sum of some of them.
class Bundles {
 public:
  explicit Bundles(std::int64_t count) : left_(count), size_(std::min<std::int64_t>(1, count)) {}
  [[nodiscard]] std::int64_t size() const { return size_; }
  void next() {
    left_ -= size_;
    size_ = std::min(2 * size_, left_);
  }

 private:
  std::int64_t left_ = 0, size_ = 0;
};

}  // namespace

Table::Table(std::vector<Item> items, std::int64_t capacity, std::int64_t waste, Memory& memory)
    : items_(std::move(items)),
      width_(static_cast<std::size_t>(capacity) + 1),
      waste_(waste),
      memory_(memory) {
  const std::size_t rows = items_.size() + 1;
  if (rows * width_ > all_rows) {
    stretch_ = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(rows))));
  }
  const std::size_t kept = (items_.size() / static_cast<std::size_t>(stretch_) + 1) * width_;
  if (memory.kept.size() < kept) memory.kept.resize(kept);
  if (memory.spare.size() < 3 * width_) memory.spare.resize(3 * width_);
}

std::int64_t Table::cells(const std::vector<Item>& items, std::int64_t capacity) {
  std::int64_t cells = 0;
  for (const Item& item : items) {
    for (Bundles b(item.count); b.size() > 0; b.next())
      cells += std::max<std::int64_t>(capacity - b.size() * item.size, 0);
  }
  return cells;
}

void Table::first_row(double* row) const {
  const std::size_t zeros = std::min(width_, static_cast<std::size_t>(waste_) + 1);
  std::fill(row, row + zeros, 0.0);
  std::fill(row + zeros, row + width_, never);
}

// Bundle by bundle; `before` and `after` are other rows than the spare ones.
void Table::put(const Item& item, const double* before, double* after) {
  const double* from = before;
  int bundles = 0;
  for (Bundles b(item.count); b.size() > 0; b.next()) ++bundles;
  for (Bundles b(item.count); b.size() > 0; b.next()) {
    double* const to = --bundles % 2 == 0 ? after : memory_.spare.data() + 2 * width_;
    put_one(from, to, width_, static_cast<std::size_t>(b.size() * item.size),
            static_cast<double>(b.size()) * item.worth);
    from = to;
  }
}

bool Table::build(const std::function<bool(std::int64_t)>& spend, const Look& look) {
  some_from_ = -1;
  first_row(memory_.kept.data());
  const double* before = memory_.kept.data();
  const int items = static_cast<int>(items_.size());
  for (int i = 0; i < items; ++i) {
    const Item& item = items_[static_cast<std::size_t>(i)];
    look(i, {before, width_});
    if (!spend(static_cast<std::int64_t>(width_) * (item.count + 1) / 2)) return false;
    const int row = i + 1;
    double* after = row % stretch_ == 0
                        ? memory_.kept.data() + static_cast<std::size_t>(row / stretch_) * width_
                        : memory_.spare.data() + static_cast<std::size_t>(row % 2) * width_;
    put(item, before, after);
    before = after;
  }
  return true;
}

std::span<const double> Table::row(int i) {
  const int first = i / stretch_ * stretch_;
  const double* const base = memory_.kept.data() + static_cast<std::size_t>(i / stretch_) * width_;
  if (i == first) return {base, width_};
  if (some_from_ != first) {
    const std::size_t some = static_cast<std::size_t>(stretch_) * width_;
    if (memory_.some.size() < some) memory_.some.resize(some);
    const double* before = base;
    const int end = std::min(first + stretch_ - 1, static_cast<int>(items_.size()));
    for (int r = first + 1; r <= end; ++r) {
      double* after = memory_.some.data() + static_cast<std::size_t>(r - first) * width_;
      put(items_[static_cast<std::size_t>(r - 1)], before, after);
      before = after;
    }
    some_from_ = first;
  }
  return {memory_.some.data() + static_cast<std::size_t>(i - first) * width_, width_};
}

}  // namespace kw::cutting::lengths
