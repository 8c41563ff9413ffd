#include "cover.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "pool_lp.h"

namespace kw::cutting::program {
namespace {

constexpr double whole_within = 1e-6;
constexpr int most_cut_rounds = 12;
constexpr std::size_t cuts_a_round = 40;
constexpr int cuts_each_row = 5;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

bool is_whole(double value) {
  return std::abs(value - std::round(value)) < whole_within;
}

// Whole columns taken one after another.
class Rounding {
 public:
  explicit Rounding(const Pool& pool) : pool_(pool), counts_(pool.columns.size()) {
    for (const PoolRow& row : pool.rows) {
      wanted_.push_back(row.lower);
      free_.push_back(row.upper.value_or(std::numeric_limits<std::int64_t>::max() / 2));
    }
  }

  void take(int j, std::int64_t copies) {
    counts_[at(j)] += copies;
    for (const Part& part : pool_.columns[at(j)].parts) {
      wanted_[at(part.row)] -= copies * part.count;
      free_[at(part.row)] -= copies * part.count;
    }
  }

  [[nodiscard]] bool fits(int j) const {
    const PoolColumn& c = pool_.columns[at(j)];
    const auto fit = [&](const Part& p) { return free_[at(p.row)] >= p.count; };
    return (!c.most || counts_[at(j)] < *c.most) &&
           std::all_of(c.parts.begin(), c.parts.end(), fit);
  }

  [[nodiscard]] bool helps(int j) const {
    const auto& parts = pool_.columns[at(j)].parts;
    return std::any_of(parts.begin(), parts.end(),
                       [&](const Part& p) { return wanted_[at(p.row)] > 0; });
  }

  [[nodiscard]] bool is_wanted_whole(int j) const {
    const auto& parts = pool_.columns[at(j)].parts;
    return std::all_of(parts.begin(), parts.end(), [&](const Part& p) {
      return pool_.rows[at(p.row)].lower == 0 || wanted_[at(p.row)] >= p.count;
    });
  }

  [[nodiscard]] const std::vector<std::int64_t>& counts() const { return counts_; }

 private:
  const Pool& pool_;
  std::vector<std::int64_t> counts_ = {}, wanted_ = {}, free_ = {};
};

struct Node {
  Chain chain = {};
  std::int64_t bound = 0;
};

class Search {
 public:
  Search(const Pool& pool, const CoverEffort& effort)
      : pool_(pool),
        effort_(effort),
        step_(common_divisor(pool)),
        best_cost_(effort.below.value_or(dearest_cover(pool) + 1)),
        lp_(pool, best_cost_, [this] { return !spend(50); }) {}

  Cover run() {
    nodes_.push_back({});
    bool is_done = root();
    while (is_done && !nodes_.empty() && !is_enough()) is_done = step();
    if (is_enough()) nodes_.clear();
    result_.is_complete = nodes_.empty();
    result_.cost = best_cost_;
    result_.bound = best_cost_;
    for (const Node& node : nodes_) result_.bound = std::min(result_.bound, node.bound);
    if (result_.is_complete && !result_.counts && !effort_.below)
      result_.bound = std::numeric_limits<std::int64_t>::max();
    return std::move(result_);
  }

 private:
  static std::int64_t common_divisor(const Pool& pool) {
    std::int64_t divisor = 0;
    for (const PoolColumn& c : pool.columns) divisor = std::gcd(divisor, c.cost);
    return std::max<std::int64_t>(divisor, 1);
  }

  // More than any cover without needless columns.
  static std::int64_t dearest_cover(const Pool& pool) {
    std::int64_t dearest = 0, copies = 0;
    for (const PoolColumn& c : pool.columns) dearest = std::max(dearest, c.cost);
    for (const PoolRow& r : pool.rows) copies += r.lower;
    return dearest * copies;
  }

  bool spend(std::int64_t pivots) {
    if (!effort_.spend) return true;
    const auto columns = static_cast<std::int64_t>(pool_.columns.size());
    return effort_.spend(pivots * (4 * lp_.rows() + columns) + 4 * columns);
  }

