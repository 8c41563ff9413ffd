// Sheets, and boards sawn to several widths, with the cuts that take them apart.
#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"

#include "boxes.h"
#include "layout.h"
#include "lines.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double number_type = 2.2;
constexpr double figure_type = 2.2;

struct Drawing {
  const Job* job = nullptr;
  const SheetStockPlan* plan = nullptr;
  const SheetStyle* style = nullptr;
  double scale = 1;
};

// A sheet on paper: its low corner at the lower left, y up on the sheet.
struct Place {
  double left = 0, bottom = 0, scale = 1;
  [[nodiscard]] Vec2 at(Length x, Length y) const {
    return {left + x.in_mm() * scale, bottom - y.in_mm() * scale};
  }
};

std::vector<Vec2> box(const Place& place, Length x, Length y, Length length, Length width) {
  return {place.at(x, y), place.at(x + length, y), place.at(x + length, y + width),
          place.at(x, y + width)};
}

// Lines of text in the middle of a box, if they fit in it, upright or turned.
void add_in_box(Sheet& sheet, Vec2 low, Vec2 high, const std::vector<Label>& lines) {
  const double wide = std::abs(high.x - low.x) - 1, tall = std::abs(high.y - low.y) - 1;
  double longest = 0, height = 0;
  for (const Label& line : lines) {
    longest = std::max(longest, text_width(line));
    height += line.height * 1.25;
  }
  const bool is_turned = longest > wide || height > tall;
  if (is_turned && (longest > tall || height > wide)) {
    if (lines.size() > 1) add_in_box(sheet, low, high, {lines.front()});
    return;
  }
  const Vec2 middle = (low + high) * 0.5;
  double down = -height / 2;
  for (Label line : lines) {
    down += line.height * 1.0;
    line.at = is_turned ? Vec2{middle.x + down, middle.y} : Vec2{middle.x, middle.y + down};
    line.align = Align::middle;
    line.turn = is_turned ? 90 : 0;
    sheet.labels.push_back(line);
    down += line.height * 0.25;
  }
}

void draw_piece(const Drawing& d, Sheet& sheet, const Place& place, const SheetPiece& piece) {
  const auto outline = box(place, piece.x, piece.y, piece.length, piece.width);
  // A part is as the cut list prints it; of what is left no more is promised than there is.
  const auto how = piece.use == SheetPiece::Use::part ? Rounding::nearest : Rounding::down;
  const std::string size = written(round_to(piece.length, d.job->rule, how), *d.style) + " x " +
                           written(round_to(piece.width, d.job->rule, how), *d.style);
  if (piece.use == SheetPiece::Use::offcut) {
    sheet.fills.push_back({outline, 0.0, false});
    sheet.strokes.push_back({Pen::dimension, outline, true});
    add_in_box(sheet, outline[0], outline[2], {{.text = "left: " + size, .height = figure_type}});
    return;
  }
  const PartRef ref = d.plan->part_of[static_cast<std::size_t>(piece.part)];
  sheet.fills.push_back({outline, 0.12, false});
  sheet.strokes.push_back({Pen::edge, outline, true});
  add_in_box(sheet, outline[0], outline[2],
             {{.text = label_of(*d.job, ref), .height = 3.2, .is_bold = true},
              {.text = size, .height = figure_type}});
}

// A number beside its cut, as near to the cut's lower or left end as there is room, on either side.
// Where there is none, only the list of cuts tells it.
void number_cut(Sheet& sheet, Room& room, Vec2 from, Vec2 to, int number) {
  const double length = std::max(norm(to - from), 1e-9);
  const Vec2 along = (to - from) * (1 / length);
  const bool is_rip = std::abs(along.x) > std::abs(along.y);
  Label label{.text = fmt::format("{}", number), .height = number_type, .is_bold = true};
  for (double way = 0.8; way < length; way += 0.8) {
    const Vec2 at = from + along * way;
    for (const bool is_beyond : {true, false}) {
      if (is_rip) {
        label.at = {at.x, at.y + (is_beyond ? -0.8 : 2.4)};
      } else {
        label.at = {at.x + (is_beyond ? 0.8 : -0.8), at.y};
        label.align = is_beyond ? Align::left : Align::right;
      }
      if (!room.is_free(label, 0.2)) continue;
      room.add(label);
      sheet.labels.push_back(label);
      return;
    }
  }
}

void number_cuts(Sheet& sheet, const Place& place, const SawnSheet& sawn) {
  Room room(sheet);
  int number = 0;
  for (const int index : cuts_of(sawn)) {
    const SheetPiece& piece = sawn.pieces[static_cast<std::size_t>(index)];
    const bool is_rip = piece.way == SheetCut::rip;
    number_cut(
        sheet, room,
        is_rip ? place.at(piece.x, piece.y + piece.at) : place.at(piece.x + piece.at, piece.y),
        is_rip ? place.at(piece.x + piece.length, piece.y + piece.at)
               : place.at(piece.x + piece.at, piece.y + piece.width),
        ++number);
  }
}

