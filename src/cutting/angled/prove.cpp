#include "angled/prove.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "angled/generation.h"
#include "angled/sticks.h"
#include "bound.h"
#include "program/safe_bound.h"

namespace kw::cutting::angled {
namespace {

using program::Wide;

// Beyond these the tables of the search would be too large.
constexpr std::size_t most_kinds = 400, most_shapes = 200, most_ends = 64, most_bars = 64;
constexpr int most_parts = 5'000;

constexpr std::int64_t nodes_of_first_cover = 60;
constexpr std::size_t most_listed = 40'000;
constexpr std::int64_t most_listing_nodes = 20'000'000;
constexpr int most_shares = 4'096;              // of the gap, listed one after another
constexpr std::int64_t nodes_of_share = 2'000;  // of the cover by a share
constexpr std::int64_t quick_nodes = 2'000;     // of pricing, before plans are looked for
constexpr int most_first_dives = 20, most_dives = 200, most_idle_dives = 40;
constexpr double nearly_whole = 1e-6;

bool is_taken_on(const Model& model, const Shapes& shapes) {
  return !model.bars.empty() && model.kinds.size() <= most_kinds &&
         shapes.all.size() <= most_shapes && model.ends.size() <= most_ends &&
         model.bars.size() <= most_bars && model.parts <= most_parts;
}

std::int64_t coin_of(const Model& model) {
  std::int64_t coin = 0;
  for (const Bar& bar : model.bars) coin = std::gcd(coin, bar.price);
  return std::max<std::int64_t>(coin, 1);
}

class Proof {
 public:
  Proof(const Model& model, const Shapes& shapes, const Sizes& sizes, Answer& answer, Work& work)
      : model_(model),
        answer_(answer),
        work_(work),
        rows_(model, shapes, work),
        stretches_(model, shapes, rows_),
        search_(model, shapes, sizes, rows_, stretches_, work),
        generation_(model, search_, work),
        coin_(coin_of(model)),
        random_(1) {
    for (const Kind& kind : model.kinds) all_.counts.push_back(kind.count);
    for (const Bar& bar : model.bars) all_.copies.push_back(bar.copies);
    if (is_complete(answer.solution)) best_ = cost_of(model, answer.solution);
  }

  void run() {
    for (const Pattern& pattern : patterns_of(answer_.solution)) generation_.add(pattern, true);
    if (!solve({.most_nodes = quick_nodes})) return;
    cover_known();
    dive(0);
    dive_by_luck(most_first_dives);
    if (is_done() || !solve({})) return;
    set_root();
    while (!is_done() && close()) {
    }
    dive_by_luck(most_dives);
    while (!is_done() && close()) {
    }
  }

 private:
  [[nodiscard]] bool is_done() const {
    return answer_.is_impossible || work_.is_over() || (best_ && *best_ <= answer_.bound);
  }

  // Cheaper than this is wanted; none known: a coin more than all sticks cost.
  [[nodiscard]] std::int64_t ceiling() const {
    if (best_) return *best_;
    std::int64_t sum = coin_;
    for (const Bar& bar : model_.bars) sum += bar.price * bar.copies;
    return sum;
  }

  [[nodiscard]] Wide worth_of_all(const Worths& worths) const {
    Wide sum = 0;
    for (std::size_t k = 0; k < worths.part.size(); ++k)
      sum += static_cast<Wide>(worths.part[k]) * model_.kinds[k].count;
    return sum;
  }

  void raise_bound(std::int64_t bound) {
    const std::int64_t whole = (bound + coin_ - 1) / coin_ * coin_;
    if (whole <= answer_.bound) return;
    answer_.bound = whole;
    work_.report(best_, whole);
  }

  void raise_bound_by_worths() {
    const Worths& worths = generation_.proof();
    const auto least =
        least_cover(model_, worths.threshold, static_cast<std::int64_t>(worth_of_all(worths)));
    if (least) return raise_bound(*least);
    answer_.is_impossible = !best_;
  }

  void consider(const Uses& uses) {
    auto solution = solution_of(model_, rows_, stretches_, uses);
    if (!solution) return;
    const std::int64_t cost = cost_of(model_, *solution);
    if (cost >= ceiling()) return;
    best_ = cost;
    answer_.solution = std::move(*solution);
    work_.report(best_, answer_.bound);
  }

