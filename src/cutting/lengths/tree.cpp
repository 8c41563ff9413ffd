#include "lengths/tree.h"

#include <algorithm>
#include <limits>

namespace kw::cutting::lengths {
namespace {

constexpr std::int64_t quick_steps = 3'000;       // for the best pattern that begins with a type
constexpr std::int64_t thorough_steps = 1 << 26;  // to prove that there is none

constexpr std::int64_t coarse_cells = 1 << 22, most_width = 1 << 15;

// What choices from one on can be worth at most in some room: a table with lengths in coarse units,
// parts rounded down.
class Coarse {
 public:
  Coarse(const Query& query, const std::vector<Choice>& choices)
      : choices_(static_cast<int>(choices.size())), table_(table(query, choices)) {}

  bool build(const Spend& spend) {
    return table_.build(spend, [](int, std::span<const double>) {});
  }

  // Choices from k on; below 0 where they cannot keep within the waste.
  [[nodiscard]] double most(int k, std::int64_t room) {
    return table_.row(choices_ - k)[static_cast<std::size_t>(room / unit_)];
  }

 private:
  Table table(const Query& query, const std::vector<Choice>& choices) {
    std::int64_t capacity = 0, waste = 0, smallest = std::numeric_limits<std::int64_t>::max();
    for (std::size_t b = 0; b < query.instance.bins.size(); ++b) {
      if (query.rest.copies[b] == 0) continue;
      capacity = std::max(capacity, query.instance.bins[b].capacity);
      waste = std::max(waste, query.waste[b]);
    }
    const auto rows = static_cast<std::int64_t>(choices.size()) + 1;
    unit_ = capacity / std::min(most_width, coarse_cells / rows) + 1;
    std::vector<Item> items;
    for (auto c = choices.rbegin(); c != choices.rend(); ++c) {
      items.push_back({c->type, c->size / unit_, c->count, static_cast<double>(c->worth)});
      smallest = std::min(smallest, c->size);
    }
    // Each part that was rounded down seems to leave up to a unit more.
    const std::int64_t leave = std::max<std::int64_t>(waste, 0) / unit_ + capacity / smallest + 1;
    return {std::move(items), capacity / unit_, std::min(leave, capacity / unit_), query.memory};
  }

  std::int64_t unit_ = 1;
  int choices_ = 0;
  Table table_;
};

// Patterns of one bin in depth-first order, worth per size falling.
class Tree {
 public:
  Tree(const Query& query, const std::vector<Choice>& choices, Coarse& coarse, int bin,
       const Spend& spend)
      : query_(query), choices_(choices), coarse_(coarse), bin_(bin), spend_(spend) {
    const std::size_t n = choices.size();
    smallest_.assign(n + 1, std::numeric_limits<std::int64_t>::max());
    filling_.assign(n + 1, 0);
    for (std::size_t k = n; k-- > 0;) {
      const Choice& c = choices[k];
      smallest_[k] = std::min(smallest_[k + 1], c.size);
      filling_[k] = filling_[k + 1] + c.count * c.size;
    }
  }

  // Best patterns with `first` as their first type and more worth than `need`; steps bounded.
  // `unseen`: what is not seen for want of steps is worth no more.
  void best_from(int first, std::int64_t need, std::int64_t steps) {
    start(need, steps);
    const Choice& c = choices_[at(first)];
    const std::int64_t room = query_.instance.bins[at(bin_)].capacity;
    for (std::int64_t n = std::min<std::int64_t>(c.count, room / c.size); n > 0; --n) {
      if (limit(first + 1, room - n * c.size, n * c.worth) <= need_) continue;
      chosen_.assign(1, {first, static_cast<int>(n)});
      go(first + 1, room - n * c.size, n * c.worth);
    }
  }

  // Every pattern worth at least `need`, the empty one left out.
  bool all(std::int64_t need, std::size_t most) {
    start(need - 1, std::numeric_limits<std::int64_t>::max());
    lists_all_ = true;
    most_ = most;
    chosen_.clear();
    go(0, query_.instance.bins[at(bin_)].capacity, 0);
    return unseen_ < need;
  }

  [[nodiscard]] std::int64_t unseen() const { return unseen_; }
  [[nodiscard]] bool is_stopped() const { return is_stopped_; }
  std::vector<Found>& found() { return found_; }

 private:
  void start(std::int64_t need, std::int64_t steps) {
    need_ = need;
    steps_ = steps;
    found_.clear();
    unseen_ = std::numeric_limits<std::int64_t>::min();
  }

  [[nodiscard]] std::int64_t limit(int k, std::int64_t room, std::int64_t worth) const {
    return worth + static_cast<std::int64_t>(coarse_.most(k, room));
  }

  void go(int from, std::int64_t room, std::int64_t worth) {
    if (worth > need_ && room <= query_.waste[at(bin_)]) record(worth);
    for (int k = from; k < static_cast<int>(choices_.size()); ++k) {
      const Choice& c = choices_[at(k)];
      if (room < smallest_[at(k)] || limit(k, room, worth) <= need_) return;
      if (room - filling_[at(k)] > query_.waste[at(bin_)]) return;
      if (!may_step()) {
        unseen_ = std::max(unseen_, limit(k, room, worth));
        return;
      }
      for (std::int64_t n = std::min<std::int64_t>(c.count, room / c.size); n > 0; --n) {
        chosen_.emplace_back(k, static_cast<int>(n));
        go(k + 1, room - n * c.size, worth + n * c.worth);
        chosen_.pop_back();
      }
    }
  }

