#include "sheets_exhaustive.h"

#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <vector>

namespace kw {
namespace {

enum Last { start, ripped, crosscut };

class Trying {
 public:
  explicit Trying(const SheetProblem& problem) : problem_(problem) {
    for (const SheetPart& p : problem.parts) {
      for (int i = 0; i < p.count; ++i) parts_.push_back(&p);
    }
    kerf_ = static_cast<int>(problem.kerf.in_ticks());
    for (const SheetStock& s : problem.sheets)
      copies_.push_back(s.count.value_or(static_cast<int>(parts_.size())));
  }

  [[nodiscard]] unsigned all() const { return (1u << parts_.size()) - 1; }

  std::optional<std::int64_t> cheapest(unsigned mask) {
    if (mask == 0) return 0;
    const auto key = std::pair(mask, copies_);
    if (const auto known = cheapest_.find(key); known != cheapest_.end()) return known->second;
    std::optional<std::int64_t> best;
    for (unsigned sub = mask; sub > 0; sub = (sub - 1) & mask) {
      if ((sub & mask & (~mask + 1)) == 0) continue;  // holds the lowest part
      for (std::size_t s = 0; s < copies_.size(); ++s) {
        if (copies_[s] == 0 || !is_on(sub, s)) continue;
        --copies_[s];
        const auto rest = cheapest(mask & ~sub);
        ++copies_[s];
        if (!rest) continue;
        const std::int64_t cost = *rest + problem_.sheets[s].price.coins;
        best = std::min(best.value_or(cost), cost);
      }
    }
    return cheapest_[key] = best;
  }

  std::int64_t worthiest() {
    std::int64_t best = 0;
    for (unsigned mask = 1; mask <= all(); ++mask) {
      std::int64_t worth = 0;
      for (std::size_t i = 0; i < parts_.size(); ++i)
        worth += (mask >> i & 1) != 0 ? parts_[i]->worth : 0;
      if (worth <= best) continue;
      for (std::size_t s = 0; s < copies_.size(); ++s) {
        if (copies_[s] > 0 && is_on(mask, s)) best = worth;
      }
    }
    return best;
  }

 private:
  bool is_on(unsigned mask, std::size_t sheet) {
    const SheetStock& s = problem_.sheets[sheet];
    const SheetTrim& t = problem_.trim;
    return is_out_of(mask, static_cast<int>((s.length - t.left - t.right).in_ticks()),
                     static_cast<int>((s.width - t.lower - t.upper).in_ticks()), 0, start);
  }

  // Whether the parts of `mask` can be sawn out of a piece of l by w.
  bool is_out_of(unsigned mask, int l, int w, int stages, Last last) {
    if (mask == 0) return true;
    if (l <= 0 || w <= 0) return false;
    if (is_one(mask, l, w)) return true;
    const std::array<int, 5> key{static_cast<int>(mask), l, w, stages, last};
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    bool is = false;
    for (const Last way : {ripped, crosscut}) is = is || tries(mask, l, w, stages, last, way);
    return known_[key] = is;
  }

  bool tries(unsigned mask, int l, int w, int stages, Last last, Last way) {
    const int now = stages + (last == way ? 0 : 1);
    bool only_trims = false;
    if (problem_.stages != SheetStages::any) {
      if (last == start && problem_.first != FirstCut::either &&
          (way == ripped) != (problem_.first == FirstCut::rip)) {
        return false;
      }
      const int most = problem_.stages == SheetStages::three ? 3 : 2;
      only_trims = now > most;
      if (only_trims && (problem_.stages != SheetStages::two_and_trim || now > 3)) return false;
    }
    for (int at = 1; at < (way == ripped ? w : l); ++at) {
      const int bl = way == ripped ? l : at, bw = way == ripped ? at : w;
      const int cl = way == ripped ? l : l - at - kerf_, cw = way == ripped ? w - at - kerf_ : w;
      if (only_trims) {
        if (is_one(mask, bl, bw) || is_one(mask, cl, cw)) return true;
        continue;
      }
      for (unsigned sub = mask;; sub = (sub - 1) & mask) {
        if (is_out_of(sub, bl, bw, now, way) && is_out_of(mask & ~sub, cl, cw, now, way))
          return true;
        if (sub == 0) break;
      }
    }
    return false;
  }

