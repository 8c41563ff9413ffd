// How good the sheet plans are on published instances, class by class.
//
//   sheets_table FOLDER [SECONDS [MOST [CLASS...]]]
//
// FOLDER holds best_known.csv (its columns are found by their names) and the files that it names:
// kinds of sheet, then length, width and copies of each with -1 for no limit, kinds of part, then
// length, width, demand and worth of each, 0 for no limit of the demand. SECONDS is the effort for
// each instance (default 60), MOST the number of instances of each class (default all). Rows that
// ask for the most from several sheets are left out. Environment KW_EACH=1 prints each instance.
//
// A plan that `verify_sheets` faults, or a figure that contradicts what is known, ends the run with
// status 1.
#include <chrono>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "kerfwright/cutting/sheets.h"

namespace {

using namespace kw;

struct Instance {
  std::string name = {}, file = {};
  bool may_turn = false, for_worth = false;
  std::optional<std::int64_t> best = {}, bound = {};
};

struct Row {
  int instances = 0, proved = 0, in_10 = 0, in_60 = 0, at_best = 0, contradictions = 0, known = 0;
  double seconds = 0, slowest = 0;
};

// The cells of a row; some are quoted.
std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells{""};
  bool is_quoted = false;
  for (const char c : line) {
    if (c == '"') {
      is_quoted = !is_quoted;
    } else if (c == ',' && !is_quoted) {
      cells.emplace_back();
    } else if (c != '\r') {
      cells.back() += c;
    }
  }
  return cells;
}

std::optional<std::int64_t> number_in(const std::string& cell) {
  if (cell.empty()) return std::nullopt;
  return std::atoll(cell.c_str());
}

std::map<std::string, std::vector<Instance>> read_index(const std::string& folder) {
  std::map<std::string, std::vector<Instance>> classes;
  std::ifstream in(folder + "/best_known.csv");
  std::string line;
  std::getline(in, line);
  std::map<std::string, std::size_t> column;
  for (const std::string& name : cells_of(line)) column.emplace(name, column.size());
  while (std::getline(in, line)) {
    const auto cells = cells_of(line);
    const auto cell = [&](const char* name) { return cells.at(column.at(name)); };
    if (cell("problem").starts_with("max value from a given set")) continue;
    Instance i{.name = cell("instance"),
               .file = cell("file"),
               .may_turn = cell("rotation") == "allowed",
               .for_worth = cell("problem").starts_with("max"),
               .best = number_in(cell("best_known")),
               .bound = number_in(cell("bound"))};
    classes[cell("class") + (i.may_turn ? " turned" : "")].push_back(std::move(i));
  }
  return classes;
}

SheetProblem read_problem(const std::string& path, const Instance& instance) {
  std::ifstream in(path);
  SheetProblem problem;
  problem.aim = instance.for_worth ? SheetAim::most_worth : SheetAim::least_money;
  int sheets = 0, parts = 0;
  in >> sheets;
  for (int s = 0; s < sheets; ++s) {
    std::int64_t length = 0, width = 0;
    int copies = 0;
    in >> length >> width >> copies;
    problem.sheets.push_back({.name = "sheet",
                              .length = Length::ticks(length),
                              .width = Length::ticks(width),
                              .price = {1}});
    if (copies >= 0 && instance.for_worth) problem.sheets.back().count = copies;
  }
  in >> parts;
  for (int p = 0; p < parts; ++p) {
    std::int64_t length = 0, width = 0, worth = 0;
    int count = 0;
    in >> length >> width >> count >> worth;
    problem.parts.push_back({.name = fmt::format("{}", p),
                             .length = Length::ticks(length),
                             .width = Length::ticks(width),
                             .count = count == 0 ? 1'000'000 : count,
                             .may_turn = instance.may_turn,
                             .worth = worth});
  }
  return problem;
}

// Whether the figures agree with what is known.
bool agrees(const Instance& instance, std::int64_t figure, std::int64_t bound) {
  const int side = instance.for_worth ? -1 : 1;
  if (instance.best && side * bound > side * *instance.best) return false;
  return !instance.bound || side * figure >= side * *instance.bound;
}

void try_one(const std::string& folder, const Instance& instance, double seconds, Row& row) {
  const SheetProblem problem = read_problem(folder + "/" + instance.file, instance);
  const auto start = std::chrono::steady_clock::now();
  const auto plan = optimise_sheets(problem, {.seconds = seconds});
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
  ++row.instances;
  const bool is_well = plan && verify_sheets(problem, *plan).empty();
  const std::int64_t figure = !plan ? 0 : (instance.for_worth ? plan->worth : plan->cost.coins);
  const std::int64_t bound =
      !plan ? 0 : (instance.for_worth ? plan->worth_bound : plan->bound.coins);
  if (!is_well || !agrees(instance, figure, bound)) {
    ++row.contradictions;
    fmt::print(stderr, "{}: faulty\n", instance.file);
  }
  const bool is_proved = is_well && plan->is_proved;
  row.proved += is_proved ? 1 : 0;
  row.in_10 += is_proved && passed.count() <= 10 ? 1 : 0;
  row.in_60 += is_proved && passed.count() <= 60 ? 1 : 0;
  row.known += instance.best ? 1 : 0;
  row.at_best += instance.best && figure == *instance.best ? 1 : 0;
  row.seconds += passed.count();
  row.slowest = std::max(row.slowest, passed.count());
  if (std::getenv("KW_EACH") == nullptr) return;
  fmt::print("  {:<24}{:>12}{:>12}{:>12}{:>12}{:>8.2f} s{}\n", instance.name, figure, bound,
             instance.best.value_or(-1), instance.bound.value_or(-1), passed.count(),
             is_proved ? " proved" : "");
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: sheets_table FOLDER [SECONDS [MOST [CLASS...]]]\n");
    return 2;
  }
  const std::string folder = argv[1];
  const double seconds = argc > 2 ? std::atof(argv[2]) : 60;
  const std::size_t most = argc > 3 ? static_cast<std::size_t>(std::atoll(argv[3])) : 1'000'000;
  const std::set<std::string> wanted(argv + std::min(argc, 4), argv + argc);
  fmt::print("{:<22}{:>5}{:>8}{:>8}{:>8}{:>10}{:>9}{:>9}{:>16}\n", "class", "n", "proved", "<=10 s",
             "<=60 s", "at best", "mean s", "max s", "contradictions");
  bool all_well = true;
  for (auto& [name, instances] : read_index(folder)) {
    if (!wanted.empty() && !wanted.contains(name)) continue;
    // Spread over the class, so that fewer are a fair sample.
    const std::size_t step = std::max<std::size_t>(1, instances.size() / most);
    Row row;
    for (std::size_t i = 0; i < instances.size() && i / step < most; i += step)
      try_one(folder, instances[i], seconds, row);
    if (row.instances == 0) continue;
    fmt::print("{:<22}{:>5}{:>8}{:>8}{:>8}{:>10}{:>9.2f}{:>9.2f}{:>16}\n", name, row.instances,
               row.proved, row.in_10, row.in_60, fmt::format("{}/{}", row.at_best, row.known),
               row.seconds / row.instances, row.slowest, row.contradictions);
    std::fflush(stdout);
    all_well = all_well && row.contradictions == 0;
  }
  return all_well ? 0 : 1;
}