  [[nodiscard]] program::Cover covered(const std::vector<Known>& columns, std::int64_t nodes) {
    return program::cover(pool_of(model_, columns),
                          {.below = ceiling(),
                           .enough = answer_.bound,
                           .spend = [this](std::int64_t units) { return work_.spend(units); },
                           .most_nodes = nodes});
  }

  static Uses uses_of(const std::vector<Known>& columns, const program::Cover& cover) {
    Uses uses;
    for (std::size_t j = 0; cover.counts && j < columns.size(); ++j) {
      if ((*cover.counts)[j] > 0)
        uses.emplace_back(columns[j].pattern, static_cast<int>((*cover.counts)[j]));
    }
    return uses;
  }

  static std::vector<Known> that_fit(const std::vector<Known>& columns) {
    std::vector<Known> fitting;
    std::copy_if(columns.begin(), columns.end(), std::back_inserter(fitting),
                 [](const Known& k) { return k.fits; });
    return fitting;
  }

  void cover_known() {
    const std::vector<Known> columns = that_fit(generation_.known());
    consider(uses_of(columns, covered(columns, nodes_of_first_cover)));
  }

  // For what all parts need. False when nothing more is to be done.
  bool solve(const Care& care) {
    const bool is_solved = generation_.solve(all_, care);
    if (!generation_.proof().part.empty()) raise_bound_by_worths();
    return is_solved && !is_done();
  }

  // Over and over, until none has helped for long.
  void dive_by_luck(int most) {
    for (int dives = 0, idle = 0; dives < most && idle < most_idle_dives && !is_done();
         ++dives, ++idle) {
      const auto best = best_;
      dive(0.2 + 0.1 * (dives % 6));
      if (best_ != best) idle = -1;
    }
  }

