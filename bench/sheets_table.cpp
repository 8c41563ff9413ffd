// How good the sheet plans are on published instances, class by class.
//
//   sheets_table FOLDER [CLASS,... [SECONDS [MOST [FILE [KEPT]]]]]
//
// FOLDER holds best_known.csv (its columns are found by their names) and the files that it names:
// kinds of sheet, then length, width and copies of each with -1 for no limit, kinds of part, then
// length, width, demand and worth of each, 0 for no limit of the demand. CLASS "all" or a list;
// SECONDS the limit for each instance (default 60); MOST how many of each class (default all),
// taken at even steps. Rows that ask for the most from several sheets are left out. Seconds are
// those of the processor, but for the limit. FILE gets a row an instance; with KEPT, such
// a file, only what it says was proved soon is tried (quality.h).
//
// A plan that `verify_sheets` faults, or a figure that contradicts what is published, ends the run
// with status 1; but for the contradictions that are explained below, which are counted and told
// every time.
#include <cstdlib>
#include <ctime>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "kerfwright/cutting/sheets.h"

#include "quality.h"

namespace {

using namespace kw;

struct Instance {
  std::string name = {}, file = {};
  bool may_turn = false, for_worth = false;
  std::optional<std::int64_t> best = {}, bound = {};
};

struct Row {
  int instances = 0, proved = 0, in_10 = 0, at_best = 0, known = 0;
  int contradictions = 0, explained = 0;
  double seconds = 0, slowest = 0;
};

// A published value that cannot be right. It counts as explained only while the figure found is
// this one, and proved.
struct Disputed {
  const char* name;
  std::int64_t published = 0, found = 0;
  const char* reason;
};

constexpr Disputed disputed[] = {
    {"okp2", 22503, 22502,
     "no sawing of the 30 parts of the file, each once and unturned, is worth more: this program "
     "proves it, and one on single units without its reductions agreed. Nor is it the value of "
     "another variant: turned parts are worth 24263, unlimited ones 28467 (proved here). Parts "
     "laid anyhow, not only sawn from edge to edge, are published as 22502 at most (Fekete, "
     "Schepers and van der Veen 2007; from memory)."},
};

struct Run {
  std::string folder = {};
  double seconds = 60;
  Quality quality = {};
  std::set<std::string> notes = {};
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

const Disputed* explanation_of(const Instance& instance, std::int64_t figure, std::int64_t bound) {
  for (const Disputed& d : disputed) {
    const bool is_it = instance.name == d.name && !instance.may_turn && instance.best &&
                       *instance.best == d.published;
    if (is_it && figure == d.found && bound == d.found) return &d;
  }
  return nullptr;
}

// Counts a contradiction and says what it is.
void contradict(Run& run, const Instance& instance, const Disputed* reason, Row& row) {
  ++row.contradictions;
  if (reason == nullptr) {
    fmt::print(stderr, "{}: faulty\n", instance.file);
    return;
  }
  ++row.explained;
  run.notes.insert(fmt::format("{} contradicts: published {}, here {} proved; {}", instance.name,
                               reason->published, reason->found, reason->reason));
}

void try_one(Run& run, const std::string& set, const Instance& instance, Row& row) {
  const SheetProblem problem = read_problem(run.folder + "/" + instance.file, instance);
  const std::clock_t begin = std::clock();
  const auto plan = optimise_sheets(problem, {.seconds = run.seconds});
  const double passed = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  ++row.instances;
  const bool is_well = plan && verify_sheets(problem, *plan).empty();
  const std::int64_t figure = !plan ? 0 : (instance.for_worth ? plan->worth : plan->cost.coins);
  const std::int64_t bound =
      !plan ? 0 : (instance.for_worth ? plan->worth_bound : plan->bound.coins);
  if (!is_well) {
    contradict(run, instance, nullptr, row);
  } else if (!agrees(instance, figure, bound)) {
    contradict(run, instance, explanation_of(instance, figure, bound), row);
  }
  const bool is_proved = is_well && plan->is_proved;
  row.proved += is_proved ? 1 : 0;
  row.in_10 += is_proved && passed <= 10 ? 1 : 0;
  row.known += instance.best ? 1 : 0;
  row.at_best += instance.best && figure == *instance.best ? 1 : 0;
  row.seconds += passed;
  row.slowest = std::max(row.slowest, passed);
  run.quality.add({set, instance.name, figure, bound, is_proved, passed});
}

void print(const std::string& name, const Row& row) {
  const std::string contradictions =
      row.explained == 0 ? fmt::format("{}", row.contradictions)
                         : fmt::format("{} ({} explained)", row.contradictions, row.explained);
  fmt::print("{:<22}{:>5}{:>8}{:>8}{:>10}{:>9.2f}{:>9.2f}{:>17}\n", name, row.instances, row.proved,
             row.in_10, fmt::format("{}/{}", row.at_best, row.known), row.seconds / row.instances,
             row.slowest, contradictions);
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: sheets_table FOLDER [CLASS,... [SECONDS [MOST [FILE [KEPT]]]]]\n");
    return 2;
  }
  Run run{.folder = argv[1], .seconds = argc > 3 ? std::atof(argv[3]) : 60};
  if (argc > 5) run.quality.write_to(argv[5]);
  if (argc > 6) run.quality.only_soon_in(argv[6]);
  const std::string wanted = argc > 2 ? "," + std::string(argv[2]) + "," : ",all,";
  const std::size_t most = argc > 4 ? static_cast<std::size_t>(std::atoll(argv[4])) : 1'000'000;
  fmt::print("{:<22}{:>5}{:>8}{:>8}{:>10}{:>9}{:>9}{:>17}\n", "class", "n", "proved", "<=10 s",
             "at best", "mean s", "max s", "contradictions");
  bool all_well = true;
  for (auto& [name, instances] : read_index(run.folder)) {
    const bool is_wanted = wanted == ",all," || wanted.find("," + name + ",") != std::string::npos;
    if (!is_wanted) continue;
    const std::size_t step = std::max<std::size_t>(1, instances.size() / most);
    Row row;
    for (std::size_t i = 0; i < instances.size() && i / step < most; i += step) {
      if (run.quality.wants(name, instances[i].name)) try_one(run, name, instances[i], row);
    }
    if (row.instances == 0) continue;
    print(name, row);
    all_well = all_well && row.contradictions == row.explained;
  }
  for (const std::string& note : run.notes) fmt::print("{}\n", note);
  return all_well ? 0 : 1;
}
