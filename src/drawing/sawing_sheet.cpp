#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"

#include "layout.h"
#include "lines.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double row = 19;  // from stick to stick
constexpr double bar = 8;   // height of a stick on paper

struct Drawing {
  const Job* job = nullptr;
  const StockPlan* plan = nullptr;
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

// The stop at which each part of a stick is sawn off.
std::vector<std::string> stops_on(const Sequence& sequence, int stick, std::size_t parts) {
  std::vector<std::string> stops(parts);
  for (std::size_t s = 0; s < sequence.settings.size(); ++s) {
    for (const SawnOff& off : sequence.settings[s].cuts) {
      if (off.stick == stick) stops[static_cast<std::size_t>(off.part)] = stop_name(s);
    }
  }
  return stops;
}

// The largest type in which the name fits between the ends, upright or turned; none when none does.
void add_name(Sheet& sheet, const std::string& text, Vec2 middle, double room) {
  Label name{.at = {middle.x, middle.y + 1.2},
             .text = text,
             .height = 3.2,
             .align = Align::middle,
             .is_bold = true};
  if (text_width(name) < room) {
    sheet.labels.push_back(name);
    return;
  }
  name.height = 2.4;
  name.turn = 90;
  name.at = {middle.x + 0.9, middle.y};
  if (room > 2.2 && text_width(name) < bar - 1) sheet.labels.push_back(name);
}

void draw_part(const Drawing& d, Sheet& sheet, const Placed& placed, const std::string& stop,
               double y) {
  const StockProblem& problem = d.plan->problem;
  const Demand& demand = problem.problem.demands[static_cast<std::size_t>(placed.demand)];
  const PartRef ref = problem.part_of_demand[static_cast<std::size_t>(placed.demand)];
  const Part& part = part_of(*d.job, ref);
  const auto [left, right] = slopes_of(demand, placed);
  const double half =
      problem.problem.width.in_mm() / 2 * d.scale;  // of the run of a slope, along the stick
  const double x0 = margin + placed.from.in_mm() * d.scale;
  const double x1 = x0 + demand.length.in_mm() * d.scale;
  const std::vector<Vec2> outline = {{x0 - left * half, y + bar},
                                     {x1 - right * half, y + bar},
                                     {x1 + right * half, y},
                                     {x0 + left * half, y}};
  sheet.fills.push_back({outline, 0.12, false});
  sheet.strokes.push_back({Pen::edge, outline, true});
  const double room = x1 - x0 - (std::abs(left) + std::abs(right)) * half - 1;
  add_name(sheet, label_of(*d.job, ref), {(x0 + x1) / 2, y + bar / 2}, room);
  Label below{.at = {(x0 + x1) / 2, y + bar + 3.2},
              .text = figure_text(part, part.length, *d.style) + " " + stop,
              .height = 2.2,
              .align = Align::middle};
  if (text_width(below) >= x1 - x0 - 0.5) below.text = stop;
  if (text_width(below) < x1 - x0 - 0.5) sheet.labels.push_back(below);
}

std::string heading_of(const Drawing& d, const StickGroup& group) {
  const StockProblem& problem = d.plan->problem;
  const SawnStick& stick = d.plan->plan.sticks[static_cast<std::size_t>(group.sticks.front())];
  const Stock& stock = problem.problem.stocks[static_cast<std::size_t>(stick.stock)];
  const int first = group.sticks.front() + 1;
  std::string text =
      fmt::format("{} x {} {}", group.sticks.size(), stock.name, written(stock.length, *d.style));
  if (!stock.faults.empty()) text += ", crossed out where it is faulty";
  if (group.sticks.size() == 1) {
    text = fmt::format("{}.  {}", first, text);
  } else {
    text = fmt::format("{} to {}.  {}", first, group.sticks.back() + 1, text);
  }
  if (stick.offcut > Length()) {
    text += fmt::format(", leaves {}",
                        written(round_to(stick.offcut, d.job->rule, Rounding::down), *d.style));
  }
  return text;
}

void draw_fault(const Drawing& d, Sheet& sheet, const FaultyZone& zone, double y) {
  const double x0 = margin + zone.from.in_mm() * d.scale;
  const double x1 = margin + (zone.from + zone.length).in_mm() * d.scale;
  sheet.strokes.push_back({Pen::edge, {{x0, y}, {x1, y}, {x1, y + bar}, {x0, y + bar}}, true});
  sheet.strokes.push_back({Pen::edge, {{x0, y}, {x1, y + bar}}, false});
  sheet.strokes.push_back({Pen::edge, {{x0, y + bar}, {x1, y}}, false});
}

void draw_stick(const Drawing& d, Sheet& sheet, const StickGroup& group, double y) {
  const int index = group.sticks.front();
  const SawnStick& stick = d.plan->plan.sticks[static_cast<std::size_t>(index)];
  const Stock& stock = d.plan->problem.problem.stocks[static_cast<std::size_t>(stick.stock)];
  const double length = stock.length.in_mm() * d.scale;
  const std::vector<Vec2> box = {
      {margin, y}, {margin + length, y}, {margin + length, y + bar}, {margin, y + bar}};
  sheet.fills.push_back({box, 0.3, true});
  sheet.labels.push_back({.at = {margin, y - 1}, .text = heading_of(d, group), .height = 2.6});
  for (const FaultyZone& zone : stock.faults) draw_fault(d, sheet, zone, y);
  const auto stops = stops_on(d.plan->sequence, index, stick.parts.size());
  for (std::size_t i = 0; i < stick.parts.size(); ++i)
    draw_part(d, sheet, stick.parts[i], stops[i], y);
  sheet.strokes.push_back({Pen::outline, box, true});
}

std::string title_of(const StockProblem& problem, const SheetStyle& style) {
  const ResolvedStock& stock = problem.stock.stock;
  std::string text = fmt::format("{}: {}, kerf {}", problem.stock.name, stock.sold_as,
                                 written(problem.problem.saw.kerf, style));
  if (problem.is_ripped_after) {
    text += "; crosscut, then rip each part to its width";
  } else if (problem.strips_per_board > 1) {
    text += fmt::format("; rip each board into {} strips of {} first", problem.strips_per_board,
                        written(problem.strip_width, style));
  } else if (stock.used.width != stock.bought.width) {
    text += fmt::format("; ripped to {}", written(stock.used.width, style));
  }
  return text;
}

}  // namespace

