#include "labels.h"

#include <algorithm>
#include <numeric>

#include "packed.h"

namespace kw::cutting::sheets {
namespace {

constexpr std::size_t most_compared = 1'500;  // earlier labels a label is held against

enum How : std::int8_t { nothing, part, crosscut, rip };

template <std::size_t N>
struct Label {
  double reduced = 0, full = 0;
  Packed<N> made = {};
  int first = 0, second = 0;  // labels; of a part, its lying
  How how = nothing;
};

// Labels on trial at one state, one for each set of counts.
template <std::size_t N>
class Trials {
 public:
  void clear() {
    all.clear();
    ++now_;
  }

  void offer(const Label<N>& label) {
    if (2 * (all.size() + 1) > slots_.size()) grow();
    Slot& slot = slot_of(label.made);
    if (slot.when != now_) {
      slot = {now_, static_cast<int>(all.size())};
      all.push_back(label);
      return;
    }
    Label<N>& known = all[static_cast<std::size_t>(slot.trial)];
    if (label.full > known.full) known = label;
  }

  std::vector<Label<N>> all = {};

 private:
  struct Slot {
    std::int64_t when = 0;  // of the state it was filled at
    int trial = 0;
  };

  Slot& slot_of(const Packed<N>& made) {
    const std::size_t mask = slots_.size() - 1;
    std::size_t i = mixed(made) & mask;
    while (slots_[i].when == now_ && all[static_cast<std::size_t>(slots_[i].trial)].made != made)
      i = (i + 1) & mask;
    return slots_[i];
  }

  void grow() {
    slots_.assign(std::max<std::size_t>(64, slots_.size() * 2), {});
    for (std::size_t i = 0; i < all.size(); ++i) slot_of(all[i].made) = {now_, static_cast<int>(i)};
  }

  std::vector<Slot> slots_ = {};
  std::int64_t now_ = 1;
};

template <std::size_t N>
class Labelling {
 public:
  Labelling(const LabelSearch& search, Packing<N> packing, Work& work)
      : s_(search), packing_(std::move(packing)), work_(work) {}

  Labelled run() {
    labels_.push_back({});  // nothing: the waste
    from_.resize(static_cast<std::size_t>(s_.grid.states()) + 1);
    Labelled result{.is_complete = s_.most_at_a_state == 0};
    for (int ix = 0; ix < s_.grid.x.count(); ++ix) {
      for (int iy = 0; iy < s_.grid.y.count(); ++iy) {
        if (!visit(ix, iy)) {
          result.is_complete = false;
          return result;
        }
      }
    }
    answer(result);
    return result;
  }

 private:
  [[nodiscard]] std::size_t state(int ix, int iy) const {
    return static_cast<std::size_t>(s_.grid.state(ix, iy));
  }

  // False when the search is over before its end.
  bool visit(int ix, int iy) {
    const std::size_t here = state(ix, iy);
    from_[here] = ids_.size();
    from_[here + 1] = ids_.size();
    least_ = s_.least - s_.outside[here];
    if (s_.inside[here] < least_) return true;
    tried_ = 0;
    trials_.clear();
    if (least_ <= 0) trials_.offer({});
    try_parts(ix, iy);
    for (const auto& [p, q] : s_.grid.x.cuts[static_cast<std::size_t>(ix)])
      if (!join(state(p, iy), state(q, iy), crosscut)) return false;
    for (const auto& [p, q] : s_.grid.y.cuts[static_cast<std::size_t>(iy)])
      if (!join(state(ix, p), state(ix, q), rip)) return false;
    settle();
    from_[here + 1] = ids_.size();
    return work_.spend(tried_ * 4 + 20) && labels_.size() < s_.most_labels;
  }

  void try_parts(int ix, int iy) {
    for (std::size_t i = 0; i < s_.lyings.size(); ++i) {
      const Lying& l = s_.lyings[i];
      if (l.ix > ix || l.iy > iy) continue;
      const auto k = static_cast<std::size_t>(l.kind);
      if (s_.reduced[k] < least_) continue;
      if (s_.is_watched[k] && s_.counts[k] == 0) continue;
      trials_.offer({s_.reduced[k], s_.full[k], packing_.one[k], static_cast<int>(i), 0, part});
    }
  }

