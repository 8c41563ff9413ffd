#include "fill.h"

#include <algorithm>

#include "knapsack.h"

namespace kw::cutting {
namespace {

constexpr double value_scale = 1 << 20;       // of worth as a whole number
constexpr std::int64_t table_work = 1 << 20;  // that one filling should not exceed ...
constexpr std::size_t fewest_kinds = 48;      // ... unless so few kinds need more

class Filling {
 public:
  Filling(const Model& model, Worth& worth, Random& random, Work& work, Solution& solution)
      : model_(model), worth_(worth), random_(random), work_(work), solution_(solution) {
    for (int k = 0; k < static_cast<int>(model.kinds.size()); ++k) {
      if (wanted(k) > 0) kinds_.push_back(k);
    }
    rounds_up_ = random_.under(4) > 0;
    caution_ = random_.under(4) > 0 ? random_.between(0, 0.6) : 0;
    whim_ = random_.under(3) > 0 ? 0.03 : 0.5;
  }

  // One more stick and its repetitions; false when none can be filled.
  bool step() {
    std::erase_if(kinds_, [&](int k) { return wanted(k) == 0; });
    if (kinds_.empty()) return false;
    const std::vector<int> kinds = candidates();
    std::vector<Choice> choices;
    for (const int k : kinds) {
      const auto value =
          static_cast<std::int64_t>(worth_[static_cast<std::size_t>(k)] * value_scale);
      choices.push_back({cells_of(k), value + 1, wanted(k)});
    }
    const Knapsack table(choices, model_.bars.front().cells);
    work_.spend(table.work());
    const int bar = best_bar(table);
    if (bar < 0) return false;
    Stick stick = built(bar, kinds, table.counts(model_.bars[static_cast<std::size_t>(bar)].cells));
    if (stick.cuts.empty()) return false;
    repeat(stick);
    return true;
  }

 private:
  int& wanted(int kind) { return solution_.left.kinds[static_cast<std::size_t>(kind)]; }

  [[nodiscard]] int cells_of(int kind) const {
    const Kind& k = model_.kinds[static_cast<std::size_t>(kind)];
    const double doubt = caution_ * static_cast<double>(k.most - k.size);
    const std::int64_t size = k.size + static_cast<std::int64_t>(doubt);
    return static_cast<int>((size + (rounds_up_ ? model_.cell - 1 : 0)) / model_.cell);
  }

  // All kinds, or where they are many the longest few and an even spread of the others.
  std::vector<int> candidates() {
    const auto cells = static_cast<std::int64_t>(model_.bars.front().cells) + 1;
    const auto most =
        std::max<std::size_t>(fewest_kinds, static_cast<std::size_t>(table_work / cells));
    if (kinds_.size() <= most) return kinds_;
    std::vector<int> some(kinds_.begin(), kinds_.begin() + static_cast<std::ptrdiff_t>(most / 4));
    const std::size_t others = kinds_.size() - most / 4, wanted = most - most / 4;
    const std::size_t shift = static_cast<std::size_t>(random_.under(others));
    for (std::size_t i = 0; i < wanted; ++i) {
      some.push_back(kinds_[most / 4 + (shift + i * others / wanted) % others]);
    }
    std::sort(some.begin(), some.end());
    return some;
  }

  // The bar with the most worth for its money; among free ones, for its length.
  int best_bar(const Knapsack& table) {
    int best = -1;
    double best_rate = 0;
    for (int b = 0; b < static_cast<int>(model_.bars.size()); ++b) {
      const Bar& bar = model_.bars[static_cast<std::size_t>(b)];
      if (solution_.left.bars[static_cast<std::size_t>(b)] == 0) continue;
      const double share =
          static_cast<double>(bar.usable) / static_cast<double>(model_.bars.front().usable);
      const double price = static_cast<double>(bar.price) * random_.between(1 - whim_, 1 + whim_);
      const double rate = static_cast<double>(table.best(bar.cells)) / (price + 1e-6 * share);
      if (rate > best_rate) best_rate = rate, best = b;
    }
    return best;
  }

