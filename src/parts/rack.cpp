#include "rack.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <set>
#include <utility>

namespace kw {
namespace {

constexpr int most_nodes = 400;

using Allowances = std::vector<Allowance>;  // by stock

class RackSearch {
 public:
  RackSearch(const std::vector<int>& counts, const std::vector<std::vector<bool>>& suits,
             const std::function<RackAnswer(std::size_t, const Allowance&)>& answer,
             const std::function<bool()>& goes_on)
      : counts_(counts), suits_(suits), answer_(answer), goes_on_(goes_on) {}

  Sharing run() {
    Allowances all;
    for (std::size_t s = 0; s < suits_.size(); ++s) all.push_back(suiting(s, counts_));
    look_at(all);
    if (!open_.empty()) look_at(in_their_order());
    for (int n = 0; n < most_nodes && !open_.empty() && !is_closed() && goes_on_(); ++n) {
      const Allowances next = open_.begin()->second;
      open_.erase(open_.begin());
      branch(next);
    }
    if (!best_) return {in_their_order(), false};
    return {*best_, is_closed() && !has_gap_};
  }

 private:
  // None open that may cost less.
  [[nodiscard]] bool is_closed() const { return best_ && cost_ <= least_open(); }
  [[nodiscard]] std::int64_t least_open() const {
    return open_.empty() ? least_closed_ : std::min(least_closed_, open_.begin()->first);
  }

  [[nodiscard]] Allowance suiting(std::size_t stock, const std::vector<int>& boards) const {
    Allowance allowance = boards;
    for (std::size_t b = 0; b < boards.size(); ++b) {
      if (!suits_[stock][b]) allowance[b] = 0;
    }
    return allowance;
  }

  [[nodiscard]] Allowances in_their_order() const {
    Allowances all;
    std::vector<int> left = counts_;
    for (std::size_t s = 0; s < suits_.size(); ++s) {
      all.push_back(suiting(s, left));
      const RackAnswer got = answer_(s, all.back());
      for (std::size_t b = 0; b < got.used.size(); ++b) left[b] -= got.used[b];
    }
    return all;
  }

  // A board that is used more often than it is there.
  [[nodiscard]] std::optional<std::size_t> overused(const std::vector<RackAnswer>& answers) const {
    for (std::size_t b = 0; b < counts_.size(); ++b) {
      int used = 0;
      for (const RackAnswer& a : answers) used += a.used[b];
      if (used > counts_[b]) return b;
    }
    return std::nullopt;
  }

  [[nodiscard]] std::vector<RackAnswer> answers(const Allowances& all) const {
    std::vector<RackAnswer> answers;
    for (std::size_t s = 0; s < all.size(); ++s) answers.push_back(answer_(s, all[s]));
    return answers;
  }

  void look_at(const Allowances& all) {
    if (!seen_.insert(all).second) return;
    std::int64_t cost = 0, at_least = 0;
    bool is_found = true;
    const std::vector<RackAnswer> got = answers(all);
    for (const RackAnswer& a : got) {
      cost += a.cost;
      at_least += a.at_least;
      is_found = is_found && a.is_found;
    }
    if (!is_found) {
      has_gap_ = true;  // not known whether there is a plan
    } else if (overused(got)) {
      if (!best_ || at_least < cost_) open_.emplace(at_least, all);
    } else {
      least_closed_ = std::min(least_closed_, at_least);
      if (!best_ || cost < cost_) best_ = all, cost_ = cost;
    }
  }

  void branch(const Allowances& all) {
    const std::vector<RackAnswer> got = answers(all);
    const std::size_t board = *overused(got);
    for (std::size_t s = 0; s < all.size(); ++s) {
      if (got[s].used[board] == 0) continue;
      Allowances less = all;
      less[s][board] = got[s].used[board] - 1;
      look_at(less);
    }
  }

  const std::vector<int>& counts_;
  const std::vector<std::vector<bool>>& suits_;
  const std::function<RackAnswer(std::size_t, const Allowance&)>& answer_;
  const std::function<bool()>& goes_on_;
  std::set<std::pair<std::int64_t, Allowances>> open_ = {};  // by what it costs at least
  std::set<Allowances> seen_ = {};
  std::optional<Allowances> best_ = {};
  std::int64_t cost_ = 0;
  std::int64_t least_closed_ =
      std::numeric_limits<std::int64_t>::max();  // of those that are no longer split
  bool has_gap_ = false;
};

}  // namespace

Sharing share_rack(const std::vector<int>& counts, const std::vector<std::vector<bool>>& suits,
                   const std::function<RackAnswer(std::size_t, const Allowance&)>& answer,
                   const std::function<bool()>& goes_on) {
  return RackSearch(counts, suits, answer, goes_on).run();
}

}  // namespace kw
