#include <algorithm>

#include "bound.h"
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

}  // namespace

Outcome<SheetPlan> optimise_sheets(const SheetProblem& problem, const Effort& effort) {
  Diagnostics faults = validate_sheets(problem);
  if (has_errors(faults)) return faults;
  const Model model = model_of(problem);
  if (model.parts == 0) return SheetPlan{.is_proved = true};
  Work work(effort);
  if (model.for_worth) return most_worth(problem, model, effort, work);
  const auto bound = least_cost(model, work);
  if (!bound) return cannot(true);
  const Found found = search(model, *bound, effort.seed, 100'000, work);
  if (!found.is_whole) return cannot(false);
  SheetPlan plan = plan_of(problem, model, found.patterns);
  plan.bound = Money{*bound};
  plan.is_proved = plan.cost == plan.bound;
  return plan;
}

}  // namespace kw
