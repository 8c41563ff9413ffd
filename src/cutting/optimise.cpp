#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

#include "kerfwright/cutting/sequence.h"

#include "aims/pursue.h"
#include "angled/prove.h"
#include "bound.h"
#include "heuristic.h"
#include "lengths/engine.h"

namespace kw {
namespace {

using namespace cutting;

constexpr std::int64_t first_look = 40'000'000;  // work for a good plan at once
constexpr std::int64_t most_in_order = std::int64_t{1}
                                       << 60;  // only the clock or the caller ends it

// Hands out the merged demands of each kind one after another.
class Handing {
 public:
  explicit Handing(const Problem& problem) {
    for (const Demand& d : problem.demands) left_.push_back(d.count);
  }

  int take(const Kind& kind) {
    for (const int d : kind.demands) {
      int& left = left_[static_cast<std::size_t>(d)];
      if (left > 0) return --left, d;
    }
    KW_ASSERT(false);
    return 0;
  }

 private:
  std::vector<int> left_ = {};
};

SawnStick sawn(const Model& model, const Stick& stick, Handing& handing) {
  SawnStick sawn;
  sawn.stock = bar_of(model, stick).stock;
  sawn.offcut = Length::ticks(offcut_of(model, stick));
  const std::vector<std::int64_t> starts = starts_of(model, stick);
  for (std::size_t i = 0; i < starts.size(); ++i) {
    const Cut& cut = stick.cuts[i];
    const Pose& pose = pose_of(model, cut);
    sawn.parts.push_back({handing.take(model.kinds[static_cast<std::size_t>(cut.kind)]),
                          Length::ticks(model.end_trim + starts[i]), pose.flipped, pose.turned});
  }
  return sawn;
}

// Long stock first, equal sticks side by side, long parts first on a square stick.
void put_in_order(const Model& model, std::vector<Stick>& sticks) {
  for (Stick& stick : sticks) {
    if (is_free(model, stick)) std::sort(stick.cuts.begin(), stick.cuts.end());
  }
  std::sort(sticks.begin(), sticks.end(), [](const Stick& a, const Stick& b) {
    return std::tie(a.bar, a.cuts) < std::tie(b.bar, b.cuts);
  });
}

std::vector<SawnStick> sawn(const Problem& problem, const Model& model, std::vector<Stick> sticks) {
  put_in_order(model, sticks);
  std::vector<SawnStick> all;
  Handing handing(problem);
  for (const Stick& stick : sticks) all.push_back(sawn(model, stick, handing));
  return all;
}

// The sticks come out in the order of work, since that settles how often stops are set.
Aims aims_of(const Problem& problem, const Pursued& pursued, std::vector<SawnStick>& sticks,
             Work& work) {
  work.grant(most_in_order);
  const Sequence sequence =
      sequence_of(problem, sticks, {}, [&](std::int64_t units) { return work.spend(units); });
  Aims aims{.kept = Money{pursued.kept},
            .layouts = pursued.layouts,
            .layouts_at_least = pursued.layouts_at_least,
            .stops = static_cast<int>(sequence.settings.size()),
            .stops_at_least = sequence.kinds_of_stop};
  if (pursued.kept_at_most) aims.kept_at_most = Money{*pursued.kept_at_most};
  return aims;
}

Plan plan_of(const Problem& problem, const Model& model, const Pursued& pursued, std::int64_t bound,
             Work& work) {
  Plan plan{.sticks = sawn(problem, model, pursued.sticks),
            .cost = Money{pursued.cost},
            .bound = Money{pursued.is_cheapest ? pursued.cost : bound}};
  plan.is_proved = plan.cost == plan.bound;
  plan.aims = aims_of(problem, pursued, plan.sticks, work);
  int fewest = plan.aims->setups();
  for (const Pursued& other : pursued.others) {
    Alternative alternative{.sticks = sawn(problem, model, other.sticks),
                            .cost = Money{other.cost}};
    alternative.aims = aims_of(problem, other, alternative.sticks, work);
    if (alternative.aims.setups() >= fewest) continue;
    fewest = alternative.aims.setups();
    plan.alternatives.push_back(std::move(alternative));
  }
  return plan;
}

Plan cheapest_plan(const Problem& problem, const Model& model, std::vector<Stick> sticks,
                   std::int64_t cost, std::int64_t bound) {
  return {.sticks = sawn(problem, model, std::move(sticks)),
          .cost = Money{cost},
          .bound = Money{bound},
          .is_proved = cost == bound};
}

// The share of the work that goes into what comes after money, once for the exact way and once for
// the other.
constexpr double share_of_aims = 0.25;
constexpr double units_a_second = 5e8;  // as Work counts them
constexpr double most_units = 4e7;      // about a third of a second where it was tried

PursuitLimits limits_of(const Effort& effort, std::int64_t cost, Random& random, Work& work) {
  const double seconds =
      effort.seconds > 0 ? std::min(effort.seconds, 60.0) : 0;  // none, if no number
  const auto units = effort.work.value_or(static_cast<std::int64_t>(seconds * units_a_second));
  return {.hold = effort.hold ? std::max<std::int64_t>(0, effort.hold->coins) : cost / 10,
          .units = static_cast<std::int64_t>(
              std::min(most_units, share_of_aims * static_cast<double>(units))),
          .random = random,
          .work = work};
}

struct Searched {
  Solution solution = {};
  std::int64_t bound = 0;
  bool is_impossible = false;
};

bool makes_all(const Solution& solution) {
  const auto& left = solution.left.kinds;
  return std::all_of(left.begin(), left.end(), [](int n) { return n == 0; });
}

// A good plan at once, then the exact search behind it.
Searched search(const Model& model, std::int64_t bound, std::uint64_t seed, Work& work) {
  const std::int64_t all = work.limit();
  work.leave(std::min(all / 10, first_look));
  Solution start = heuristic(model, bound, seed, work);
  work.allow(all);
  if (model.is_square && !model.has_zones) {
    if (makes_all(start)) lengths::improve_to_proof(model, work, start, bound);
    return {std::move(start), bound};
  }
  angled::Answer answer = angled::prove(model, std::move(start), bound, work);
  return {std::move(answer.solution), answer.bound, answer.is_impossible};
}

Diagnostic cannot(bool is_proved) {
  if (is_proved) {
    return {.code = "cutting.cannot",
            .message = "the stock does not suffice for all parts",
            .hint = "add stock, or make fewer parts"};
  }
  return {.code = "cutting.cannot",
          .message = "no plan that makes every part of this stock was found; there may be one",
          .hint = "allow more time, add stock, or make fewer parts"};
}

}  // namespace

Outcome<Plan> optimise(const Problem& problem, const Effort& effort) {
  Diagnostics faults = validate(problem);
  if (has_errors(faults)) return faults;
  const Model model = model_of(problem);
  if (model.parts == 0) {
    Plan nothing{.is_proved = true};
    if (!effort.money_only) nothing.aims = Aims{.kept_at_most = Money{}};
    return nothing;
  }
  Work work(effort);
  const auto bound = least_cost(model, [&work] { return work.ask(); });
  if (!bound) return cannot(true);
  Searched found = search(model, *bound, effort.seed, work);
  if (!makes_all(found.solution)) return cannot(found.is_impossible);
  Random random(effort.seed);
  std::int64_t cost = 0;
  for (const Stick& stick : found.solution.sticks) cost += bar_of(model, stick).price;
  if (effort.money_only)
    return cheapest_plan(problem, model, std::move(found.solution.sticks), cost, found.bound);
  const PursuitLimits limits = limits_of(effort, cost, random, work);
  return plan_of(problem, model, pursue(problem, model, found.solution.sticks, limits), found.bound,
                 work);
}

Money lower_bound(const Problem& problem) {
  if (has_errors(validate(problem))) return {};
  return {least_cost(model_of(problem), [] {
            return true;
          }).value_or(std::numeric_limits<std::int64_t>::max())};
}

}  // namespace kw
