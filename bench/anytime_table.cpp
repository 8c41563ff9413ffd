// How soon there is a plan, how soon it is proved, and how soon the work ends when it is cancelled.
//
//   anytime_table STARTERS [SECONDS [POINTS [INSTANCE...]]]
//
// STARTERS holds pieces (*.toml): each of their stocks is planned, for one piece and for ten,
// and then random problems with angled ends; INSTANCE is a file that `kerfwright cutting solve`
// reads. SECONDS is the effort for each plan (default 2), POINTS how often each is cancelled
// (default 12): at moments spread over the time that the whole work takes.
//
// first: until a plan that makes every part was told, and its cost; final: what the plan costs in
// the end; proof: until cost and bound were told to be equal; whole: until the plan was handed
// over; cancel: the longest time between the moment of a cancel and the plan being handed over.
// Milliseconds, of the processor (this thread), but for the effort's own limit: other programs
// do not count, waiting would not show. A cancelled work that hands over a plan that the judge
// faults ends the run with status 1.
#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kerfwright/cutting/instance.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/workbench/recompute.h"

#include "random_angled.h"

namespace {

using namespace kw;

using AnyProblem = std::variant<Problem, SheetProblem>;

struct Told {
  std::optional<double> first = {}, proof = {};
  std::int64_t first_cost = 0, final_cost = 0;
  double whole = 0;
  bool is_proved = false, is_well = true;
};

double now() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) * 1e3 + static_cast<double>(t.tv_nsec) * 1e-6;
}

std::string text_of(const std::filesystem::path& file) {
  std::ifstream in(file);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Plans, and gives up at `cancel` milliseconds.
Told plan(const AnyProblem& any, double seconds, std::optional<double> cancel) {
  Told told;
  const double start = now();
  const auto on_progress = [&](const Progress& p) {
    const double passed = now() - start;
    if (p.best && !told.first) told.first = passed, told.first_cost = p.best->coins;
    if (p.best && *p.best == p.bound && !told.proof) told.proof = passed;
    return !cancel || passed < *cancel;
  };
  const Effort effort{.seconds = seconds, .on_progress = on_progress};
  const auto finish = [&](const auto& made, bool is_well, std::int64_t cost) {
    if (!made) return;
    told.is_well = is_well;
    told.final_cost = cost;
    told.is_proved = made->is_proved;
  };
  if (const auto* sticks = std::get_if<Problem>(&any)) {
    const auto made = optimise(*sticks, effort);
    told.whole = now() - start;
    if (made) finish(made, verify(*sticks, *made).empty(), made->cost.coins);
  } else {
    const SheetProblem& sheets = std::get<SheetProblem>(any);
    const auto made = optimise_sheets(sheets, effort);
    told.whole = now() - start;
    const bool for_worth = sheets.aim == SheetAim::most_worth;
    if (made)
      finish(made, verify_sheets(sheets, *made).empty(),
             for_worth ? made->worth : made->cost.coins);
  }
  return told;
}

int parts_of(const AnyProblem& any) {
  int parts = 0;
  if (const auto* sticks = std::get_if<Problem>(&any)) {
    for (const Demand& d : sticks->demands) parts += d.count;
  } else {
    for (const SheetPart& p : std::get<SheetProblem>(any).parts) parts += p.count;
  }
  return parts;
}

std::string kind_of(const AnyProblem& any) {
  const auto* sticks = std::get_if<Problem>(&any);
  if (sticks == nullptr) return "sheets";
  const bool is_square =
      std::all_of(sticks->demands.begin(), sticks->demands.end(),
                  [](const Demand& d) { return d.left_slope == 0 && d.right_slope == 0; });
  return is_square ? "lengths" : "angled";
}

struct Run {
  double seconds = 2;
  int points = 12;
  double slowest_first = 0, slowest_cancel = 0;
  bool is_well = true;
};

void row(Run& run, const std::string& name, const AnyProblem& any) {
  const Told whole = plan(any, run.seconds, {});
  double slowest = 0;
  for (int i = 0; i < run.points; ++i) {
    const double at = whole.whole * (i + 0.5) / run.points;
    const Told cancelled = plan(any, run.seconds, at);
    slowest = std::max(slowest, cancelled.whole - at);
    run.is_well = run.is_well && cancelled.is_well;
  }
  run.is_well = run.is_well && whole.is_well;
  run.slowest_first = std::max(run.slowest_first, whole.first.value_or(whole.whole));
  run.slowest_cancel = std::max(run.slowest_cancel, slowest);
  // What is proved only at the end was not told before.
  const bool is_told = whole.is_proved || whole.proof;
  fmt::print("{:<36}{:<9}{:>6}{:>9.1f}{:>10}{:>10}{:>9}{:>10.1f}{:>9.1f}\n", name.substr(0, 35),
             kind_of(any), parts_of(any), whole.first.value_or(whole.whole),
             whole.first ? whole.first_cost : whole.final_cost, whole.final_cost,
             is_told ? fmt::format("{:.1f}", whole.proof.value_or(whole.whole)) : "-", whole.whole,
             slowest);
  std::fflush(stdout);
}

void starter(Run& run, const std::filesystem::path& file) {
  ShapeCache cache;
  const Snapshot piece =
      recompute({file.filename().string(), text_of(file)}, built_in_catalogue(), cache);
  const Job job = job_of(piece.piece, piece.cut_list);
  for (const JobStock& stock : stocks_of(job).value) {
    const std::string name = fmt::format("{}, {}", file.stem().string(), stock.name);
    for (const int pieces : {1, 10}) {
      AnyProblem any;
      if (stock.stock.is_sheet) {
        SheetProblem sheets = sheet_problem_for(job, stock).problem;
        for (SheetPart& p : sheets.parts) p.count *= pieces;
        if (has_errors(validate_sheets(sheets))) continue;
        any = std::move(sheets);
      } else {
        Problem sticks = problem_for(job, stock).problem;
        for (Demand& d : sticks.demands) d.count *= pieces;
        if (has_errors(validate(sticks))) continue;
        any = std::move(sticks);
      }
      row(run, pieces == 1 ? name : name + " x10", any);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: anytime_table STARTERS [SECONDS [POINTS [INSTANCE...]]]\n");
    return 2;
  }
  Run run{.seconds = argc > 2 ? std::atof(argv[2]) : 2,
          .points = argc > 3 ? std::atoi(argv[3]) : 12};
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(argv[1])) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  fmt::print("{:<36}{:<9}{:>6}{:>9}{:>10}{:>10}{:>9}{:>10}{:>9}\n", "milliseconds of the processor",
             "engine", "parts", "first", "at cost", "final", "proof", "whole", "cancel");
  for (const auto& file : files) starter(run, file);
  for (const int parts : {24, 48, 100}) {
    for (const int slopes : {2, 8}) {
      std::mt19937_64 random = angled_seed(parts, slopes);
      row(run, fmt::format("random, {} slopes", slopes), random_angled(random, parts, slopes));
    }
  }
  for (int i = 4; i < argc; ++i) {
    const auto instance = read_instance({argv[i], text_of(argv[i])});
    if (!instance) return 2;
    row(run, std::filesystem::path(argv[i]).filename().string(), instance->problem);
  }
  fmt::print("slowest first plan {:.1f} ms, slowest cancel {:.1f} ms\n", run.slowest_first,
             run.slowest_cancel);
  return run.is_well ? 0 : 1;
}
