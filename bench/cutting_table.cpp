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
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace {

using namespace kw;

struct Instance {
  std::string file = {};
  std::int64_t best_known = 0;
  bool is_optimum = false;
};

struct Row {
  int instances = 0, proved = 0, at_best = 0;
  double gap = 0, own_gap = 0, milliseconds = 0, slowest = 0;
};

// Set, file and best known value stand in the first, third and sixth column, none of them quoted.
void read_index(const std::string& path, std::size_t proved_column,
                std::map<std::string, std::vector<Instance>>& sets) {
  std::ifstream in(path);
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::vector<std::string> cells;
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() <= proved_column) continue;
    sets[cells[0]].push_back(
        {cells[2], std::atoll(cells[5].c_str()), cells[proved_column] == "yes"});
  }
}

void read_demands(std::istream& in, int kinds, Problem& problem) {
  for (int k = 0; k < kinds; ++k) {
    std::int64_t length = 0;
    int count = 0;
    in >> length >> count;
    problem.demands.push_back(
        {.name = fmt::format("{}", k), .length = Length::ticks(length), .count = count});
  }
}

Problem read_problem(const std::string& path) {
  std::ifstream in(path);
  Problem problem;
  int kinds = 0;
  std::int64_t length = 0;
  if (path.ends_with(".csp")) {
    in >> kinds >> length;
    problem.stocks.push_back({.name = "stock", .length = Length::ticks(length), .price = {1}});
    read_demands(in, kinds, problem);
    return problem;
  }
  int stocks = 0;
  in >> stocks;
  for (int s = 0; s < stocks; ++s) {
    std::int64_t price = 0;
    int copies = 0;
    in >> length >> price >> copies;
    problem.stocks.push_back(
        {.name = fmt::format("{}", s), .length = Length::ticks(length), .price = {price}});
    if (copies >= 0) problem.stocks.back().count = copies;
  }
  in >> kinds;
  read_demands(in, kinds, problem);
  return problem;
}

double percent_over(std::int64_t cost, std::int64_t base) {
  return 100.0 * static_cast<double>(cost - base) / static_cast<double>(base);
}

// False when something is wrong with the plan or its bound.
bool try_one(const std::string& folder, const Instance& instance, double seconds, Row& row) {
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
  std::map<std::string, std::vector<Instance>> sets;
  read_index(folder + "/optima.csv", 6, sets);
  read_index(folder + "/multi_stock.csv", 7, sets);
  fmt::print("{:<16}{:>6}{:>9}{:>11}{:>9}{:>9}{:>9}{:>9}\n", "set", "n", "gap %", "own gap %",
             "best %", "proved %", "ms", "most ms");
  bool all_well = true;
  for (auto& [name, instances] : sets) {
    if (!wanted.empty() && !wanted.contains(name)) continue;
    if (instances.size() > most) instances.resize(most);
    Row row;
    for (const Instance& i : instances) all_well = try_one(folder, i, seconds, row) && all_well;
    if (row.instances == 0) continue;
    const double n = row.instances;
    fmt::print("{:<16}{:>6}{:>9.3f}{:>11.3f}{:>9.1f}{:>9.1f}{:>9.1f}{:>9.1f}\n", name,
               row.instances, row.gap / n, row.own_gap / n, 100 * row.at_best / n,
               100 * row.proved / n, row.milliseconds / n, row.slowest);
    std::fflush(stdout);
  }
  return all_well ? 0 : 1;
}