  bool may_step() {
    if (is_stopped_ || --steps_ < 0) return false;
    if (++since_ < 4096) return true;
    since_ = 0;
    if (!spend_(4 * 4096)) is_stopped_ = true;
    return !is_stopped_;
  }

  void record(std::int64_t relaxed) {
    Pattern pattern{bin_, {}};
    for (const auto& [k, n] : chosen_) pattern.parts.emplace_back(choices_[at(k)].type, n);
    if (pattern.parts.empty()) return;
    fill_up(query_.groups, pattern);
    const std::int64_t worth = query_.prices.cuts.empty() && query_.prices.pairs.empty()
                                   ? relaxed
                                   : worth_of(query_.prices, pattern);
    if (worth <= need_) return;
    if (!lists_all_) {
      need_ = worth;
      found_.clear();
    } else if (found_.size() >= most_) {
      steps_ = 0;
      unseen_ = std::numeric_limits<std::int64_t>::max();
      return;
    }
    const std::int64_t limit = threshold(query_.instance, query_.prices, bin_);
    found_.push_back({std::move(pattern), worth - limit});
  }

  const Query& query_;
  const std::vector<Choice>& choices_;
  Coarse& coarse_;
  int bin_ = 0;
  const Spend& spend_;
  std::vector<std::int64_t> smallest_ = {}, filling_ = {};  // from a choice on
  std::int64_t need_ = 0, steps_ = 0, unseen_ = 0, since_ = 0;
  std::size_t most_ = 0;
  bool lists_all_ = false, is_stopped_ = false;
  std::vector<std::pair<int, int>> chosen_ = {};
  std::vector<Found> found_ = {};
};

void put_in_order(std::vector<Choice>& choices) {
  std::sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) {
    using program::Wide;
    const Wide left = static_cast<Wide>(a.worth) * b.size,
               right = static_cast<Wide>(b.worth) * a.size;
    return left != right ? left > right : a.type < b.type;
  });
}

// One pass over all first types.
bool pass(const Query& query, const std::vector<Choice>& choices, Coarse& coarse, int bin,
          std::int64_t steps, const Spend& spend, Priced& priced) {
  Tree tree(query, choices, coarse, bin, spend);
  const std::int64_t need = threshold(query.instance, query.prices, bin);
  const std::int64_t capacity = query.instance.bins[at(bin)].capacity;
  std::int64_t most = need;
  for (int k = 0; k < static_cast<int>(choices.size()); ++k) {
    if (coarse.most(k, capacity) <= static_cast<double>(need)) break;
    tree.best_from(k, need, steps);
    if (tree.is_stopped()) return false;
    most = std::max(most, tree.unseen());
    for (Found& f : tree.found()) {
      most = std::max(most, f.gain + need);
      priced.found.push_back(std::move(f));
    }
  }
  priced.most[at(bin)] = most;
  return true;
}

}  // namespace

Priced price_by_tree(const Query& query, std::vector<Choice> choices, std::size_t most,
                     const Spend& spend) {
  put_in_order(choices);
  Coarse coarse(query, choices);
  Priced priced;
  priced.is_whole = coarse.build(spend);
  if (!priced.is_whole) return priced;
  for (const std::int64_t steps : {quick_steps, thorough_steps}) {
    priced.most.assign(query.instance.bins.size(), 0);
    for (int b = 0; b < static_cast<int>(query.instance.bins.size()); ++b) {
      if (query.rest.copies[at(b)] == 0) continue;
      if (!pass(query, choices, coarse, b, steps, spend, priced)) {
        priced.is_whole = false;
        return priced;
      }
    }
    bool is_proved = true;
    for (int b = 0; b < static_cast<int>(query.instance.bins.size()); ++b)
      is_proved = is_proved && (query.rest.copies[at(b)] == 0 ||
                                priced.most[at(b)] <= threshold(query.instance, query.prices, b));
    if (is_proved || !priced.found.empty()) break;
  }
  std::stable_sort(priced.found.begin(), priced.found.end(),
                   [](const Found& a, const Found& b) { return a.gain > b.gain; });
  if (priced.found.size() > most) priced.found.resize(most);
  return priced;
}

Listed list_by_tree(const Query& query, std::vector<Choice> choices, std::int64_t slack,
                    std::size_t most, const Spend& spend) {
  put_in_order(choices);
  Coarse coarse(query, choices);
  Listed listed;
  if (!coarse.build(spend)) return listed;
  for (int b = 0; b < static_cast<int>(query.instance.bins.size()); ++b) {
    if (query.rest.copies[at(b)] == 0) continue;
    Tree tree(query, choices, coarse, b, spend);
    if (!tree.all(threshold(query.instance, query.prices, b) - slack, most) || tree.is_stopped())
      return listed;
    for (Found& f : tree.found()) listed.patterns.push_back(std::move(f.pattern));
    if (listed.patterns.size() > most) return listed;
  }
  listed.is_whole = true;
  return listed;
}

}  // namespace kw::cutting::lengths
