// How long a piece takes from its text to cut list, clashes and meshes, on one core: whole, after
// an edit of one board, and after an edit of a size that moves half the boards. Prints a table of
// medians.
#include <algorithm>
#include <chrono>
#include <fmt/core.h>
#include <tuple>

#include "kerfwright/workbench/recompute.h"

#include "many_boards.h"

namespace {

using namespace kw;

double milliseconds(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

double median(std::vector<double> times) {
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

// The median time to go from `text` to each of its two variants in turn, with one cache kept.
double edits(const std::string& a, const std::string& b, int runs) {
  ShapeCache cache;
  static_cast<void>(recompute({"piece", a}, built_in_catalogue(), cache));
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    times.push_back(milliseconds([&] {
      static_cast<void>(recompute({"piece", i % 2 == 0 ? b : a}, built_in_catalogue(), cache));
    }));
  }
  return median(times);
}

void row(int boards) {
  const std::string text = bench::piece_text(boards);
  const int runs = std::max(5, 600 / boards);
  std::vector<double> whole;
  Snapshot last;
  for (int i = 0; i < runs; ++i) {
    ShapeCache cache;
    whole.push_back(milliseconds([&] {
      last = recompute({"piece", text}, built_in_catalogue(), cache);
    }));
  }
  const std::string one_board = replaced(text, "at = [\"0 * pitch\", \"12\", \"height\"]",
                                         "at = [\"0 * pitch\", \"12 1/8\", \"height\"]");
  const std::string one_shape =
      replaced(text, "along = \"2\"\nacross = \"0\"", "along = \"2 1/4\"\nacross = \"0\"");
  const std::string size =
      replaced(text, "[size.height]\nis = \"36\"", "[size.height]\nis = \"36 1/2\"");
  fmt::print(
      "{:>6} {:>9} {:>8} {:>10.1f} {:>13.2f} {:>13.2f} {:>10.2f}   {} faults, {} parts, {} "
      "clashes\n",
      boards, text.size(), last.bodies.size(), median(whole), edits(text, one_board, runs),
      edits(text, one_shape, runs), edits(text, size, runs), last.diagnostics.size(),
      last.cut_list.parts.size(), last.clashes.size());
}

}  // namespace

int main() {
  static_cast<void>(built_in_catalogue());
  fmt::print("{:>6} {:>9} {:>8} {:>10} {:>13} {:>13} {:>10}\n", "boards", "bytes", "bodies",
             "whole, ms", "board moved", "board changed", "size");
  for (const int boards : {10, 60, 200, 500, 1000}) row(boards);
}
