#include "aims/tradeoff.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <map>

namespace kw::cutting {
namespace {

constexpr std::size_t most_labels = 1'500'000;
constexpr std::uint64_t most_codes = std::uint64_t{1} << 62;

// The best way found to a state with a number of layouts, and where it came from.
struct Label {
  bool is_reached = false;
  Merit merit = {};
  std::uint64_t before = 0;  // state
  Use use = {};
};

// What is still wanted, written as one number: parts of each kind, then copies of scarce bars.
class Code {
 public:
  explicit Code(const Wanted& wanted) : kinds_(wanted.kinds.size()) {
    int parts = 0;
    for (const int n : wanted.kinds) add(n), parts += n;
    place_of_bar_.assign(wanted.bars.size(), -1);
    for (std::size_t b = 0; b < wanted.bars.size(); ++b) {
      if (wanted.bars[b] <= 0 || wanted.bars[b] >= parts) continue;
      place_of_bar_[b] = static_cast<int>(most_.size());
      add(wanted.bars[b]);
    }
  }

  [[nodiscard]] bool is_too_large() const { return is_too_large_; }
  [[nodiscard]] std::uint64_t start() const { return codes_ - 1; }
  [[nodiscard]] std::vector<int> read(std::uint64_t code) const {
    std::vector<int> left(most_.size());
    for (std::size_t i = 0; i < left.size(); ++i) {
      const auto base = static_cast<std::uint64_t>(most_[i]) + 1;
      left[i] = static_cast<int>(code % base);
      code /= base;
    }
    return left;
  }
  [[nodiscard]] bool is_done(std::uint64_t code) const { return code % parts_codes() == 0; }
  [[nodiscard]] std::uint64_t stride(std::size_t place) const { return strides_[place]; }
  [[nodiscard]] int place_of_bar(int bar) const {
    return place_of_bar_[static_cast<std::size_t>(bar)];
  }

 private:
  void add(int most) {
    strides_.push_back(codes_);
    most_.push_back(most);
    const auto base = static_cast<std::uint64_t>(most) + 1;
    if (codes_ > most_codes / base) is_too_large_ = true;
    if (!is_too_large_) codes_ *= base;
  }
  [[nodiscard]] std::uint64_t parts_codes() const {
    return kinds_ < strides_.size() ? strides_[kinds_] : codes_;
  }

  std::size_t kinds_ = 0;
  std::vector<int> most_ = {};
  std::vector<std::uint64_t> strides_ = {};
  std::vector<int> place_of_bar_ = {};
  std::uint64_t codes_ = 1;
  bool is_too_large_ = false;
};

// No plan makes parts of so much relaxed size for less: sticks bought in part, best value first.
class Cover {
 public:
  Cover(const Model& model, const Wanted& wanted) {
    for (std::size_t b = 0; b < model.bars.size(); ++b) {
      const Bar& bar = model.bars[b];
      if (wanted.bars[b] > 0) bars_.push_back({bar.price, bar.capacity, wanted.bars[b]});
    }
    std::sort(bars_.begin(), bars_.end(), [](const Piece& a, const Piece& b) {
      return static_cast<double>(a.price) * static_cast<double>(b.capacity) <
             static_cast<double>(b.price) * static_cast<double>(a.capacity);
    });
  }
  [[nodiscard]] std::int64_t cost(std::int64_t size) const {
    double cost = 0;
    auto left = static_cast<double>(size);
    for (const Piece& bar : bars_) {
      if (left <= 0) break;
      const double sticks =
          std::min(left / static_cast<double>(bar.capacity), static_cast<double>(bar.copies));
      cost += sticks * static_cast<double>(bar.price);
      left -= sticks * static_cast<double>(bar.capacity);
    }
    return static_cast<std::int64_t>(cost * (1 - 1e-9));
  }

 private:
  struct Piece {
    std::int64_t price = 0, capacity = 0;
    int copies = 0;
  };
  std::vector<Piece> bars_ = {};
};

class Search {
 public:
  Search(const Model& model, const std::vector<Layout>& layouts, const Wanted& wanted, Work& work)
      : model_(model),
        layouts_(layouts),
        wanted_(wanted),
        work_(work),
        code_(wanted),
        cover_(model, wanted),
        by_first_(wanted.kinds.size()),
        most_states_(most_labels / (static_cast<std::size_t>(wanted.most_layouts) + 1)) {
    for (std::size_t i = 0; i < layouts.size(); ++i) {
      by_first_[static_cast<std::size_t>(layouts[i].counts.front().first)].push_back(
          static_cast<int>(i));
    }
  }

