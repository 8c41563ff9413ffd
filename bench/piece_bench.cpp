// A file of 60 boards (about 20 KB) is read in 4 ms at most on one core, one of 1,000 in little
// more than its share.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include "kerfwright/piece/document.h"
#include "kerfwright/piece/edit.h"

namespace {

// A bench with `boards` boards, written the way people write: points, formulas, ends, joints,
// notes.
kw::Text bench_of(int boards) {
  std::string out =
      "format = 1\npiece = \"Garden bench\"\nunit = \"in\"\nrule = \"1/16\"\n\n"
      "[size.height]\nis = \"30\"\nfrom = \"24\"\nto = \"36\"\nnote = \"floor to the rail\"\n\n"
      "[size.lean]\nis = \"10 deg\"\n\n[derived]\nreach = \"height * tan(lean)\"\n\n"
      "[stock.leg]\nsection = \"2x4\"\nspecies = \"spruce-pine-fir\"\nrip = \"3\"\n\n[point]\n";
  for (int i = 0; i < boards; ++i) {
    out += fmt::format("foot-{0} = [\"{0} * 3 1/2\", \"-reach / 2\", \"0\"]\n", i);
    out +=
        fmt::format("head-{0} = [\"{0} * 3 1/2\", \"reach / 2 + leg.thickness\", \"height\"]\n", i);
  }
  for (int i = 0; i < boards; ++i) {
    out += fmt::format(
        "\n# board {0}\n[board.leg-{0}]\nstock = \"leg\"\nruns = [\"foot-{0}\", \"head-{0}\"]\n"
        "face = \"+x\"\nshift = [\"1/4\", \"leg.width / 2\"]\nstart = \"floor\"\n",
        i);
    if (i % 3 == 1) {
      out += fmt::format(
          "\n[joint.crossing-{0}]\nkind = \"half-lap\"\nof = [\"leg-{1}\", \"leg-{0}\"]\n"
          "ease = \"1/128\"\nfasten = \"screw-8x1-1/4\"\ncount = 2\n",
          i, i - 1);
    }
  }
  return {"bench.toml", out};
}

void read(benchmark::State& state) {
  const kw::Text text = bench_of(static_cast<int>(state.range(0)));
  if (!kw::read_piece(text).diagnostics.empty()) state.SkipWithError("the file has faults");
  for (auto _ : state) benchmark::DoNotOptimize(kw::read_piece(text));
  state.counters["bytes"] = static_cast<double>(text.content.size());
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.content.size()));
}
BENCHMARK(read)->Arg(60)->Arg(250)->Arg(1000)->Unit(benchmark::kMillisecond);

void set_a_size(benchmark::State& state) {
  const kw::Text text = bench_of(static_cast<int>(state.range(0)));
  for (auto _ : state) {
    benchmark::DoNotOptimize(kw::set_value(text, {"size", "height", "is"}, "\"31\""));
  }
}
BENCHMARK(set_a_size)->Arg(60)->Arg(1000)->Unit(benchmark::kMillisecond);

}  // namespace
