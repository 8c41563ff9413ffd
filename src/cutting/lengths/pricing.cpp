#include "lengths/pricing.h"

#include <algorithm>
#include <numeric>
#include <span>

#include "lengths/labels.h"
#include "lengths/tree.h"

namespace kw::cutting::lengths {
namespace {

constexpr std::int64_t most_cells = 150'000'000, most_width = 1 << 18;  // of a table; else a tree
constexpr std::size_t priced_labels = 60'000;                           // while pricing with cuts
constexpr std::size_t most_watches = 256;                               // that labels can hold

// A bin as the table sees it.
struct Goal {
  int bin = 0;
  std::int64_t capacity = 0, limit = 0;
};

class Ask {
 public:
  Ask(const Query& query, bool needs_all) : query_(query), needs_all_(needs_all) {
    for (int b = 0; b < static_cast<int>(query.instance.bins.size()); ++b) {
      if (query.rest.copies[at(b)] == 0) continue;
      const std::int64_t capacity = query.instance.bins[at(b)].capacity;
      goals_.push_back({b, capacity, threshold(query.instance, query.prices, b)});
      capacity_ = std::max(capacity_, capacity);
      waste_ = std::max(waste_, std::min(query.waste[at(b)], capacity));
    }
    const int types = static_cast<int>(query.instance.types.size());
    first_of_.resize(at(types));
    std::iota(first_of_.begin(), first_of_.end(), 0);
    std::vector<std::span<const int>> groups(at(types));
    for (const std::vector<int>& group : query.groups) {
      for (const int type : group) first_of_[at(type)] = group.front();
      groups[at(group.front())] = group;
    }
    item_of_.assign(at(types), -1);
    for (int t = 0; t < types; ++t) {
      if (first_of_[at(t)] == t) add(groups[at(t)].empty() ? std::span(&t, 1) : groups[at(t)]);
    }
  }

  [[nodiscard]] bool needs_tree() const {
    return capacity_ > most_width || Table::cells(items_, capacity_) > most_cells;
  }

  [[nodiscard]] std::vector<Choice> choices() const {
    std::vector<Choice> choices;
    for (const Item& i : items_)
      choices.push_back({i.type, i.size, i.count, static_cast<std::int64_t>(i.worth)});
    return choices;
  }

  Priced price(std::size_t most, const Spend& spend) {
    Priced priced;
    priced.most.assign(query_.instance.bins.size(), 0);
    Table table(items_, capacity_, waste_, query_.memory);
    std::vector<Start> starts;
    priced.is_whole = table.build(
        spend, [&](int i, std::span<const double> row) { look(i, row, starts, priced.most); });
    if (!priced.is_whole || starts.empty()) return priced;
    if (watched() > 0 && by_labels(table, most, spend, priced)) return priced;
    keep_best(starts, watched() == 0 ? most : 4 * most);
    trace_back(table, starts, spend, priced);
    std::stable_sort(priced.found.begin(), priced.found.end(),
                     [](const Found& a, const Found& b) { return a.gain > b.gain; });
    if (priced.found.size() > most) priced.found.resize(most);
    return priced;
  }

  Listed list(std::int64_t slack, std::size_t most, const Spend& spend) {
    Listed listed;
    Table table(items_, capacity_, waste_, query_.memory);
    if (items_.empty() || watched() > most_watches ||
        !table.build(spend, [](int, std::span<const double>) {}))
      return listed;
    Trace traced;
    const Tracing how{.keeps_all = true, .most_labels = most, .watches = watches()};
    if (!trace(table, whole_starts(-slack), how, spend, traced)) return listed;
    for (const int end : traced.ends) {
      if (!is_in_window(traced, end) || traced.arena[end].item < 0) continue;
      listed.patterns.push_back(pattern_of(table, traced, end));
      fill_up(query_.groups, listed.patterns.back());
    }
    listed.is_whole = true;
    return listed;
  }