  Tradeoff run() {
    if (code_.is_too_large()) return {};
    Label& start = labels(code_.start()).front();
    start.is_reached = true;
    // Each use lowers the code, so that the largest open one has its best labels already.
    for (auto at = states_.begin(); at != states_.end(); at = std::next(at)) {
      if (!code_.is_done(at->first) && !leave(at->first)) return {};
    }
    return best();
  }

 private:
  using Labels = std::vector<Label>;

  Labels& labels(std::uint64_t state) {
    return states_.try_emplace(state, Labels(static_cast<std::size_t>(wanted_.most_layouts) + 1))
        .first->second;
  }

  // One use after another of the layouts that hold the first kind still wanted: some layout of any
  // plan does, and all its uses can be taken at once.
  bool leave(std::uint64_t state) {
    const std::vector<int> left = code_.read(state);
    std::int64_t size = 0;
    std::size_t first = wanted_.kinds.size();
    for (std::size_t k = wanted_.kinds.size(); k-- > 0;) {
      size += left[k] * model_.kinds[k].size;
      if (left[k] > 0) first = k;
    }
    const Labels from = states_.at(state);
    for (const int index : by_first_[first]) {
      if (!work_.spend(16)) return false;
      use(state, from, left, size, index);
      if (states_.size() > most_states_) return false;
    }
    return true;
  }

  void use(std::uint64_t state, const Labels& from, const std::vector<int>& left, std::int64_t size,
           int index) {
    const Layout& layout = layouts_[static_cast<std::size_t>(index)];
    int most = std::numeric_limits<int>::max();
    std::uint64_t step = 0;
    std::int64_t taken = 0;
    for (const auto& [kind, count] : layout.counts) {
      const auto k = static_cast<std::size_t>(kind);
      most = std::min(most, left[k] / count);
      step += code_.stride(k) * static_cast<std::uint64_t>(count);
      taken += model_.kinds[k].size * count;
    }
    const int scarce = code_.place_of_bar(layout.stick.bar);
    if (scarce >= 0) {
      most = std::min(most, left[static_cast<std::size_t>(scarce)]);
      step += code_.stride(static_cast<std::size_t>(scarce));
    } else {
      most = std::min(most, wanted_.bars[static_cast<std::size_t>(layout.stick.bar)]);
    }
    for (int times = 1; times <= most; ++times) {
      const std::uint64_t next = state - step * static_cast<std::uint64_t>(times);
      reach(state, from, next, {index, times}, cover_.cost(size - taken * times));
      work_.spend(8 + wanted_.most_layouts);
    }
  }

  void reach(std::uint64_t state, const Labels& from, std::uint64_t next, Use use,
             std::int64_t still) {
    const Layout& layout = layouts_[static_cast<std::size_t>(use.layout)];
    Labels* to = nullptr;
    for (std::size_t n = 0; n + 1 < from.size(); ++n) {
      if (!from[n].is_reached) continue;
      const Merit merit{from[n].merit.cost + layout.price * use.times,
                        from[n].merit.kept - layout.kept * use.times,
                        from[n].merit.lost + layout.lost * use.times};
      if (merit.cost + still > wanted_.ceiling) continue;
      if (to == nullptr) to = &labels(next);
      Label& label = (*to)[n + 1];
      if (!label.is_reached || merit < label.merit) label = {true, merit, state, use};
    }
  }

  [[nodiscard]] Tradeoff best() const {
    Tradeoff result{.by_layouts = {}, .is_complete = true};
    result.by_layouts.resize(static_cast<std::size_t>(wanted_.most_layouts) + 1);
    for (const auto& [state, found] : states_) {
      if (!code_.is_done(state)) continue;
      for (std::size_t n = 0; n < found.size(); ++n) {
        auto& best = result.by_layouts[n];
        if (!found[n].is_reached || (best && best->merit <= found[n].merit)) continue;
        best = LayoutChoice{found[n].merit, traced(state, n)};
      }
    }
    return result;
  }

  [[nodiscard]] std::vector<Use> traced(std::uint64_t state, std::size_t n) const {
    std::vector<Use> uses;
    for (; n > 0; --n) {
      const Label& label = states_.at(state)[n];
      uses.push_back(label.use);
      state = label.before;
    }
    return uses;
  }

  const Model& model_;
  const std::vector<Layout>& layouts_;
  const Wanted& wanted_;
  Work& work_;
  Code code_;
  Cover cover_;
  std::vector<std::vector<int>> by_first_ = {};
  std::size_t most_states_ = 0;
  std::map<std::uint64_t, Labels, std::greater<>> states_ = {};
};

}  // namespace

Tradeoff trade_off(const Model& model, const std::vector<Layout>& layouts, const Wanted& wanted,
                   Work& work) {
  if (layouts.empty()) return {};
  return Search(model, layouts, wanted, work).run();
}

}  // namespace kw::cutting
