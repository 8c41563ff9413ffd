// Which published instances of straight lengths are proved, class by class.
//
//   lengths_table FOLDER [CLASS|INSTANCE,... [SECONDS [MOST [FILE|- [KEPT]]]]]
//
// FOLDER holds optima.csv and multi_stock.csv and the instances they name (see cutting_table.cpp
// for the formats). CLASS "all" or a list, of single instances too; SECONDS the limit for each
// instance (default 60); MOST how many of each class. Seconds, the limit's too, are those of the
// processor for this process (one thread), so that a loaded machine does not spoil the figures;
// only the last column is the clock's. "deaf": the longest time for which the caller was not asked
// whether to go on, or between his no and the answer; no stop takes more than two such times. FILE
// gets a row an instance: class, instance, best, bound, proved, seconds.
//
// A plan that `verify` faults, a cost below a known optimum, a bound above the best known cost, and
// what KEPT (such a file, bench/quality/lengths.tsv) had proved or had cheaper and is lost now end
// the run with status 1.
#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "kerfwright/cutting/problem.h"

#include "instances.h"

namespace {

using namespace kw;

struct Row {
  int instances = 0, proved = 0, soon = 0, at_best = 0;
  double sum = 0, most = 0, deaf = 0, wall = 0;
};

struct Kept {
  std::int64_t best = 0;
  bool is_proved = false;
};

constexpr std::int64_t endless_work = 1'000'000'000'000'000;
constexpr double most_wall = 3'600;  // the processor's seconds come first

struct Run {
  std::string folder = {};
  double seconds = 60;
  std::ofstream rows = {};
  std::map<std::string, Kept> kept = {};  // by instance
  bool is_well = true;
};

double processor_seconds() {
  return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

std::map<std::string, Kept> read_kept(const std::string& name) {
  std::map<std::string, Kept> kept;
  std::ifstream file(name);
  std::string line, set, instance, proved;
  std::getline(file, line);
  while (std::getline(file, line)) {
    std::istringstream cells(line);
    Kept row;
    std::int64_t bound = 0;
    if (cells >> set >> instance >> row.best >> bound >> proved) {
      row.is_proved = proved == "yes";
      kept[instance] = row;
    }
  }
  return kept;
}

// Says so when the answer is worse than the one kept.
void compare(Run& run, const BenchInstance& instance, const Plan& plan) {
  const auto found = run.kept.find(instance.name);
  if (found == run.kept.end()) return;
  const bool is_lost = found->second.is_proved && !plan.is_proved;
  if (!is_lost && plan.cost.coins <= found->second.best) return;
  fmt::print(stderr, "{}: lost, {}{} was kept, now {}{}\n", instance.file, found->second.best,
             found->second.is_proved ? " proved" : "", plan.cost.coins,
             plan.is_proved ? " proved" : "");
  run.is_well = false;
}

void try_one(Run& run, const std::string& set, const BenchInstance& instance, Row& row) {
  const Problem problem = read_problem(run.folder + "/" + instance.file);
  const auto start = std::chrono::steady_clock::now();
  const double begin = processor_seconds();
  double asked = begin, deaf = 0;
  const auto hear = [&] {
    const double now = processor_seconds();
    deaf = std::max(deaf, now - std::exchange(asked, now));
    return now - begin;
  };
  const auto goes_on = [&](const Progress& p) {
    const bool is_met = p.best && *p.best == p.bound;  // the rest is not asked
    return hear() < run.seconds && !is_met;
  };
  const auto plan =
      optimise(problem, {.seconds = most_wall, .work = endless_work, .on_progress = goes_on});
  const double wall =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  const double passed = hear();
  if (!plan || !verify(problem, *plan).empty() || plan->bound.coins > instance.best_known ||
      plan->cost.coins < instance.lower_bound) {
    fmt::print(stderr, "{}: faulty\n", instance.file);
    run.is_well = false;
    return;
  }
  compare(run, instance, *plan);
  const bool is_proved = plan->is_proved;
  ++row.instances;
  row.proved += is_proved ? 1 : 0;
  row.soon += is_proved && passed <= 10 ? 1 : 0;
  row.at_best += plan->cost.coins <= instance.best_known ? 1 : 0;
  row.sum += passed;
  row.deaf = std::max(row.deaf, deaf);
  row.wall += wall;
  row.most = std::max(row.most, passed);
  if (run.rows.is_open()) {
    run.rows << fmt::format("{}\t{}\t{}\t{}\t{}\t{:.2f}\n", set, instance.name, plan->cost.coins,
                            plan->bound.coins, is_proved ? "yes" : "no", passed);
    run.rows.flush();
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(
        stderr,
        "usage: lengths_table FOLDER [CLASS|INSTANCE,... [SECONDS [MOST [FILE|- [KEPT]]]]]\n");
    return 2;
  }
  Run run{argv[1], argc > 3 ? std::atof(argv[3]) : 60, {}, {}, true};
  if (argc > 6) run.kept = read_kept(argv[6]);
  if (argc > 6 && run.kept.empty()) {
    fmt::print(stderr, "nothing kept in {}\n", argv[6]);
    return 2;
  }
  if (argc > 5 && std::string(argv[5]) != "-") run.rows.open(argv[5], std::ios::app);
  const std::string list = argc > 2 ? "," + std::string(argv[2]) + "," : ",all,";
  const auto is_wanted = [&](const std::string& name) {
    return list == ",all," || list.find("," + name + ",") != std::string::npos;
  };
  const std::size_t most = argc > 4 ? static_cast<std::size_t>(std::atoll(argv[4])) : 1'000'000;
  fmt::print("Seconds of the processor (one thread), limit {:g}; wall: by the clock.\n",
             run.seconds);
  fmt::print("{:<14}{:>5}{:>8}{:>8}{:>8}{:>9}{:>9}{:>9}{:>9}\n", "class", "n", "proved", "<=10 s",
             "best", "mean s", "max s", "deaf ms", "wall s");
  for (auto& [name, instances] : read_sets(run.folder)) {
    const bool is_whole = is_wanted(name);
    Row row;
    for (std::size_t i = 0; i < std::min(most, instances.size()); ++i) {
      if (is_whole || is_wanted(instances[i].name)) try_one(run, name, instances[i], row);
    }
    if (row.instances == 0) continue;
    fmt::print("{:<14}{:>5}{:>8}{:>8}{:>8}{:>9.2f}{:>9.2f}{:>9.0f}{:>9.2f}\n", name, row.instances,
               row.proved, row.soon, row.at_best, row.sum / std::max(row.instances, 1), row.most,
               1000 * row.deaf, row.wall / std::max(row.instances, 1));
    std::fflush(stdout);
  }
  return run.is_well ? 0 : 1;
}
