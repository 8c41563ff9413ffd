#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"

#include "layout.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double row = 17;  // from stick to stick
constexpr double bar = 8;   // height of a stick on paper

bool is_same(const SawnStick& a, const SawnStick& b) {
  return a.stock == b.stock && std::equal(a.parts.begin(), a.parts.end(), b.parts.begin(),
                                          b.parts.end(), [](const Placed& p, const Placed& q) {
                                            return p.demand == q.demand && p.from == q.from &&
                                                   p.flipped == q.flipped && p.turned == q.turned;
                                          });
}

struct Row {
  const SawnStick* stick = nullptr;
  int count = 0;
};

std::vector<Row> rows_of(const Plan& plan) {
  std::vector<Row> rows;
  for (const SawnStick& stick : plan.sticks) {
    const auto same = std::find_if(rows.begin(), rows.end(),
                                   [&](const Row& r) { return is_same(*r.stick, stick); });
    if (same == rows.end()) {
      rows.push_back({&stick, 1});
    } else {
      ++same->count;
    }
  }
  return rows;
}

struct Drawing {
  Sheet* sheet = nullptr;
  const StockProblem* problem = nullptr;
  const CutList* list = nullptr;
  const SheetStyle* style = nullptr;
  double scale = 1;
};

// Slopes of a part's two ends as it lies on the stick.
std::pair<double, double> slopes_of(const Demand& demand, const Placed& placed) {
  double left = demand.left_slope;
  double right = demand.right_slope;
  if (placed.turned) std::swap(left, right);
  return placed.flipped ? std::pair{-left, -right} : std::pair{left, right};
}

void draw_part(const Drawing& d, const Placed& placed, double y) {
  const Demand& demand = d.problem->problem.demands[static_cast<std::size_t>(placed.demand)];
  const Part& part = d.list->parts[static_cast<std::size_t>(
      d.problem->part_of_demand[static_cast<std::size_t>(placed.demand)])];
  const auto [left, right] = slopes_of(demand, placed);
  const double half =
      d.problem->problem.width.in_mm() / 2 * d.scale;  // of the run of a slope, along the stick
  const double x0 = margin + placed.from.in_mm() * d.scale;
  const double x1 = x0 + demand.length.in_mm() * d.scale;
  const std::vector<Vec2> outline = {{x0 - left * half, y + bar},
                                     {x1 - right * half, y + bar},
                                     {x1 + right * half, y},
                                     {x0 + left * half, y}};
  d.sheet->fills.push_back({outline, 0.12, false});
  d.sheet->strokes.push_back({Pen::edge, outline, true});
  const double room = x1 - x0 - (std::abs(left) + std::abs(right)) * half - 1;
  Label name{.at = {(x0 + x1) / 2, y + bar / 2 + 1.2},
             .text = part.letter,
             .height = 3.2,
             .align = Align::middle,
             .is_bold = true};
  if (text_width(name) < room) d.sheet->labels.push_back(name);
  Label length{.at = {(x0 + x1) / 2, y + bar + 3.2},
               .text = figure_text(part, part.length, *d.style),
               .height = 2.2,
               .align = Align::middle};
  if (text_width(length) < x1 - x0) d.sheet->labels.push_back(length);
}

void draw_stick(const Drawing& d, const Row& r, double y) {
  const Stock& stock = d.problem->problem.stocks[static_cast<std::size_t>(r.stick->stock)];
  const double length = stock.length.in_mm() * d.scale;
  const std::vector<Vec2> box = {
      {margin, y}, {margin + length, y}, {margin + length, y + bar}, {margin, y + bar}};
  d.sheet->fills.push_back({box, 0.3, true});
  std::string heading =
      fmt::format("{} x {} {}", r.count, stock.name, written(stock.length, *d.style));
  if (r.stick->offcut > Length())
    heading += fmt::format(
        ", leaves {}", written(round_to(r.stick->offcut, d.list->rule, Rounding::down), *d.style));
  d.sheet->labels.push_back({.at = {margin, y - 1}, .text = heading, .height = 2.6});
  for (const Placed& placed : r.stick->parts) draw_part(d, placed, y);
  d.sheet->strokes.push_back({Pen::outline, box, true});
}

}  // namespace

Sheet sawing_sheet(const Resolved& piece, const CutList& cut_list, const StockPlan& stock_plan,
                   const std::string& proof, const SheetStyle& style) {
  const StockProblem& problem = stock_plan.problem;
  const Plan& plan = stock_plan.plan;
  const auto& stock = piece.stocks[static_cast<std::size_t>(problem.stock)];
  Sheet sheet{
      .name = "sawing-" + stock.name, .title = "Sawing plan: " + stock.name, .width = style.width};
  Length longest;
  for (const SawnStick& stick : plan.sticks) {
    longest =
        std::max(longest, problem.problem.stocks[static_cast<std::size_t>(stick.stock)].length);
  }
  const Drawing d{&sheet, &problem, &cut_list, &style,
                  (style.width - 2 * margin) / std::max(longest.in_mm(), 1.0)};
  std::string heading = fmt::format("{}: {}, kerf {}", stock.name, stock.sold_as,
                                    written(problem.problem.saw.kerf, style));
  if (problem.strips_per_board > 1) {
    heading += fmt::format("; rip each board into {} strips of {} first", problem.strips_per_board,
                           written(problem.strip_width, style));
  } else if (stock.used.width != stock.bought.width) {
    heading += fmt::format("; ripped to {}", written(stock.used.width, style));
  }
  double y = add_wrapped(sheet, {margin, margin + 3}, style.width - 2 * margin,
                         {.text = heading, .height = 3, .is_bold = true});
  y = add_wrapped(sheet, {margin, y}, style.width - 2 * margin, {.text = proof}) + 4;
  for (const Row& r : rows_of(plan)) {
    draw_stick(d, r, y);
    y += row;
  }
  sheet.height = y;
  return sheet;
}

}  // namespace kw
