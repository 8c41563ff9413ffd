// How good the sawing plans are on published instances, set by set.
//
//   cutting_table FOLDER [SECONDS [MOST [SET...]]]
//
// FOLDER holds optima.csv and multi_stock.csv (columns as read below) and the instances they name:
// .csp (kinds, stock length, then length and count of each kind) and .mcs (stocks, then length,
// price and count of each with -1 for no limit, kinds, then as before). SECONDS is the effort for
// each instance (default 1), MOST the number of instances of each set (default all).
//
// gap: cost over best known; own gap: cost over the plan's own bound; proved: cost equals that
// bound. A plan that `verify` faults, or a bound above the best known cost, ends the run with
// status 1.
#include <chrono>
#include <cstdlib>
#include <fmt/format.h>
#include <set>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"

#include "instances.h"

namespace {

using namespace kw;

struct Row {
  int instances = 0, proved = 0, at_best = 0;
  double gap = 0, own_gap = 0, milliseconds = 0, slowest = 0;
};

double percent_over(std::int64_t cost, std::int64_t base) {
  return 100.0 * static_cast<double>(cost - base) / static_cast<double>(base);
}

// False when something is wrong with the plan or its bound.
bool try_one(const std::string& folder, const BenchInstance& instance, double seconds, Row& row) {
  const Problem problem = read_problem(folder + "/" + instance.file);
  const auto start = std::chrono::steady_clock::now();
  const auto plan = optimise(problem, {.seconds = seconds});
  const std::chrono::duration<double, std::milli> passed = std::chrono::steady_clock::now() - start;
  if (!plan || !verify(problem, *plan).empty() || plan->bound.coins > instance.best_known ||
      (instance.is_optimum && plan->cost.coins < instance.best_known)) {
    fmt::print(stderr, "{}: faulty\n", instance.file);
    return false;
  }
  ++row.instances;
  row.proved += plan->is_proved ? 1 : 0;
  row.at_best += plan->cost.coins <= instance.best_known ? 1 : 0;
  row.gap += percent_over(plan->cost.coins, instance.best_known);
  row.own_gap += percent_over(plan->cost.coins, plan->bound.coins);
  row.milliseconds += passed.count();
  row.slowest = std::max(row.slowest, passed.count());
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: cutting_table FOLDER [SECONDS [MOST [SET...]]]\n");
    return 2;
  }
  const std::string folder = argv[1];
  const double seconds = argc > 2 ? std::atof(argv[2]) : 1;
  const std::size_t most = argc > 3 ? static_cast<std::size_t>(std::atoll(argv[3])) : 1'000'000;
  const std::set<std::string> wanted(argv + std::min(argc, 4), argv + argc);
  InstanceSets sets = read_sets(folder);
  fmt::print("{:<16}{:>6}{:>9}{:>11}{:>9}{:>9}{:>9}{:>9}\n", "set", "n", "gap %", "own gap %",
             "best %", "proved %", "ms", "most ms");
  bool all_well = true;
  for (auto& [name, instances] : sets) {
    if (!wanted.empty() && !wanted.contains(name)) continue;
    if (instances.size() > most) instances.resize(most);
    Row row;
    for (const BenchInstance& i : instances)
      all_well = try_one(folder, i, seconds, row) && all_well;
    if (row.instances == 0) continue;
    const double n = row.instances;
    fmt::print("{:<16}{:>6}{:>9.3f}{:>11.3f}{:>9.1f}{:>9.1f}{:>9.1f}{:>9.1f}\n", name,
               row.instances, row.gap / n, row.own_gap / n, 100 * row.at_best / n,
               100 * row.proved / n, row.milliseconds / n, row.slowest);
    std::fflush(stdout);
  }
  return all_well ? 0 : 1;
}