  bool join(std::size_t a, std::size_t b, How how) {
    const std::size_t a_end = from_[a + 1], b_end = from_[b + 1];
    if (from_[a] == a_end || from_[b] == b_end) return true;
    const double best_b = at(from_[b]).reduced;
    for (std::size_t i = from_[a]; i < a_end; ++i) {
      const Label<N>& one = at(i);
      if (one.reduced + best_b < least_) break;
      for (std::size_t j = from_[b]; j < b_end; ++j) {
        const Label<N>& two = at(j);
        if (one.reduced + two.reduced < least_) break;
        ++tried_;
        const auto made = packing_.sum(one.made, two.made);
        if (!made) continue;
        trials_.offer(
            {one.reduced + two.reduced, one.full + two.full, *made, ids_[i], ids_[j], how});
      }
      if (tried_ > 1'000'000) {
        if (!work_.spend(tried_ * 4)) return false;
        tried_ = 0;
      }
    }
    return true;
  }

  [[nodiscard]] const Label<N>& at(std::size_t i) const {
    return labels_[static_cast<std::size_t>(ids_[i])];
  }

  // Keeps those that no better one makes needless: worth as much in full with no more of any kind
  // that is watched.
  void settle() {
    std::vector<Label<N>>& all = trials_.all;
    std::sort(all.begin(), all.end(), [](const Label<N>& a, const Label<N>& b) {
      if (a.reduced != b.reduced) return a.reduced > b.reduced;
      return a.made < b.made;
    });
    std::size_t kept = 0;
    for (const Label<N>& trial : all) {
      if (s_.most_at_a_state > 0 && kept >= s_.most_at_a_state) break;
      if (!s_.keep_all_sets && is_needless(trial, kept)) continue;
      all[kept++] = trial;
    }
    tried_ += static_cast<std::int64_t>(all.size());
    for (std::size_t i = 0; i < kept; ++i) {
      const Label<N>& label = all[i];
      if (label.how == nothing) {
        ids_.push_back(0);
      } else if (label.how != part && (label.first == 0 || label.second == 0)) {
        ids_.push_back(label.first + label.second);  // the same filling in a larger state
      } else {
        ids_.push_back(static_cast<int>(labels_.size()));
        labels_.push_back(label);
      }
    }
  }

  bool is_needless(const Label<N>& trial, std::size_t kept) {
    const std::size_t held = std::min(kept, most_compared);
    for (std::size_t i = 0; i < held; ++i) {
      const Label<N>& better = trials_.all[i];
      if (better.full >= trial.full && packing_.is_within(better.made, trial.made)) {
        tried_ += static_cast<std::int64_t>(i / 4);
        return true;
      }
    }
    tried_ += static_cast<std::int64_t>(held / 4);
    return false;
  }

  void answer(Labelled& result) {
    const std::size_t root = state(s_.grid.x.count() - 1, s_.grid.y.count() - 1);
    std::vector<int> ids(ids_.begin() + static_cast<std::ptrdiff_t>(from_[root]), ids_.end());
    std::stable_sort(ids.begin(), ids.end(), [&](int a, int b) {
      return labels_[static_cast<std::size_t>(a)].full > labels_[static_cast<std::size_t>(b)].full;
    });
    if (ids.size() > s_.most_answers) ids.resize(s_.most_answers);
    for (const int id : ids) {
      Blocks blocks;
      blocks.root = trace(id, blocks);
      result.best.push_back(std::move(blocks));
    }
  }

  int trace(int id, Blocks& blocks) const {
    const Label<N>& label = labels_[static_cast<std::size_t>(id)];
    if (label.how == nothing) return -1;
    if (label.how == part) {
      const Lying& l = s_.lyings[static_cast<std::size_t>(label.first)];
      return blocks.add_part(l.kind, l.is_turned, l.size);
    }
    const int first = trace(label.first, blocks), second = trace(label.second, blocks);
    return blocks.join(first, second, label.how == crosscut ? Way::crosscut : Way::rip);
  }

  const LabelSearch& s_;
  Packing<N> packing_;
  Work& work_;
  std::vector<Label<N>> labels_ = {};
  std::vector<int> ids_ = {};           // labels of one state after another, best first
  std::vector<std::size_t> from_ = {};  // by state, into ids_
  Trials<N> trials_ = {};
  double least_ = 0;
  std::int64_t tried_ = 0;
};

template <std::size_t N>
std::optional<Labelled> try_words(const LabelSearch& search, Work& work) {
  Packing<N> packing;
  if (!packing.lay_out(search.counts, search.is_watched)) return std::nullopt;
  return Labelling<N>(search, std::move(packing), work).run();
}

}  // namespace

Labelled fillings(const LabelSearch& search, Work& work) {
  if (auto one = try_words<1>(search, work)) return *std::move(one);
  if (auto two = try_words<2>(search, work)) return *std::move(two);
  if (auto four = try_words<4>(search, work)) return *std::move(four);
  if (auto eight = try_words<8>(search, work)) return *std::move(eight);
  return {};
}

}  // namespace kw::cutting::sheets
