#include <algorithm>
#include <limits>
#include <tuple>
#include <utility>

#include "bound.h"
#include "heuristic.h"

namespace kw {
namespace {

using namespace cutting;

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
  std::int64_t at = model.end_trim;
  const Pose* before = nullptr;
  for (const Cut& cut : stick.cuts) {
    const Kind& kind = model.kinds[static_cast<std::size_t>(cut.kind)];
    const Pose& pose = pose_of(model, cut);
    at += before == nullptr ? model.ends[static_cast<std::size_t>(pose.left)].reach
                            : gap(model, before->right, pose.left);
    sawn.parts.push_back({handing.take(kind), Length::ticks(at), pose.flipped, pose.turned});
    at += kind.length;
    before = &pose;
  }
  return sawn;
}

// Long stock first, equal sticks side by side, long parts first on a square stick.
void put_in_order(const Model& model, std::vector<Stick>& sticks) {
  for (Stick& stick : sticks) {
    if (model.is_square) std::sort(stick.cuts.begin(), stick.cuts.end());
  }
  std::sort(sticks.begin(), sticks.end(), [](const Stick& a, const Stick& b) {
    return std::tie(a.bar, a.cuts) < std::tie(b.bar, b.cuts);
  });
}

Plan plan_of(const Problem& problem, const Model& model, Solution solution, std::int64_t bound) {
  put_in_order(model, solution.sticks);
  Plan plan;
  Handing handing(problem);
  for (const Stick& stick : solution.sticks) {
    plan.sticks.push_back(sawn(model, stick, handing));
    plan.cost = plan.cost + Money{bar_of(model, stick).price};
  }
  plan.bound = Money{bound};
  plan.is_proved = plan.cost == plan.bound;
  return plan;
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
  if (model.parts == 0) return Plan{.is_proved = true};
  Work work(effort);
  const auto bound = least_cost(model);
  if (!bound) return cannot(true);
  Solution solution = heuristic(model, *bound, effort.seed, work);
  const auto missing = [](int n) { return n > 0; };
  if (std::any_of(solution.left.kinds.begin(), solution.left.kinds.end(), missing)) {
    return cannot(false);
  }
  return plan_of(problem, model, std::move(solution), *bound);
}

Money lower_bound(const Problem& problem) {
  if (has_errors(validate(problem))) return {};
  return {least_cost(model_of(problem)).value_or(std::numeric_limits<std::int64_t>::max())};
}

}  // namespace kw