  [[nodiscard]] bool is_one(unsigned mask, int l, int w) const {
    if ((mask & (mask - 1)) != 0) return false;
    std::size_t i = 0;
    while ((mask >> i & 1) == 0) ++i;
    const SheetPart& p = *parts_[i];
    const Length length = Length::ticks(l), width = Length::ticks(w);
    return (p.length == length && p.width == width) ||
           (p.may_turn && p.length == width && p.width == length);
  }

  const SheetProblem& problem_;
  std::vector<const SheetPart*> parts_ = {};
  std::vector<int> copies_ = {};
  int kerf_ = 0;
  std::map<std::array<int, 5>, bool> known_ = {};
  std::map<std::pair<unsigned, std::vector<int>>, std::optional<std::int64_t>> cheapest_ = {};
};

}  // namespace

std::optional<std::int64_t> best_by_trying(const SheetProblem& problem) {
  Trying trying(problem);
  if (problem.aim == SheetAim::most_worth) return trying.worthiest();
  return trying.cheapest(trying.all());
}

std::int64_t most_by_sets(const SheetProblem& problem) {
  std::vector<const SheetPart*> parts;
  for (const SheetPart& p : problem.parts) {
    for (int i = 0; i < p.count; ++i) parts.push_back(&p);
  }
  const std::size_t all = std::size_t{1} << parts.size();
  const int kerf = static_cast<int>(problem.kerf.in_ticks());
  const int length = static_cast<int>(problem.sheets[0].length.in_ticks());
  const int width = static_cast<int>(problem.sheets[0].width.in_ticks());
  // can[l][w][set]: the set can be cut from l by w.
  std::vector<std::vector<std::vector<bool>>> can(
      static_cast<std::size_t>(length) + 1,
      std::vector<std::vector<bool>>(static_cast<std::size_t>(width) + 1, std::vector<bool>(all)));
  const auto at = [&](int l, int w) -> std::vector<bool>& {
    return can[static_cast<std::size_t>(l)][static_cast<std::size_t>(w)];
  };
  const auto join = [&](std::vector<bool>& into, const std::vector<bool>& a,
                        const std::vector<bool>& b) {
    for (std::size_t i = 0; i < all; ++i) {
      if (!a[i]) continue;
      const std::size_t rest = (all - 1) & ~i;
      for (std::size_t j = rest;; j = (j - 1) & rest) {
        if (b[j]) into[i | j] = true;
        if (j == 0) break;
      }
    }
  };
  const std::vector<bool> none = [&] {
    std::vector<bool> sets(all);
    sets[0] = true;
    return sets;
  }();
  for (int l = 0; l <= length; ++l) {
    for (int w = 0; w <= width; ++w) {
      at(l, w)[0] = true;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        const int pl = static_cast<int>(parts[i]->length.in_ticks());
        const int pw = static_cast<int>(parts[i]->width.in_ticks());
        if ((pl <= l && pw <= w) || (parts[i]->may_turn && pw <= l && pl <= w))
          at(l, w)[std::size_t{1} << i] = true;
      }
      for (int c = 1; c < l; ++c)
        join(at(l, w), at(c, w), l - c > kerf ? at(l - c - kerf, w) : none);
      for (int c = 1; c < w; ++c)
        join(at(l, w), at(l, c), w - c > kerf ? at(l, w - c - kerf) : none);
    }
  }
  std::int64_t best = 0;
  for (std::size_t set = 0; set < all; ++set) {
    if (!at(length, width)[set]) continue;
    std::int64_t worth = 0;
    for (std::size_t i = 0; i < parts.size(); ++i)
      worth += (set >> i & 1) != 0 ? parts[i]->worth : 0;
    best = std::max(best, worth);
  }
  return best;
}

}  // namespace kw
