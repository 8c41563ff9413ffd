#include "lengths/table.h"

#include <algorithm>
#include <cmath>

namespace kw::cutting::lengths {
namespace {

constexpr std::size_t all_rows = std::size_t{1} << 24;  // doubles that may be kept at once, 128 MB

// after[c] = max(before[c], before[c - size] + worth) for c in [from, to); compiles to vector
// instructions. The cells read and those written are others.
void raise(const double* __restrict before, const double* __restrict lower,
           double* __restrict after, std::size_t cells, double worth) {
  for (std::size_t c = 0; c < cells; ++c) {
    const double with = lower[c] + worth;
    after[c] = with > before[c] ? with : before[c];
  }
}

// The same in place, from above, in blocks that do not reach into what they read.
void raise_in_place(double* row, std::size_t from, std::size_t to, std::size_t size, double worth) {
  constexpr std::size_t longest = 4096;
  const std::size_t block = std::clamp<std::size_t>(size, 1, longest);
  for (std::size_t end = to; end > from;) {
    const std::size_t cells = std::min(block, end - from);
    end -= cells;
    double* __restrict const cell = row + end;
    const double* __restrict const lower = cell - size;
    for (std::size_t c = 0; c < cells; ++c) {
      const double with = lower[c] + worth;
      cell[c] = with > cell[c] ? with : cell[c];
    }
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
  least_.push_back(width_);
  for (const Item& item : items_)
    least_.push_back(std::min(least_.back(), static_cast<std::size_t>(item.size)));
  if (rows * width_ > all_rows) {
    stretch_ = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(rows))));
  }
  const std::size_t kept = (items_.size() / static_cast<std::size_t>(stretch_) + 1) * width_;
  memory.kept.want(kept);
  memory.spare.want(3 * width_);
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

// Sums so far are nothing, or no less than `least`: between the waste and there no cell is ever
// filled, and what would be put on top of it stays as it was.
struct Table::Bundle {
  std::size_t size = 0, low = 0, high = 0;  // cells that change: from size to low, from high on
  double worth = 0;
};

template <typename Put>
void Table::each_bundle(int i, const Put& put) const {
  const Item& item = items_[static_cast<std::size_t>(i)];
  std::size_t least = least_[static_cast<std::size_t>(i)];
  for (Bundles b(item.count); b.size() > 0; b.next()) {
    Bundle bundle;
    bundle.size = static_cast<std::size_t>(b.size() * item.size);
    bundle.worth = static_cast<double>(b.size()) * item.worth;
    bundle.high = std::min(bundle.size + least, width_);
    bundle.low = std::min(bundle.size + static_cast<std::size_t>(waste_) + 1, bundle.high);
    put(bundle);
    least = std::min(least, static_cast<std::size_t>(item.size));
  }
}

// Bundle by bundle; `before` and `after` are other rows than the spare ones.
void Table::put(int i, const double* before, double* after) {
  const double* from = before;
  int bundles = 0;
  each_bundle(i, [&](const Bundle&) { ++bundles; });
  each_bundle(i, [&](const Bundle& b) {
    double* const to = --bundles % 2 == 0 ? after : memory_.spare.data() + 2 * width_;
    const std::size_t size = std::min(b.size, width_);
    std::copy(from, from + size, to);
    if (b.low > size) raise(from + size, from, to + size, b.low - size, b.worth);
    std::copy(from + std::max(b.low, size), from + b.high, to + std::max(b.low, size));
    if (b.high < width_)
      raise(from + b.high, from + b.high - b.size, to + b.high, width_ - b.high, b.worth);
    from = to;
  });
}

void Table::put_in_place(int i, double* row) {
  each_bundle(i, [&](const Bundle& b) {
    raise_in_place(row, b.high, width_, b.size, b.worth);
    if (b.low > b.size) raise_in_place(row, b.size, b.low, b.size, b.worth);
  });
}

bool Table::build(const std::function<bool(std::int64_t)>& spend, const Look& look) {
  some_from_ = -1;
  double* const kept = memory_.kept.data();
  first_row(kept);
  const bool keeps_all = stretch_ == 1;
  double* row = keeps_all ? kept : memory_.spare.data();
  if (!keeps_all) std::copy(kept, kept + width_, row);
  for (int i = 0; i < static_cast<int>(items_.size()); ++i) {
    const Item& item = items_[static_cast<std::size_t>(i)];
    look(i, {row, width_});
    if (!spend(static_cast<std::int64_t>(width_) * (item.count + 1) / 2)) return false;
    if (keeps_all) {
      put(i, row, row + width_);
      row += width_;
      continue;
    }
    put_in_place(i, row);
    if ((i + 1) % stretch_ == 0)
      std::copy(row, row + width_, kept + static_cast<std::size_t>((i + 1) / stretch_) * width_);
  }
  return true;
}

std::span<const double> Table::row(int i) {
  const int first = i / stretch_ * stretch_;
  const double* const base = memory_.kept.data() + static_cast<std::size_t>(i / stretch_) * width_;
  if (i == first) return {base, width_};
  if (some_from_ != first) {
    const std::size_t some = static_cast<std::size_t>(stretch_) * width_;
    memory_.some.want(some);
    const double* before = base;
    const int end = std::min(first + stretch_ - 1, static_cast<int>(items_.size()));
    for (int r = first + 1; r <= end; ++r) {
      double* after = memory_.some.data() + static_cast<std::size_t>(r - first) * width_;
      put(r - 1, before, after);
      before = after;
    }
    some_from_ = first;
  }
  return {memory_.some.data() + static_cast<std::size_t>(i - first) * width_, width_};
}

}  // namespace kw::cutting::lengths