void add_grain(Sheet& sheet, double right, double y) {
  sheet.labels.push_back(
      {.at = {right - 16, y}, .text = "grain", .height = 2.4, .align = Align::right});
  const double middle = y - 0.8;
  sheet.strokes.push_back({Pen::dimension, {{right - 15, middle}, {right, middle}}, false});
  for (const double end : {right - 15, right}) {
    const double back = end == right ? -1.8 : 1.8;
    sheet.fills.push_back(
        {{{end, middle}, {end + back, middle - 0.4}, {end + back, middle + 0.4}}, 0.9, false});
  }
}

std::string heading_of(const Drawing& d, const std::vector<int>& group) {
  const SawnSheet& sawn = d.plan->plan.sheets[static_cast<std::size_t>(group.front())];
  const SheetStock& stock = d.plan->problem.sheets[static_cast<std::size_t>(sawn.sheet)];
  std::string text =
      fmt::format("{}.  {} x {} {} x {}", group.front() + 1, group.size(), stock.name,
                  written(stock.length, *d.style), written(stock.width, *d.style));
  if (group.size() > 1) {
    text += ", sheets";
    for (const int i : group) text += fmt::format("{} {}", i == group.front() ? "" : ",", i + 1);
  }
  return text;
}

double height_of(const Drawing& d, const std::vector<int>& group) {
  const SawnSheet& sawn = d.plan->plan.sheets[static_cast<std::size_t>(group.front())];
  const SheetStock& stock = d.plan->problem.sheets[static_cast<std::size_t>(sawn.sheet)];
  return stock.width.in_mm() * d.scale;
}

void draw_sheet(const Drawing& d, Sheet& sheet, const std::vector<int>& group, double y) {
  const SawnSheet& sawn = d.plan->plan.sheets[static_cast<std::size_t>(group.front())];
  const SheetStock& stock = d.plan->problem.sheets[static_cast<std::size_t>(sawn.sheet)];
  const Place place{margin, y + height_of(d, group), d.scale};
  const auto outline = box(place, {}, {}, stock.length, stock.width);
  sheet.labels.push_back({.at = {margin, y - 1.2}, .text = heading_of(d, group), .height = 2.6});
  add_grain(sheet, std::min(std::max(outline[1].x, margin + 120), d.style->width - margin),
            y - 1.2);
  sheet.fills.push_back({outline, 0.3, true});
  for (const SheetPiece& piece : sawn.pieces) {
    if (piece.use != SheetPiece::Use::cut) draw_piece(d, sheet, place, piece);
  }
  sheet.strokes.push_back({Pen::outline, outline, true});
  number_cuts(sheet, place, sawn);
}

// As wide as the paper, and no sheet taller than most of it.
double scale_for(const SheetStockPlan& plan, const SheetStyle& style) {
  double scale = 1;
  for (const SawnSheet& sawn : plan.plan.sheets) {
    const SheetStock& stock = plan.problem.sheets[static_cast<std::size_t>(sawn.sheet)];
    scale = std::min({scale, (style.width - 2 * margin) / std::max(stock.length.in_mm(), 1.0),
                      (style.tallest - 40) / std::max(stock.width.in_mm(), 1.0)});
  }
  return scale;
}

std::string title_of(const SheetStockPlan& plan, const SheetStyle& style) {
  std::string text = fmt::format("{}: {}, kerf {}", plan.stock.name, plan.stock.stock.sold_as,
                                 written(plan.problem.kerf, style));
  const SheetTrim& trim = plan.problem.trim;
  if (trim.left > Length()) {
    text += fmt::format("; first saw {} off {}", written(trim.left, style),
                        trim.lower > Length() ? "all round" : "each end");
  }
  return text;
}

}  // namespace

std::vector<Sheet> sheet_sheets(const Job& job, const SheetStockPlan& plan,
                                const std::string& proof, const SheetStyle& style) {
  const Drawing d{&job, &plan, &style, scale_for(plan, style)};
  std::vector<Sheet> sheets;
  double y = 0;
  const auto begin = [&] {
    const std::string number = sheets.empty() ? "" : fmt::format("-{}", sheets.size() + 1);
    sheets.push_back({.name = "sawing-" + file_name_of(plan.stock) + number,
                      .title = "Sawing plan: " + plan.stock.name,
                      .width = style.width});
    y = add_wrapped(sheets.back(), {margin, margin + 3}, style.width - 2 * margin,
                    {.text = title_of(plan, style), .height = 3, .is_bold = true});
    y = add_wrapped(sheets.back(), {margin, y}, style.width - 2 * margin, {.text = proof}) + 4;
  };
  begin();
  bool is_first = true;
  for (const std::vector<int>& group : groups_of(plan.plan.sheets)) {
    const double height = height_of(d, group);
    if (!is_first && y + height + 4 > style.tallest) begin();
    draw_sheet(d, sheets.back(), group, y);
    y += height + 9;
    sheets.back().height = y - 4;
    is_first = false;
  }
  for (Sheet& sheet : sheets) merge_strokes(sheet);
  return sheets;
}

}  // namespace kw
