// Plain instances, so that anybody can try the optimisers.
#include <chrono>
#include <cstdio>
#include <fmt/core.h>

#include "kerfwright/cutting/instance.h"
#include "kerfwright/wire/solved_json.h"

#include "commands.h"
#include "files.h"
#include "opening.h"

namespace kw::cli {
namespace {

constexpr std::uintmax_t most_bytes = 4 << 20;

struct Figures {
  std::int64_t best = 0, bound = 0;
  bool is_proved = false;
  std::string more = {};
};

Figures figures_of(const Problem&, const Plan& plan) {
  Figures f{plan.cost.coins, plan.bound.coins, plan.is_proved,
            fmt::format("{} sticks", plan.sticks.size())};
  if (plan.aims)
    f.more +=
        fmt::format(", {} layouts (at least {})", plan.aims->layouts, plan.aims->layouts_at_least);
  return f;
}

Figures figures_of(const SheetProblem& problem, const SheetPlan& plan) {
  const bool is_money = problem.aim == SheetAim::least_money;
  return {is_money ? plan.cost.coins : plan.worth, is_money ? plan.bound.coins : plan.worth_bound,
          plan.is_proved, fmt::format("{} sheets", plan.sheets.size())};
}

Outcome<Plan> solved(const Problem& problem, const Effort& effort) {
  return optimise(problem, effort);
}
Outcome<SheetPlan> solved(const SheetProblem& problem, const Effort& effort) {
  return optimise_sheets(problem, effort);
}
Diagnostics judged(const Problem& problem, const Plan& plan) {
  return verify(problem, plan);
}
Diagnostics judged(const SheetProblem& problem, const SheetPlan& plan) {
  return verify_sheets(problem, plan);
}

template <class P>
int solve(const P& problem, const SolveOptions& options) {
  const auto start = std::chrono::steady_clock::now();
  Diagnostics faults;
  const auto plan = keep(solved(problem, {.seconds = options.seconds}), faults);
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
  print_plain(faults);
  if (!plan) return not_done;
  const Diagnostics wrong = judged(problem, *plan);
  print_plain(wrong);
  if (options.as_json) {
    fmt::print("{}", solved_json(problem, *plan, passed.count()));
  } else {
    const Figures f = figures_of(problem, *plan);
    fmt::print("best {}  bound {}  {}  {:.3f} s  {}\n", f.best, f.bound,
               f.is_proved ? "proved" : "not proved", passed.count(), f.more);
  }
  return wrong.empty() ? all_well : with_faults;
}

}  // namespace

int solve_instance(const SolveOptions& options) {
  Diagnostics faults;
  const auto text = keep(read_file(options.file, most_bytes), faults);
  print_plain(faults);
  if (!text) return not_done;
  auto instance = keep(read_instance(*text), faults);
  print_faults(*text, faults);
  if (!instance) return not_done;
  if (auto* lengths = std::get_if<Problem>(&instance->problem)) return solve(*lengths, options);
  auto& sheets = std::get<SheetProblem>(instance->problem);
  for (SheetPart& part : sheets.parts) part.may_turn = part.may_turn || options.may_turn;
  return solve(sheets, options);
}

}  // namespace kw::cli