  [[nodiscard]] bool is_enough() const { return result_.counts && best_cost_ <= effort_.enough; }

  // Costs are multiples of the step, so bounds are too.
  [[nodiscard]] std::int64_t stepped(std::int64_t bound) const {
    return (bound + step_ - 1) / step_ * step_;
  }

  // Cuts as long as they help, and columns that cannot be in anything better taken away.
  bool root() {
    double before = -1;
    for (int round = 0; round < most_cut_rounds; ++round) {
      if (!lp_.solve({}) || !spend(lp_.pivots())) return false;
      nodes_.front().bound = stepped(lp_.bound());
      if (nodes_.front().bound >= best_cost_) return true;
      round_up();
      lp_.fix(best_cost_ - step_ + 1);
      if (lp_.value() < before + 1e-4) return true;
      before = lp_.value();
      std::vector<Used> used;
      for (int j = 0; j < static_cast<int>(pool_.columns.size()); ++j) {
        const double x = lp_.primal()[at(j)];
        if (x < whole_within) continue;
        used.push_back({{}, x});
        for (const Part& p : pool_.columns[at(j)].parts)
          used.back().parts.emplace_back(p.row, p.count);
      }
      const auto cuts = violated_triples(lp_.sides(), used, cuts_a_round, cuts_each_row);
      if (cuts.empty()) return true;
      for (const ViolatedTriple& cut : cuts) lp_.add_cut(cut.rows);
    }
    return true;
  }

  // The last node until it ends, then the open one with the least bound, the latest of equals.
  bool step() {
    if (++result_.nodes > effort_.most_nodes) return false;
    if (!is_diving_) {
      const auto least = std::min_element(nodes_.rbegin(), nodes_.rend(),
                                          [](auto& a, auto& b) { return a.bound < b.bound; });
      std::swap(*least, nodes_.back());
    }
    is_diving_ = false;
    if (nodes_.back().bound >= best_cost_) return nodes_.pop_back(), true;
    if (!lp_.solve(nodes_.back().chain) || !spend(lp_.pivots())) return false;
    Node node = std::move(nodes_.back());
    nodes_.pop_back();
    node.bound = std::max(node.bound, stepped(lp_.bound()));
    if (node.bound >= best_cost_) return true;
    round_up();
    if (node.bound >= best_cost_) return true;
    split(std::move(node));
    return true;
  }

  void split(Node node) {
    Branch branch;
    if (!branch_on_limit(branch) && !branch_on_pair(branch) && !branch_on_column(branch))
      return accept_whole();
    Branch up = branch;
    up.is_up = true;
    up.limit = branch.limit + 1;
    Node other = node;
    other.chain.push_back(branch);
    node.chain.push_back(up);
    nodes_.push_back(std::move(other));
    nodes_.push_back(std::move(node));
    is_diving_ = true;
  }

  // How many columns hold a row that asks for nothing, such as a stock: that settles what they
  // cost, so it comes before what they hold. The one nearest to a half wins.
  bool branch_on_limit(Branch& branch) const {
    std::vector<double> held(pool_.rows.size());
    for (std::size_t j = 0; j < pool_.columns.size(); ++j) {
      for (const Part& part : pool_.columns[j].parts) held[at(part.row)] += lp_.primal()[j];
    }
    double best = 0;
    for (int i = 0; i < static_cast<int>(held.size()); ++i) {
      const double x = held[at(i)], part = x - std::floor(x);
      const double score = std::min(part, 1 - part);
      if (pool_.rows[at(i)].lower > 0 || is_whole(x) || score <= best) continue;
      best = score;
      branch = {.pair = {i, i}, .limit = static_cast<std::int64_t>(std::floor(x))};
    }
    return best > 0;
  }