 private:
  struct Start {
    int item = 0;
    Goal goal = {};
    double worth = 0;
  };

  // One type, or a group of them.
  void add(std::span<const int> types) {
    std::int64_t size = 0, worth = 0;
    int most = query_.rest.counts[at(types.front())];
    for (const int type : types) {
      size += query_.instance.types[at(type)].size;
      worth += worth_with_watches(type);
    }
    most = static_cast<int>(std::min<std::int64_t>(most, capacity_ / size));
    // What is worth nothing only helps to keep within the waste.
    if (most == 0 || (worth == 0 && waste_ == capacity_ && !needs_all_)) return;
    for (const int type : types) item_of_[at(type)] = static_cast<int>(items_.size());
    items_.push_back({types.front(), size, most, static_cast<double>(worth)});
  }

  // The one of a pair whose item comes first.
  [[nodiscard]] int lower_of(const PairPrice& pair) const {
    return first_of_[at(pair.first)] < first_of_[at(pair.second)] ? pair.first : pair.second;
  }

  [[nodiscard]] std::int64_t worth_with_watches(int type) const {
    std::int64_t worth = query_.prices.part[at(type)];
    for (const auto& [triple, price] : query_.prices.cuts) {
      if (std::find(triple.begin(), triple.end(), type) != triple.end()) worth += price;
    }
    for (const PairPrice& pair : query_.prices.pairs) {
      if (pair.worth > 0 && lower_of(pair) == type) worth += pair.worth;
    }
    return worth;
  }

  // The best pattern of each bin whose last item is this one.
  void look(int i, std::span<const double> row, std::vector<Start>& starts,
            std::vector<std::int64_t>& most) const {
    const Item& item = items_[at(i)];
    for (const Goal& goal : goals_) {
      double best = Table::never;
      for (int n = 1; n <= item.count && n * item.size <= goal.capacity; ++n) {
        const auto cell = static_cast<std::size_t>(goal.capacity - n * item.size);
        best = std::max(best, row[cell] + n * item.worth);
      }
      if (best < 0) continue;
      std::int64_t& top = most[at(goal.bin)];
      top = std::max(top, static_cast<std::int64_t>(best));
      if (static_cast<std::int64_t>(best) > goal.limit) starts.push_back({i, goal, best});
    }
  }

  static void keep_best(std::vector<Start>& starts, std::size_t most) {
    std::stable_sort(starts.begin(), starts.end(), [](const Start& a, const Start& b) {
      return a.worth - static_cast<double>(a.goal.limit) >
             b.worth - static_cast<double>(b.goal.limit);
    });
    if (starts.size() > most) starts.resize(most);
  }

  void trace_back(Table& table, const std::vector<Start>& starts, const Spend& spend,
                  Priced& priced) const {
    std::vector<std::vector<Label>> labels(items_.size());
    for (const Start& s : starts) {
      labels[at(s.item)].push_back(
          {.item = s.item, .bin = s.goal.bin, .room = s.goal.capacity, .need = s.worth});
    }
    Trace traced;
    const Tracing how{.first_only = true, .most_labels = starts.size() + 1};
    if (!trace(table, labels, how, spend, traced)) {
      priced.is_whole = false;
      return;
    }
    add_ends(table, traced, priced);
  }

  void add_ends(const Table& table, const Trace& traced, Priced& priced) const {
    for (const int end : traced.ends) {
      if (!is_in_window(traced, end)) continue;
      Found found{pattern_of(table, traced, end), 0};
      fill_up(query_.groups, found.pattern);
      found.gain = worth_of(query_.prices, found.pattern) -
                   threshold(query_.instance, query_.prices, found.pattern.bin);
      if (found.gain > 0) priced.found.push_back(std::move(found));
    }
  }

  [[nodiscard]] bool is_in_window(const Trace& traced, int end) const {
    const Label& label = traced.arena[end];
    return label.room <= query_.waste[at(label.bin)];
  }