  // The chosen parts, as far as they really fit (cells and angled ends are only estimates), and
  // whatever else fits then.
  Stick built(int bar, const std::vector<int>& kinds, const std::vector<int>& counts) {
    Stick stick{bar, 0, {}};
    std::vector<int> put(model_.kinds.size());
    for (std::size_t i = 0; i < kinds.size(); ++i) {
      for (int n = 0; n < counts[i] && insert_somehow(stick, kinds[i]); ++n) {
        ++put[static_cast<std::size_t>(kinds[i])];
      }
    }
    work_.spend(nest(model_, stick));
    const bool has_zones = !bar_of(model_, stick).zones.empty();
    for (const int k : kinds_) {
      int& n = put[static_cast<std::size_t>(k)];
      const std::int64_t size = model_.kinds[static_cast<std::size_t>(k)].size;
      while (n < wanted(k) && (has_zones || size <= room_on(model_, stick)) &&
             insert(model_, stick, k))
        ++n;
    }
    return stick;
  }

  bool insert_somehow(Stick& stick, int kind) {
    if (insert(model_, stick, kind)) return true;
    if (is_free(model_, stick)) return false;
    Stick full = stick;
    add(model_, full, kind);
    work_.spend(nest(model_, full));
    if (room_on(model_, full) < 0) return false;
    stick = std::move(full);
    return true;
  }

  void repeat(const Stick& stick) {
    std::vector<std::pair<int, int>> counts;  // kind, how many on the stick
    std::vector<Cut> sorted = stick.cuts;
    std::sort(sorted.begin(), sorted.end());
    for (const Cut& cut : sorted) {
      if (counts.empty() || counts.back().first != cut.kind) counts.emplace_back(cut.kind, 0);
      ++counts.back().second;
    }
    int& bars = solution_.left.bars[static_cast<std::size_t>(stick.bar)];
    int times = bars;
    for (const auto& [kind, count] : counts) times = std::min(times, wanted(kind) / count);
    for (const auto& [kind, count] : counts) correct(kind, count * times, stick);
    for (const auto& [kind, count] : counts) wanted(kind) -= count * times;
    bars -= times;
    solution_.sticks.insert(solution_.sticks.end(), static_cast<std::size_t>(times), stick);
  }

  // Moves the worth towards length / (used share of its stick), the more so the more were placed.
  void correct(int kind, int placed, const Stick& stick) {
    const Kind& k = model_.kinds[static_cast<std::size_t>(kind)];
    const auto longest = static_cast<double>(model_.bars.front().usable);
    const double used =
        static_cast<double>(stick.used) / static_cast<double>(bar_of(model_, stick).usable);
    const double length = static_cast<double>(k.size) / longest;
    const double hold = random_.between(0.5, 2) * (k.count + wanted(kind));
    double& worth = worth_[static_cast<std::size_t>(kind)];
    worth = (hold * worth + placed * length * (1 + 0.05 * length) / used) / (hold + placed);
  }

  const Model& model_;
  Worth& worth_;
  Random& random_;
  Work& work_;
  Solution& solution_;
  // Where cells are only estimates: rounded up, a chosen stick always fits but an exact fit is
  // missed; rounded down the other way about.
  bool rounds_up_ = true;
  // Where ends are angled: share of what a part may take beyond its size.
  double caution_ = 0;
  // Share by which the price of a bar may be mistaken, so that dearer ones get a turn.
  double whim_ = 0;
  std::vector<int> kinds_ = {};  // still wanted, longest first
};

}  // namespace

Worth worth_by_length(const Model& model, double favour_of_long) {
  Worth worth;
  for (const Kind& kind : model.kinds) {
    const double length =
        static_cast<double>(kind.size) / static_cast<double>(model.bars.front().usable);
    worth.push_back(length * (1 + favour_of_long * length));
  }
  return worth;
}

void fill(const Model& model, Worth& worth, Random& random, Work& work, Solution& solution) {
  Filling filling(model, worth, random, work, solution);
  while (!work.is_over() && filling.step()) {
  }
}

}  // namespace kw::cutting
