// What it saves to nest angled ends, and how far the plans are proved: for the starters, one piece
// and a batch of ten, and for random problems by number of parts and of slopes.
//
//   angled_table FOLDER [SECONDS [EACH [MOST [FILE [KEPT]]]]]
//
// FOLDER holds the starters (*.toml), SECONDS is the effort for each plan (default 10), EACH the
// random problems of a size (default 5), MOST the largest number of parts (default 100). FILE gets
// a row a problem; with KEPT, such a file, only what it says was proved soon is tried (quality.h).
// Seconds are those of the processor, but for the effort.
//
// nested: cost with angled ends nested; straight: with each part sawn square first, as long as it
// is from tip to tip. Money is in coins; a starter without prices pays a stick's length, so that
// its column is length. A plan that `verify` faults, or that costs more than the straight one, ends
// the run with status 1.
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/parts/job.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/workbench/recompute.h"

#include "quality.h"
#include "random_angled.h"

namespace {

using namespace kw;

struct Row {
  int plans = 0, proved = 0;
  std::int64_t nested = 0, straight = 0, bound = 0;
  double seconds = 0, slowest = 0;
};

int parts_of(const Problem& problem) {
  int parts = 0;
  for (const Demand& d : problem.demands) parts += d.count;
  return parts;
}

bool is_angled(const Problem& problem) {
  return std::any_of(problem.demands.begin(), problem.demands.end(),
                     [](const Demand& d) { return d.left_slope != 0 || d.right_slope != 0; });
}

Problem straight(const Problem& problem) {
  Problem square = problem;
  const double half = static_cast<double>(problem.width.in_ticks()) / 2;
  for (Demand& d : square.demands) {
    // The larger way of measuring: between the outermost corners along the stick.
    const double left = half * std::abs(d.left_slope), right = half * std::abs(d.right_slope);
    d.length += Length::ticks(static_cast<std::int64_t>(std::ceil(left + right)));
    d.left_slope = d.right_slope = 0;
  }
  return square;
}

struct Run {
  double seconds = 10;
  Quality quality = {};
  bool is_well = true;
};

// A part that fits only at a slant has no straight plan; it saves nothing here.
bool add_straight(const Problem& problem, Money nested, const Effort& effort, Row& row) {
  const Problem square = straight(problem);
  const auto plain = optimise(square, effort);
  row.straight += plain ? plain->cost.coins : nested.coins;
  return !plain || (verify(square, *plain).empty() && nested <= plain->cost);
}

// False when something is wrong.
bool add(Run& run, const std::string& set, const std::string& name, const Problem& problem,
         Row& row) {
  if (!run.quality.wants(set, name)) return true;
  const Effort effort{.seconds = run.seconds};
  const std::clock_t begin = std::clock();
  const auto nested = optimise(problem, effort);
  const double passed = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
  if (!nested || !verify(problem, *nested).empty()) return false;
  if (!run.quality.is_limited() && !add_straight(problem, nested->cost, effort, row)) return false;
  ++row.plans;
  row.proved += nested->is_proved ? 1 : 0;
  row.nested += nested->cost.coins;
  row.bound += nested->bound.coins;
  row.seconds += passed;
  row.slowest = std::max(row.slowest, passed);
  run.quality.add({set, name, nested->cost.coins, nested->bound.coins, nested->is_proved, passed});
  return true;
}

void head() {
  fmt::print("{:<48}{:>6}{:>10}{:>10}{:>9}{:>10}{:>9}{:>8}{:>8}{:>8}\n", "problem", "parts",
             "nested", "straight", "saved %", "bound", "proved", "gap %", "s", "most s");
}

void print(const std::string& name, int parts, const Row& row) {
  if (row.plans == 0) return;
  const auto percent = [](std::int64_t part, std::int64_t of) {
    return of == 0 ? 0.0 : 100.0 * static_cast<double>(part) / static_cast<double>(of);
  };
  fmt::print("{:<48}{:>6}{:>10}{:>10}{:>9.2f}{:>10}{:>9}{:>8.2f}{:>8.2f}{:>8.2f}\n", name, parts,
             row.nested, row.straight, percent(row.straight - row.nested, row.straight), row.bound,
             fmt::format("{}/{}", row.proved, row.plans),
             percent(row.nested - row.bound, row.bound), row.seconds / row.plans, row.slowest);
  std::fflush(stdout);
}

void starter(Run& run, const std::filesystem::path& file) {
  std::ifstream in(file);
  const std::string text((std::istreambuf_iterator<char>(in)), {});
  ShapeCache cache;
  const Snapshot piece = recompute({file.filename().string(), text}, built_in_catalogue(), cache);
  const Job job = job_of(piece.piece, piece.cut_list);
  for (const JobStock& stock : stocks_of(job).value) {
    const Problem problem = problem_for(job, stock).problem;
    if (!is_angled(problem) || has_errors(validate(problem))) continue;
    const std::string name = fmt::format("{}, {}", file.stem().string(), stock.name);
    for (const int pieces : {1, 10}) {
      Problem batch = problem;
      for (Demand& d : batch.demands) d.count *= pieces;
      Row row;
      const std::string of = fmt::format("{}, {} of it", name.substr(0, 40), pieces);
      run.is_well = add(run, "starters", of, batch, row) && run.is_well;
      print(of, parts_of(batch), row);
    }
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: angled_table FOLDER [SECONDS [EACH [MOST [FILE [KEPT]]]]]\n");
    return 2;
  }
  Run run{.seconds = argc > 2 ? std::atof(argv[2]) : 10};
  const int each = argc > 3 ? std::atoi(argv[3]) : 5;
  const int most = argc > 4 ? std::atoi(argv[4]) : 100;
  if (argc > 5) run.quality.write_to(argv[5]);
  if (argc > 6) run.quality.only_soon_in(argv[6]);
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(argv[1])) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  head();
  for (const auto& file : files) starter(run, file);
  for (const int parts : {12, 24, 48, 100}) {
    for (const int slopes : {2, 4, 8}) {
      if (parts > most) continue;
      const std::string set = fmt::format("random, {} slopes", slopes);
      std::mt19937_64 random = angled_seed(parts, slopes);
      Row row;
      for (int i = 0; i < each; ++i) {
        const std::string name = fmt::format("{} parts, {}", parts, i);
        run.is_well = add(run, set, name, random_angled(random, parts, slopes), row) && run.is_well;
      }
      print(set, parts, row);
    }
  }
  return run.is_well ? 0 : 1;
}