  // Exact with cuts, unless there are too many labels: then false, and `most` stays what it is
  // without them.
  bool by_labels(Table& table, std::size_t most, const Spend& spend, Priced& priced) const {
    Trace traced;
    const Tracing how{.most_labels = priced_labels, .watches = watches()};
    if (watched() > most_watches || !trace(table, whole_starts(1), how, spend, traced))
      return false;
    for (const Goal& goal : goals_)
      priced.most[at(goal.bin)] = std::min(priced.most[at(goal.bin)], goal.limit);
    add_ends(table, traced, priced);
    for (const Found& f : priced.found) {
      std::int64_t& top = priced.most[at(f.pattern.bin)];
      top = std::max(top, f.gain + threshold(query_.instance, query_.prices, f.pattern.bin));
    }
    std::stable_sort(priced.found.begin(), priced.found.end(),
                     [](const Found& a, const Found& b) { return a.gain > b.gain; });
    if (priced.found.size() > most) priced.found.resize(most);
    return true;
  }

  // All that is worth the limit and `more`, from the last row.
  [[nodiscard]] std::vector<std::vector<Label>> whole_starts(std::int64_t more) const {
    std::vector<std::vector<Label>> labels(items_.size());
    for (const Goal& g : goals_) {
      labels.back().push_back(
          {.bin = g.bin, .room = g.capacity, .need = static_cast<double>(g.limit + more)});
    }
    return labels;
  }

  [[nodiscard]] std::size_t watched() const {
    return query_.prices.cuts.size() + query_.prices.pairs.size();
  }

  [[nodiscard]] int item_of(int type) const { return item_of_[at(type)]; }

  [[nodiscard]] std::vector<Watch> watches() const {
    std::vector<Watch> watches;
    for (const auto& [triple, price] : query_.prices.cuts) {
      watches.push_back({Watch::Kind::odd,
                         {item_of(triple[0]), item_of(triple[1]), item_of(triple[2])},
                         static_cast<double>(price)});
    }
    for (const PairPrice& pair : query_.prices.pairs) {
      const auto kind = pair.worth > 0 ? Watch::Kind::together : Watch::Kind::apart;
      const int lower = lower_of(pair), upper = pair.first + pair.second - lower;
      watches.push_back(
          {kind, {item_of(upper), item_of(lower), -1}, std::abs(static_cast<double>(pair.worth))});
    }
    return watches;
  }

  const Query& query_;
  bool needs_all_ = false;  // types too that are worth nothing
  std::vector<Goal> goals_ = {};
  std::int64_t capacity_ = 0, waste_ = 0;
  std::vector<Item> items_ = {};
  std::vector<int> first_of_ = {};  // by type, of its group
  std::vector<int> item_of_ = {};   // by type; -1 where it cannot help
};

}  // namespace

void fill_up(const Groups& groups, Pattern& pattern) {
  std::sort(pattern.parts.begin(), pattern.parts.end());
  std::vector<std::pair<int, int>> others;
  for (const std::vector<int>& group : groups) {
    if (!holds(pattern, group.front())) continue;
    for (std::size_t i = 1; i < group.size(); ++i) others.emplace_back(group[i], 1);
  }
  pattern.parts.insert(pattern.parts.end(), others.begin(), others.end());
  std::sort(pattern.parts.begin(), pattern.parts.end());
}

bool needs_tree(const Query& query) {
  return Ask(query, false).needs_tree();
}

Priced price(const Query& query, std::size_t most, const Spend& spend) {
  Ask ask(query, false);
  if (ask.needs_tree()) return price_by_tree(query, ask.choices(), most, spend);
  return ask.price(most, spend);
}

Listed list_patterns(const Query& query, std::int64_t slack, std::size_t most, const Spend& spend) {
  Ask ask(query, true);
  if (ask.needs_tree()) return list_by_tree(query, ask.choices(), slack, most, spend);
  return ask.list(slack, most, spend);
}

}  // namespace kw::cutting::lengths
