// What it saves to nest angled ends, and how far the plans are proved: for the starters, one piece
// and a batch of ten, and for random problems by number of parts and of slopes.
//
//   angled_table FOLDER [SECONDS [EACH [MOST]]]
//
// FOLDER holds the starters (*.toml), SECONDS is the effort for each plan (default 10), EACH the
// random problems of a size (default 5), MOST the largest number of parts (default 100).
//
// nested: cost with angled ends nested; straight: with each part sawn square first, as long as it
// is from tip to tip. Money is in coins; a starter without prices pays a stick's length, so that
// its column is length. A plan that `verify` faults, or that costs more than the straight one, ends
// the run with status 1.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/parts/job.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/workbench/recompute.h"

namespace {

using namespace kw;

struct Row {
  int plans = 0, proved = 0, straight_proved = 0;
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

// False when something is wrong.
bool add(const Problem& problem, double seconds, Row& row) {
  const Effort effort{.seconds = seconds};
  const auto start = std::chrono::steady_clock::now();
  const auto nested = optimise(problem, effort);
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
  const Problem square = straight(problem);
  const auto plain = optimise(square, effort);
  if (!nested || !verify(problem, *nested).empty()) return false;
  if (plain && (!verify(square, *plain).empty() || plain->cost < nested->cost)) return false;
  ++row.plans;
  row.proved += nested->is_proved ? 1 : 0;
  row.nested += nested->cost.coins;
  row.bound += nested->bound.coins;
  // A part that fits only at a slant has no straight plan; it saves nothing here.
  row.straight += plain ? plain->cost.coins : nested->cost.coins;
  row.straight_proved += plain && plain->is_proved ? 1 : 0;
  row.seconds += passed.count();
  row.slowest = std::max(row.slowest, passed.count());
  return true;
}

void head() {
  fmt::print("{:<48}{:>6}{:>10}{:>10}{:>9}{:>10}{:>9}{:>8}{:>8}{:>8}\n", "problem", "parts",
             "nested", "straight", "saved %", "bound", "proved", "gap %", "s", "most s");
}

void print(const std::string& name, int parts, const Row& row) {
  const auto percent = [](std::int64_t part, std::int64_t of) {
    return of == 0 ? 0.0 : 100.0 * static_cast<double>(part) / static_cast<double>(of);
  };
  fmt::print("{:<48}{:>6}{:>10}{:>10}{:>9.2f}{:>10}{:>9}{:>8.2f}{:>8.2f}{:>8.2f}\n", name, parts,
             row.nested, row.straight, percent(row.straight - row.nested, row.straight), row.bound,
             fmt::format("{}/{}", row.proved, row.plans),
             percent(row.nested - row.bound, row.bound), row.seconds / std::max(row.plans, 1),
             row.slowest);
  std::fflush(stdout);
}

bool starter(const std::filesystem::path& file, double seconds) {
  std::ifstream in(file);
  const std::string text((std::istreambuf_iterator<char>(in)), {});
  ShapeCache cache;
  const Snapshot piece = recompute({file.filename().string(), text}, built_in_catalogue(), cache);
  bool is_well = true;
  const Job job = job_of(piece.piece, piece.cut_list);
  for (const JobStock& stock : stocks_of(job).value) {
    const Problem problem = problem_for(job, stock).problem;
    if (!is_angled(problem) || has_errors(validate(problem))) continue;
    const std::string name = fmt::format("{}, {}", file.stem().string(), stock.name);
    for (const int pieces : {1, 10}) {
      Problem batch = problem;
      for (Demand& d : batch.demands) d.count *= pieces;
      Row row;
      is_well = add(batch, seconds, row) && is_well;
      print(fmt::format("{}, {} of it", name.substr(0, 40), pieces), parts_of(batch), row);
    }
  }
  return is_well;
}

// 2x4s of three lengths; prices in proportion but for a little less by the foot for the long ones.
Problem random_problem(std::mt19937_64& random, int parts, int slopes) {
  const auto draw = [&](int from, int below) {
    return from + static_cast<int>(random() % static_cast<std::uint64_t>(below - from));
  };
  Problem p{.stocks = {{.name = "8 ft", .length = Length::inches(96), .price = {598}},
                       {.name = "10 ft", .length = Length::inches(120), .price = {735}},
                       {.name = "12 ft", .length = Length::inches(144), .price = {869}}},
            .saw = {.kerf = Length::inches(0.125)},
            .width = Length::inches(3.5)};
  std::vector<double> tangents = {0};
  while (static_cast<int>(tangents.size()) < slopes)
    tangents.push_back(std::tan(draw(10, 96) * 0.5 * 3.14159265358979323846 / 180));
  const auto slope = [&] {
    const double t = tangents[static_cast<std::size_t>(draw(0, slopes))];
    return draw(0, 2) == 0 ? t : -t;
  };
  for (int left = parts; left > 0;) {
    Demand d{.name = "part", .count = std::min(left, draw(1, 5))};
    d.length = Length::inches(draw(8 * 16, 44 * 16) / 16.0);
    d.left_slope = slope();
    d.right_slope = slope();
    d.may_flip = draw(0, 4) != 0;
    d.may_turn = draw(0, 4) != 0;
    left -= d.count;
    p.demands.push_back(d);
  }
  return p;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) {
    fmt::print(stderr, "usage: angled_table FOLDER [SECONDS [EACH [MOST]]]\n");
    return 2;
  }
  const double seconds = argc > 2 ? std::atof(argv[2]) : 10;
  const int each = argc > 3 ? std::atoi(argv[3]) : 5;
  const int most = argc > 4 ? std::atoi(argv[4]) : 100;
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(argv[1])) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  head();
  bool is_well = true;
  for (const auto& file : files) is_well = starter(file, seconds) && is_well;
  for (const int parts : {12, 24, 48, 100}) {
    for (const int slopes : {2, 4, 8}) {
      if (parts > most) continue;
      std::mt19937_64 random(static_cast<std::uint64_t>(1'000 * parts + slopes));
      Row row;
      for (int i = 0; i < each; ++i)
        is_well = add(random_problem(random, parts, slopes), seconds, row) && is_well;
      print(fmt::format("random, {} slopes", slopes), parts, row);
    }
  }
  return is_well ? 0 : 1;
}