std::vector<Sheet> sawing_sheets(const Job& job, const StockPlan& plan, const std::string& proof,
                                 const SheetStyle& style) {
  const StockProblem& problem = plan.problem;
  Length longest;
  for (const SawnStick& stick : plan.plan.sticks) {
    longest =
        std::max(longest, problem.problem.stocks[static_cast<std::size_t>(stick.stock)].length);
  }
  const Drawing d{&job, &plan, &style, (style.width - 2 * margin) / std::max(longest.in_mm(), 1.0)};
  std::vector<Sheet> sheets;
  double y = 0;
  const auto begin = [&] {
    const std::string number = sheets.empty() ? "" : fmt::format("-{}", sheets.size() + 1);
    sheets.push_back({.name = "sawing-" + file_name_of(problem.stock) + number,
                      .title = "Sawing plan: " + problem.stock.name,
                      .width = style.width});
    y = add_wrapped(sheets.back(), {margin, margin + 3}, style.width - 2 * margin,
                    {.text = title_of(problem, style), .height = 3, .is_bold = true});
    y = add_wrapped(sheets.back(), {margin, y}, style.width - 2 * margin, {.text = proof}) + 4;
  };
  begin();
  for (const StickGroup& group : groups_of(plan.plan.sticks)) {
    if (y + row > style.tallest) begin();
    draw_stick(d, sheets.back(), group, y);
    y += row;
    sheets.back().height = y;
  }
  for (Sheet& sheet : sheets) merge_strokes(sheet);
  return sheets;
}

}  // namespace kw
