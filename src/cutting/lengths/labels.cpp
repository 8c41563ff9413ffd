#include "lengths/labels.h"

#include <algorithm>

namespace kw::cutting::lengths {
namespace {

constexpr std::size_t few = 400;               // labels that need not be thinned out
constexpr std::size_t most_arena = 2'500'000;  // labels, 180 MB

class Tracer {
 public:
  Tracer(Table& table, const Tracing& how, Trace& into) : table_(table), how_(how), into_(into) {
    by_item_.resize(table.items().size());
    last_item_.resize(how.watches.size());
    for (std::size_t w = 0; w < how.watches.size(); ++w) {
      int least = static_cast<int>(table.items().size());
      for (const int item : how.watches[w].items) {
        if (item < 0) continue;
        by_item_[at(item)].push_back(static_cast<int>(w));
        least = std::min(least, item);
      }
      last_item_[w] = least;
    }
  }

  bool run(const std::vector<std::vector<Label>>& starts, const Spend& spend) {
    for (int i = static_cast<int>(table_.items().size()) - 1; i >= 0; --i) {
      for (const Label& label : starts[at(i)]) add_start(label);
      if (!step(i)) return false;
      if (!spend(static_cast<std::int64_t>(4 * alive_.size()) + 1)) return false;
    }
    into_.ends = std::move(alive_);
    return true;
  }

 private:
  // A start has to hold its item when `count` says so; its own need decides the rest.
  void add_start(Label label) {
    for (std::size_t w = 0; w < how_.watches.size(); ++w) {
      if (how_.watches[w].kind == Watch::Kind::together)
        label.bad[w / 64] |= std::uint64_t{1} << (w % 64);
    }
    alive_.push_back(into_.arena.add(label));
  }

  bool step(int i) {
    if (alive_.empty()) return true;
    const auto before = table_.row(i);
    next_.clear();
    for (const int l : alive_) {
      if (how_.first_only) {
        put_first(l, i, before);
      } else {
        put_all(l, i, before);
      }
      if (next_.size() > how_.most_labels) return false;
    }
    if (!how_.watches.empty() && !how_.keeps_all && next_.size() > few) drop_dominated(i);
    alive_.swap(next_);
    return into_.arena.size() < most_arena;
  }

  void put_first(int l, int i, std::span<const double> before) {
    const Label label = into_.arena[l];
    const Item& item = table_.items()[at(i)];
    // A fresh start is one whose item is this one: it takes at least one.
    const int from = label.item == i && label.parent < 0 ? 1 : 0;
    for (int n = from; n <= item.count && n * item.size <= label.room; ++n) {
      const std::int64_t room = label.room - n * item.size;
      const double worth = label.worth + n * item.worth;
      if (worth + before[static_cast<std::size_t>(room)] < label.need) continue;
      next_.push_back(n == 0 && from == 0 ? l : child(l, i, n, room, worth));
      return;
    }
  }

  void put_all(int l, int i, std::span<const double> before) {
    const Label label = into_.arena[l];
    const Item& item = table_.items()[at(i)];
    Label now = label;
    for (int n = 0; n <= item.count && now.room >= 0; ++n) {
      if (now.worth + before[static_cast<std::size_t>(now.room)] >= label.need) {
        if (n == 0) {
          next_.push_back(l);
        } else {
          const int c = child(l, i, n, now.room, now.worth);
          into_.arena[c].bad = now.bad;
          next_.push_back(c);
        }
      }
      if (now.room < item.size) break;
      now.room -= item.size;
      now.worth += item.worth;
      for (const int w : by_item_[at(i)]) watch(w, i, n + 1, now);
    }
  }

