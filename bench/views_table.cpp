// How long the four views with hidden lines take, by the number of boards, on one core; all part
// sheets; and the book: its blocks, its PDF, and the two together. Prints a table of medians.
#include <algorithm>
#include <chrono>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"
#include "kerfwright/planbook/book.h"
#include "kerfwright/workbench/recompute.h"

#include "many_boards.h"

namespace {

using namespace kw;

double median_ms(int runs, const auto& work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    times.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
            .count());
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

void row(int boards) {
  ShapeCache cache;
  const Snapshot s = recompute({"piece", bench::piece_text(boards)}, built_in_catalogue(), cache);
  std::vector<Shown> shown;
  for (std::size_t i = 0; i < s.bodies.size(); ++i)
    shown.push_back({s.bodies[i].shape.get(), s.meshes[i].get(), s.bodies[i].frame});
  double all = 0;
  fmt::print("{:>6}", boards);
  for (const Look& look : {front_look(), side_look(), top_look(), isometric_look()}) {
    const double ms = median_ms(9, [&] { static_cast<void>(view_of(shown, look)); });
    all += ms;
    fmt::print(" {:>9.1f}", ms);
  }
  const double sheets = median_ms(3, [&] {
    for (std::size_t i = 0; i < s.cut_list.parts.size(); ++i)
      static_cast<void>(part_sheet(s.piece, s.bodies, s.cut_list, static_cast<int>(i), {}));
  });
  Snapshot planned = s;
  const ShopPlan plan = plan_of(planned, {.seconds = 1});
  const PlanData data = data_of(planned, plan);
  const double blocks = median_ms(3, [&] { static_cast<void>(book_of(data, {})); });
  const double pdf = median_ms(3, [&] { static_cast<void>(to_pdf(book_of(data, {}))); });
  fmt::print(" {:>9.1f} {:>9.1f} {:>9.1f} {:>9.1f} for {}\n", all, sheets, blocks, pdf,
             s.cut_list.parts.size());
}

}  // namespace

int main() {
  fmt::print("{:>6} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9}\n", "boards", "front", "side",
             "top", "isometric", "all, ms", "sheets", "blocks", "book, PDF");
  for (const int boards : {10, 60, 200}) row(boards);
}
