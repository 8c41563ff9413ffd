#include <algorithm>

#include "bound.h"
#include "columns.h"
#include "search.h"
#include "worth.h"

namespace kw {
namespace {

using namespace cutting;
using namespace cutting::sheets;

Diagnostic cannot(bool is_proved) {
  if (is_proved) {
    return {.code = "cutting.cannot",
            .message = "the sheets do not suffice for all parts",
            .hint = "add sheets, or make fewer parts"};
  }
  return {.code = "cutting.cannot",
          .message = "no plan that makes every part of these sheets was found; there may be one",
          .hint = "allow more time, add sheets, or make fewer parts"};
}

SheetPlan most_worth(const SheetProblem& problem, const Model& model, const Effort& effort,
                     Work& work) {
  const BestSheet best = best_sheet(model, effort.seed, work);
  std::vector<Pattern> patterns;
  if (best.worth > 0) patterns.push_back(best.pattern);
  SheetPlan plan = plan_of(problem, model, patterns);
  KW_ASSERT(plan.worth == best.worth);
  plan.worth_bound = best.bound;
  plan.is_proved = plan.worth == plan.worth_bound;
  return plan;
}

// Column generation, and what its patterns make.
void use_columns(const Model& model, Pool& pool, std::int64_t& bound, Found& found, Work& work) {
  Columns columns(model, pool, work);
  if (!columns.can_price()) return;
  bound = std::max(bound, std::min(columns.bound(found.cost), found.cost));
  if (model.stages == SheetStages::three) return;  // its patterns have stages without limit
  if (bound < found.cost) best_of_pool(model, pool, bound, found, 200, work);
  if (bound < found.cost && columns.enumerate(found.cost)) {
    if (best_of_pool(model, pool, bound, found, 100'000, work)) bound = found.cost;
  }
}

constexpr int first_rounds = 100'000, last_rounds = 1'000'000;
constexpr std::size_t most_first_patterns = 3'000;

}  // namespace

Outcome<SheetPlan> optimise_sheets(const SheetProblem& problem, const Effort& effort) {
  Diagnostics faults = validate_sheets(problem);
  if (has_errors(faults)) return faults;
  const Model model = model_of(problem);
  if (model.parts == 0) return SheetPlan{.is_proved = true};
  Work work(effort);
  if (model.for_worth) return most_worth(problem, model, effort, work);
  auto bound = least_cost(model, work);
  if (!bound) return cannot(true);
  Pool pool(model);
  const auto keep = [&](const Pattern& p) {
    if (pool.size() < most_first_patterns) pool.add(p);
  };
  Found found = search(
      model, *bound,
      {.seed = effort.seed, .rounds = first_rounds, .work = (work.limit() - work.done()) / 5}, work,
      keep);
  if (found.is_whole && found.cost > *bound && !work.is_over())
    use_columns(model, pool, *bound, found, work);
  if ((!found.is_whole || found.cost > *bound) && !work.is_over()) {
    Found other =
        search(model, *bound,
               {.seed = effort.seed + 1, .rounds = last_rounds, .work = work.limit()}, work);
    if (other.is_whole && (!found.is_whole || other.cost < found.cost)) found = std::move(other);
  }
  if (!found.is_whole) return cannot(false);
  SheetPlan plan = plan_of(problem, model, found.patterns);
  plan.bound = Money{*bound};
  plan.is_proved = plan.cost == plan.bound;
  return plan;
}

}  // namespace kw