  // Takes the patterns used most, solves for what is left, and so on to the end. `luck`: how far
  // what is used less may be taken before what is used more.
  void dive(double luck) {
    Available left = all_;
    Uses taken;
    std::int64_t cost = 0;
    while (std::any_of(left.counts.begin(), left.counts.end(), [](int n) { return n > 0; })) {
      if (!generation_.solve(left, {.most_nodes = 2'000, .most_rounds = 30})) return;
      if (static_cast<double>(cost) + generation_.value() >
          static_cast<double>(ceiling() - coin_) + nearly_whole)
        return;
      if (!take_most_used(luck, left, taken, cost)) return;
    }
    consider(taken);
  }

  // What is used whole is taken as often, else the one used most, once. With luck in it nothing is
  // taken more than once.
  bool take_most_used(double luck, Available& left, Uses& taken, std::int64_t& cost) {
    std::size_t most = generation_.known().size();
    double use = nearly_whole;
    bool is_any_whole = false;
    for (std::size_t j = 0; j < generation_.known().size(); ++j) {
      const double x = generation_.use_of(j);
      if (!generation_.known()[j].fits || x < nearly_whole) continue;
      const double lucky = luck > 0 ? x + luck * random_.between(0, 1) : x;
      if (lucky > use) use = lucky, most = j;
      const int whole = static_cast<int>(x + nearly_whole);
      if (whole == 0 || luck > 0) continue;
      take(generation_.known()[j].pattern, whole, left, taken, cost);
      is_any_whole = true;
    }
    if (is_any_whole) return true;
    if (most == generation_.known().size()) return false;
    take(generation_.known()[most].pattern, 1, left, taken, cost);
    return true;
  }

  void take(const Pattern& pattern, int times, Available& left, Uses& taken, std::int64_t& cost) {
    taken.emplace_back(pattern, times);
    for (const auto& [kind, count] : pattern.parts)
      left.counts[at(kind)] = std::max(0, left.counts[at(kind)] - count * times);
    left.copies[at(pattern.bar)] -= times;
    cost += model_.bars[at(pattern.bar)].price * times;
  }

  // Where the pricing was cut short some thresholds stand far above the price. All brought down in
  // proportion they may prove more.
  void set_root() {
    root_ = generation_.proof();
    base_ = base(root_);
    Wide num = 1, den = 1;
    for (std::size_t b = 0; b < model_.bars.size(); ++b) {
      const Wide price = static_cast<Wide>(generation_.scale()) * model_.bars[b].price;
      const bool is_endless = model_.bars[b].copies == model_.parts;
      if (is_endless && price * den < num * root_.threshold[b])
        num = price, den = root_.threshold[b];
    }
    Worths down = root_;
    for (std::int64_t& w : down.part) w = static_cast<std::int64_t>(w * num / den);
    for (std::int64_t& t : down.threshold) t = static_cast<std::int64_t>((t * num + den - 1) / den);
    if (base(down) > base_) base_ = base(down), root_ = std::move(down);
  }

  // At scale, what worths prove: a plan costs this much and beyond it what its patterns fall short
  // of their thresholds.
  [[nodiscard]] Wide base(const Worths& worths) const {
    Wide sum = worth_of_all(worths);
    for (std::size_t b = 0; b < model_.bars.size(); ++b) {
      const Bar& bar = model_.bars[b];
      sum -= static_cast<Wide>(worths.threshold[b] - generation_.scale() * bar.price) * bar.copies;
    }
    return sum;
  }

  // Lists what can be in a plan that is cheaper, or only a part of the way there where that is too
  // much, and solves over it. False when nothing came of it.
  bool close() {
    const Wide scale = generation_.scale();
    const Wide gap = scale * (ceiling() - coin_) - base_;
    if (gap < 0) {
      raise_bound(ceiling());
      answer_.is_impossible = !best_;
      return true;
    }
    const auto bound = answer_.bound;
    const auto best = best_;
    for (int share = 1; share <= most_shares; share *= 2) {
      const Wide reach = gap / share;
      if (close_to(reach, share == 1)) return answer_.bound > bound || best_ != best;
      if (work_.is_over()) return false;
    }
    return false;
  }

  // False when there are too many patterns. A plan that uses any other one costs more than
  // base + reach.
  bool close_to(Wide reach, bool is_all) {
    Worths worths = root_;
    for (std::int64_t& t : worths.threshold)
      t -= static_cast<std::int64_t>(std::min<Wide>(reach, std::int64_t{1} << 60));
    const Listing listing = search_.list(worths, all_, most_listed, most_listing_nodes);
    if (!listing.is_complete) return false;
    std::vector<Known> columns;
    for (const Found& f : listing.found) columns.push_back({f.pattern, f.fits});
    const std::int64_t before = ceiling();
    const std::int64_t nodes = is_all ? std::numeric_limits<std::int64_t>::max() : nodes_of_share;
    const program::Cover all = covered(columns, nodes);
    answer_.is_impossible = is_all && !best_ && all.is_complete && !all.counts;
    consider(uses_of(columns, all));
    const std::vector<Known> fitting = that_fit(columns);
    if (ceiling() == before && all.counts && fitting.size() < columns.size())
      consider(uses_of(fitting, covered(fitting, nodes)));
    const std::int64_t beyond =
        is_all ? before : program::ceil_over(base_ + reach + 1, generation_.scale());
    raise_bound(std::min({all.bound, beyond, before}));
    return true;
  }

  const Model& model_;
  Answer& answer_;
  Work& work_;
  Rows rows_;
  Stretches stretches_;
  Search search_;
  Generation generation_;
  std::int64_t coin_ = 1;
  Random random_;
  Available all_ = {};
  std::optional<std::int64_t> best_ = {};
  Worths root_ = {};
  Wide base_ = 0;
};

}  // namespace

Answer prove(const Model& model, Solution start, std::int64_t bound, Work& work) {
  Answer answer{std::move(start), bound, false};
  const Shapes shapes = shapes_of(model);
  if (!is_taken_on(model, shapes)) return answer;
  const int sticks = std::max<int>(1, static_cast<int>(answer.solution.sticks.size()));
  const Sizes sizes = sizes_of(model, shapes, sticks);
  if (sizes.is_sound) Proof(model, shapes, sizes, answer, work).run();
  return answer;
}

}  // namespace kw::cutting::angled