  // How many columns hold both of two rows: the one nearest to a half wins.
  bool branch_on_pair(Branch& branch) const {
    std::map<PairRow, double> shared;
    for (int j = 0; j < static_cast<int>(pool_.columns.size()); ++j) {
      const double x = lp_.primal()[at(j)];
      if (x < whole_within) continue;
      const auto& parts = pool_.columns[at(j)].parts;
      for (std::size_t a = 0; a < parts.size(); ++a) {
        for (std::size_t b = a + 1; b < parts.size(); ++b) {
          if (pool_.rows[at(parts[a].row)].lower == 0 || pool_.rows[at(parts[b].row)].lower == 0)
            continue;
          shared[{std::min(parts[a].row, parts[b].row), std::max(parts[a].row, parts[b].row)}] += x;
        }
      }
    }
    double best = 0;
    for (const auto& [pair, x] : shared) {
      if (is_whole(x)) continue;
      const double part = x - std::floor(x);
      const double score = std::min(part, 1.2 * (1 - part)) + 1e-3 * std::floor(x);
      if (score <= best) continue;
      best = score;
      branch = {.pair = pair, .limit = static_cast<std::int64_t>(std::floor(x))};
    }
    return best > 0;
  }

  bool branch_on_column(Branch& branch) const {
    double best = 0;
    for (int j = 0; j < static_cast<int>(pool_.columns.size()); ++j) {
      const double x = lp_.primal()[at(j)];
      if (is_whole(x) || x - std::floor(x) <= best) continue;
      best = x - std::floor(x);
      branch = {.column = j, .limit = static_cast<std::int64_t>(std::floor(x))};
    }
    return best > 0;
  }

  void accept_whole() {
    std::vector<std::int64_t> counts;
    for (const double x : lp_.primal()) counts.push_back(std::llround(x));
    consider(counts);
  }

  void consider(const std::vector<std::int64_t>& counts) {
    std::int64_t cost = 0;
    std::vector<std::int64_t> sums(pool_.rows.size());
    for (std::size_t j = 0; j < counts.size(); ++j) {
      if (counts[j] == 0) continue;
      if (pool_.columns[j].most && counts[j] > *pool_.columns[j].most) return;
      cost += counts[j] * pool_.columns[j].cost;
      for (const Part& part : pool_.columns[j].parts) sums[at(part.row)] += counts[j] * part.count;
    }
    if (cost >= best_cost_) return;
    for (std::size_t i = 0; i < sums.size(); ++i) {
      const PoolRow& row = pool_.rows[i];
      if (sums[i] < row.lower || (row.upper && sums[i] > *row.upper)) return;
    }
    best_cost_ = cost;
    result_.counts = counts;
  }

  // Whole parts down, then the columns used most in part: first once where all they hold is still
  // wanted, then as often as they help.
  void round_up() {
    Rounding rounding(pool_);
    std::vector<std::pair<double, int>> order;
    for (int j = 0; j < static_cast<int>(pool_.columns.size()); ++j) {
      const double x = lp_.primal()[at(j)];
      if (x < whole_within) continue;
      const double down = std::floor(x + whole_within);
      rounding.take(j, static_cast<std::int64_t>(down));
      order.emplace_back(down - x, j);
    }
    std::sort(order.begin(), order.end());
    for (const auto& [part, j] : order) {
      if (rounding.fits(j) && rounding.is_wanted_whole(j)) rounding.take(j, 1);
    }
    for (const auto& [part, j] : order) {
      while (rounding.helps(j) && rounding.fits(j)) rounding.take(j, 1);
    }
    consider(rounding.counts());
  }

  const Pool& pool_;
  const CoverEffort& effort_;
  std::int64_t step_ = 1, best_cost_ = 0;
  PoolLp lp_;
  std::vector<Node> nodes_ = {};
  bool is_diving_ = false;
  Cover result_ = {};
};

}  // namespace

Cover cover(const Pool& pool, const CoverEffort& effort) {
  return Search(pool, effort).run();
}

}  // namespace kw::cutting::program