  // The n-th copy of item i is put in.
  void watch(int w, int i, int n, Label& label) const {
    const Watch& watch = how_.watches[at(w)];
    std::uint64_t& word = label.bad[at(w) / 64];
    const std::uint64_t bit = std::uint64_t{1} << (at(w) % 64);
    const bool is_bad = (word & bit) != 0;
    const bool is_upper = watch.items[0] == i;
    switch (watch.kind) {
      case Watch::Kind::odd:
        if (is_bad) label.worth -= watch.price;
        word ^= bit;
        break;
      case Watch::Kind::apart:
        if (is_upper) {
          word |= bit;
        } else if (n == 1 && is_bad) {
          label.worth -= watch.price;
        }
        break;
      case Watch::Kind::together:
        if (is_upper) {
          word &= ~bit;
        } else if (n > 1 || is_bad) {
          label.worth -= watch.price;
        }
        break;
    }
  }

  int child(int l, int i, int count, std::int64_t room, double worth) {
    Label label = into_.arena[l];
    label.parent = l;
    label.item = i;
    label.count = count;
    label.room = room;
    label.worth = worth;
    return into_.arena.add(label);
  }

  // Of two labels with the same room and need, one that is worth as much after paying for every cut
  // that it may still have to pay for and the other does not, makes the other needless.
  void drop_dominated(int i) {
    std::array<std::uint64_t, 4> open = {};
    for (std::size_t w = 0; w < how_.watches.size(); ++w) {
      if (last_item_[w] < i) open[w / 64] |= std::uint64_t{1} << (w % 64);
    }
    Arena& arena = into_.arena;
    for (const int l : next_) {
      for (std::size_t k = 0; k < 4; ++k) arena[l].bad[k] &= open[k];
    }
    std::sort(next_.begin(), next_.end(), [&](int a, int b) {
      const Label &x = arena[a], &y = arena[b];
      if (x.bin != y.bin) return x.bin < y.bin;
      if (x.room != y.room) return x.room < y.room;
      if (x.worth != y.worth) return x.worth > y.worth;
      return a < b;
    });
    std::size_t kept = 0, group = 0;
    for (std::size_t n = 0; n < next_.size(); ++n) {
      const Label& label = arena[next_[n]];
      if (kept == group || arena[next_[group]].room != label.room ||
          arena[next_[group]].bin != label.bin)
        group = kept;
      bool is_needless = false;
      const std::size_t stop = std::min(kept, group + most_compared);
      for (std::size_t k = group; k < stop && !is_needless; ++k)
        is_needless = arena[next_[k]].worth - owed(arena[next_[k]], label) >= label.worth;
      if (!is_needless) next_[kept++] = next_[n];
    }
    next_.resize(kept);
  }

  [[nodiscard]] double owed(const Label& label, const Label& other) const {
    double sum = 0;
    for (std::size_t k = 0; k < 4; ++k) {
      for (std::uint64_t bits = label.bad[k] & ~other.bad[k]; bits != 0; bits &= bits - 1) {
        const std::size_t w = 64 * k + static_cast<std::size_t>(__builtin_ctzll(bits));
        sum += how_.watches[w].price;
      }
    }
    return sum;
  }

  static constexpr std::size_t most_compared = 200;

  Table& table_;
  const Tracing& how_;
  Trace& into_;
  std::vector<std::vector<int>> by_item_ = {};  // watches
  std::vector<int> last_item_ = {};             // of a watch, in the order of tracing
  std::vector<int> alive_ = {}, next_ = {};
};

}  // namespace

bool trace(Table& table, const std::vector<std::vector<Label>>& starts, const Tracing& how,
           const Spend& spend, Trace& into) {
  into = {};
  return Tracer(table, how, into).run(starts, spend);
}

Pattern pattern_of(const Table& table, const Trace& trace, int end) {
  Pattern pattern{trace.arena[end].bin, {}};
  for (int l = end; l >= 0; l = trace.arena[l].parent) {
    const Label& label = trace.arena[l];
    if (label.count > 0)
      pattern.parts.emplace_back(table.items()[at(label.item)].type, label.count);
  }
  std::sort(pattern.parts.begin(), pattern.parts.end());
  return pattern;
}

}  // namespace kw::cutting::lengths
