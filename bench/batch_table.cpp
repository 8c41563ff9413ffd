// How long a batch takes to plan, with its bound: 85 of each kind, from the piece's text to the
// cost of one. Run by hand: batch_table STARTERS [COUNT [SECONDS]]. The memory is the most that the
// process has had so far.
#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fmt/core.h>
#include <fstream>
#include <functional>
#include <iterator>
#include <sys/resource.h>

#include "kerfwright/trade/batch.h"
#include "kerfwright/workbench/recompute.h"

#include "many_boards.h"

namespace {

using namespace kw;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

// Forty kinds of part out of three stocks; `slopes` of them end at an angle.
std::string forty_parts(int slopes) {
  std::string text =
      "format = 1\npiece = \"Forty\"\nunit = \"in\"\ncurrency = \"USD\"\n"
      "[saw]\nkerf = \"1/8\"\ntrim = \"1/4\"\noffcut = \"12\"\n";
  const char* stocks[] = {"2x4", "1x4", "1x6"};
  for (int s = 0; s < 3; ++s)
    text += fmt::format(
        "[stock.s{}]\nsection = \"{}\"\nbuy = [{{ length = \"8 ft\", price = \"{}.98\" }}, {{ "
        "length = \"10 ft\", price = \"{}.35\" }}, {{ length = \"12 ft\", price = \"{}.69\" }}]\n",
        s, stocks[s], 5 + s, 7 + s, 8 + s);
  for (int i = 0; i < 40; ++i) {
    const double long_side = 9 + (i * 37 % 61) * 0.5 + i / 16.0;
    const int x = 10 * i;
    text += fmt::format("[board.b{0}]\nstock = \"s{1}\"\nface = \"front\"\n", i, i % 3);
    if (i < slopes)  // leaning posts between the floor and a level plane
      text += fmt::format(
          "runs = [[\"{0}\", \"0\", \"0\"], [\"{0} + {1}\", \"0\", \"{2}\"]]\nstart = \"floor\"\n",
          x, 2 + i % 5, long_side);
    else
      text += fmt::format("at = [\"{0}\", \"0\", \"0\"]\nalong = \"up\"\nlength = \"{1}\"\n", x,
                          long_side);
  }
  return text;
}

std::string read_file(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

struct Kind {
  Snapshot snapshot = {};
  std::vector<Setup> setups = {};
  Assembly assembly = {};
  int count = 1;
};

Kind kind_of(const Text& text, int count, ShapeCache& cache,
             const std::vector<Override>& sizes = {}) {
  Kind kind{.snapshot = recompute(text, built_in_catalogue(), cache, sizes), .count = count};
  if (has_errors(kind.snapshot.diagnostics))
    fmt::print("{}", render(text, kind.snapshot.diagnostics));
  kind.setups = setups_of(kind.snapshot.piece, kind.snapshot.cut_list);
  kind.assembly = assembly_in(kind.snapshot);
  return kind;
}

Job job_over(const std::vector<Kind>& kinds) {
  Job job = job_of(kinds[0].snapshot.piece, kinds[0].snapshot.cut_list);
  job.pieces.clear();
  for (const Kind& kind : kinds)
    job.pieces.push_back({&kind.snapshot.piece, &kind.snapshot.cut_list, kind.count});
  return job;
}

trade::Cost cost_in(const Job& job, const Sawing& sawing, const std::vector<Kind>& kinds) {
  std::vector<trade::PieceShop> shop;
  for (const Kind& kind : kinds) shop.push_back({&kind.setups, &kind.assembly, {}});
  const trade::Work work = trade::work_of(job, sawing, shop);
  const trade::CostAsked asked{.job = &job,
                               .sawing = &sawing,
                               .time = trade::estimate_of(trade::learn({}), work).value,
                               .work = work};
  return trade::cost_of(asked, {.wage = {2'500}}, built_in_catalogue()).value;
}

void print_plan(const std::string& name, const Job& job, const Sawing& sawing) {
  std::size_t lines = 0;
  int parts = 0, boards = 0, proved = 0;
  for (const JobPiece& piece : job.pieces) {
    lines += piece.cut_list->parts.size();
    for (const Part& part : piece.cut_list->parts)
      parts += static_cast<int>(part.members.size()) * piece.count;
  }
  for (const BuyLine& line : buying_list_of(job, sawing)) boards += line.count;
  Money cost, bound;
  const auto add = [&](const auto& plan) {
    cost = cost + plan.cost, bound = bound + plan.bound, proved += plan.is_proved;
  };
  for (const StockPlan& p : sawing.plans) add(p.plan);
  for (const SheetStockPlan& p : sawing.sheets) add(p.plan);
  const double gap = cost.coins > 0 ? 100.0 * static_cast<double>((cost - bound).coins) /
                                          static_cast<double>(cost.coins)
                                    : 0;
  fmt::print("{:<14} {:>5} {:>6} {:>6} {:>10} {:>10} {:>7.3f} {:>4}/{:<3}", name, lines, parts,
             boards, cost.coins, bound.coins, gap, proved,
             sawing.plans.size() + sawing.sheets.size());
}

void row(const std::string& name, const std::function<std::vector<Kind>()>& make, double seconds) {
  const auto start = Clock::now();
  const std::vector<Kind> kinds = make();
  const Job job = job_over(kinds);
  const auto plan_start = Clock::now();
  const Sawing sawing = saw(job, {.seconds = seconds}).value;
  const double planned = seconds_since(plan_start);
  const trade::Cost cost = cost_in(job, sawing, kinds);
  rusage usage = {};
  ::getrusage(RUSAGE_SELF, &usage);
  print_plan(name, job, sawing);
  fmt::print(" {:>7.2f} {:>7.2f} {:>5}{}\n", planned, seconds_since(start), usage.ru_maxrss / 1024,
             sawing.is_whole && cost.pieces > 0 ? "" : "  not whole");
}

}  // namespace

int main(int argc, char** argv) {
  const std::filesystem::path folder = argc > 1 ? argv[1] : "starters";
  const int count = argc > 2 ? std::stoi(argv[2]) : 85;
  const double seconds = argc > 3 ? std::stod(argv[3]) : 9;
  fmt::print("{:<14} {:>5} {:>6} {:>6} {:>10} {:>10} {:>7} {:>8} {:>7} {:>7} {:>5}\n", "kind",
             "lines", "parts", "boards", "cost", "bound", "gap %", "proved", "plan s", "all s",
             "MB");
  const auto alike = [&](const std::string& name, const std::string& text) {
    row(
        name,
        [&] {
          ShapeCache cache;
          std::vector<Kind> kinds;
          kinds.push_back(kind_of({name, text}, count, cache));
          return kinds;
        },
        seconds);
  };
  alike("forty square", forty_parts(0));
  alike("forty, 12 lean", forty_parts(12));
  alike("bays of forty", bench::piece_text(40));
  // As many orders of a bench, hardly two of them in one size.
  row(
      "mixed benches",
      [&] {
        const Text text{"garden-bench", read_file(folder / "garden-bench.toml")};
        ShapeCache cache;
        std::vector<Kind> kinds;
        for (int n = 0; n < count; ++n)
          kinds.push_back(kind_of(text, 1, cache,
                                  {{"width", fmt::format("{}", 36 + (n * 7 % 64) / 4.0)},
                                   {"seat", fmt::format("{}", 16 + n % 7 / 2.0)}}));
        return kinds;
      },
      seconds);
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  for (const auto& file : files) alike(file.stem().string(), read_file(file));
  return 0;
}
