// From the end of a table back to its start: which patterns there are behind the numbers.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "lengths/pricing.h"
#include "lengths/table.h"

namespace kw::cutting::lengths {

// A pattern as far as it is known: what its room and its worth still are.
struct Label {
  int parent = -1;  // the label before the last item was put in
  int item = -1, count = 0;
  int bin = 0;
  std::int64_t room = 0;
  double worth = 0;                       // so far
  double need = 0;                        // in the end
  std::array<std::uint64_t, 4> bad = {};  // bits of watches
};

// Labels by number. Grows without moving what it has: to copy 200 MB would be heard as silence by a
// caller.
class Arena {
 public:
  [[nodiscard]] std::size_t size() const { return size_; }
  int add(const Label& label) {
    if (size_ == blocks_.size() * block) blocks_.push_back(std::make_unique<Label[]>(block));
    (*this)[static_cast<int>(size_)] = label;
    return static_cast<int>(size_++);
  }
  Label& operator[](int index) { return blocks_[at(index) / block][at(index) % block]; }
  const Label& operator[](int index) const { return blocks_[at(index) / block][at(index) % block]; }

 private:
  static constexpr std::size_t block = 1024;  // labels
  std::vector<std::unique_ptr<Label[]>> blocks_ = {};
  std::size_t size_ = 0;
};

// What a label has to remember. Each has a bit in `bad`; only while it is set may something still
// cost `price` that would else not.
//   odd: a cut over three items. Worths hold its price for every part; the second part of the
//     pattern, the fourth ... costs it.
//   apart: two items. Holding both costs the price.
//   together: two items. The worth of the lower item holds the price for every copy; it costs it
//     again without the upper item, and from the second copy on.
struct Watch {
  enum class Kind { odd, apart, together } kind = Kind::odd;
  std::array<int, 3> items = {-1, -1, -1};  // of a pair: upper (traced first), lower
  double price = 0;
};

struct Tracing {
  bool first_only = false;      // one pattern a label: the first that meets its need
  bool keeps_all = false;       // even patterns that another one makes needless
  std::size_t most_labels = 0;  // alive at a time
  std::vector<Watch> watches = {};
};

// `starts`: labels to begin with, by the row at which they do (item i: row i + 1 has it put in).
// False when there were more labels than allowed; `ends` then holds nothing of use.
struct Trace {
  Arena arena = {};
  std::vector<int> ends = {};
};
bool trace(Table& table, const std::vector<std::vector<Label>>& starts, const Tracing& how,
           const Spend& spend, Trace& into);

[[nodiscard]] Pattern pattern_of(const Table& table, const Trace& trace, int end);

}  // namespace kw::cutting::lengths
