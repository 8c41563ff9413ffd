// A file of 60 boards has about 500 formulas: reading and evaluating one must take a microsecond or
// so.
#include <benchmark/benchmark.h>
#include <string_view>

#include "kerfwright/measure/expression.h"
#include "kerfwright/measure/text.h"

namespace {

kw::Outcome<kw::Value> looked_up(std::string_view name, kw::Span) {
  if (name == "lean") return kw::value_of(kw::Angle::degrees(20));
  return kw::value_of(kw::Length::inches(30));
}

void parse_and_evaluate(benchmark::State& state, std::string_view text) {
  const kw::Lookup lookup = looked_up;
  for (auto _ : state) {
    const auto expression = kw::parse_expression(text, kw::LengthUnit::inch);
    benchmark::DoNotOptimize(kw::evaluate(*expression, lookup, kw::LengthUnit::inch));
  }
}
BENCHMARK_CAPTURE(parse_and_evaluate, whole, "24");
BENCHMARK_CAPTURE(parse_and_evaluate, mixed, "29 11/16");
BENCHMARK_CAPTURE(parse_and_evaluate, feet, "3' 2 3/8\"");
BENCHMARK_CAPTURE(parse_and_evaluate, difference, "height - 3/4");
BENCHMARK_CAPTURE(parse_and_evaluate, formula, "height * tan(lean) - leg.thickness / 2");

void evaluate_only(benchmark::State& state) {
  const kw::Lookup lookup = looked_up;
  const auto expression =
      kw::parse_expression("height * tan(lean) - leg.thickness / 2", kw::LengthUnit::inch);
  for (auto _ : state) {
    benchmark::DoNotOptimize(kw::evaluate(*expression, lookup, kw::LengthUnit::inch));
  }
}
BENCHMARK(evaluate_only);

void parse_length(benchmark::State& state) {
  for (auto _ : state) {
    benchmark::DoNotOptimize(kw::parse_length("3' 2 3/8\"", kw::LengthUnit::inch));
  }
}
BENCHMARK(parse_length);

void format_length(benchmark::State& state) {
  const kw::Length length = kw::Length::inches(29.6875);
  for (auto _ : state) benchmark::DoNotOptimize(kw::format_length(length));
}
BENCHMARK(format_length);

}  // namespace
