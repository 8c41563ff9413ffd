#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/drawing/templates.h"

#include "arcs.h"
#include "bench_view.h"
#include "boxes.h"
#include "layout.h"
#include "tiles.h"
#include "words.h"

namespace kw {
namespace {

constexpr double margin = 6;
constexpr double head = 18;     // for the title above the outline
constexpr std::size_t two = 2;  // holes in a side before a template pays

const Shape& shape_of(const std::vector<Body>& bodies, const Part& part) {
  return *bodies[static_cast<std::size_t>(part.members.front().body)].shape;
}

bool is_end(Side side) {
  return side == Side::start || side == Side::end;
}

struct Drawn {
  Sheet* sheet = nullptr;
  Look look = {};
  Vec2 low = {};     // of the view
  Vec2 corner = {};  // where it stands on paper
  [[nodiscard]] Vec2 on_paper(Vec3 p) const {
    const Vec2 q = projected(look, p);
    return {corner.x + q.x - low.x, corner.y - (q.y - low.y)};
  }
};

struct Drilled {
  Vec2 at = {};
  const HoleMark* hole = nullptr;
};

std::vector<Drilled> holes_in(const Drawn& drawn, const Shape& shape, const Part& part, Side side) {
  std::vector<Drilled> found;
  for (const HoleMark& hole : part.holes) {
    if (hole.side != side) continue;
    const Feature& feature = shape.features[static_cast<std::size_t>(hole.feature)];
    found.push_back({drawn.on_paper(part.members.front().lie.to_bench(feature.mouth)), &hole});
  }
  return found;
}

std::string hole_text(const Part& part, const HoleMark& hole, const LengthStyle& style) {
  std::string text = "dia. " + format_length(bit_for(hole, style.unit), style);
  if (hole.depth >= 0) {
    const auto& figure = part.figures[static_cast<std::size_t>(hole.depth)];
    text += ", deep " + format_length(figure.printed, style);
  }
  if (hole.lean.in_degrees() > 0.05) text += ", leans " + format_angle(hole.lean);
  return text;
}

void add_crosses(Sheet& sheet, const std::vector<Drilled>& holes) {
  for (const Drilled& h : holes) {
    const double half = std::max(2.0, h.hole->diameter.in_mm() / 2 + 1);
    sheet.strokes.push_back({Pen::dimension, {h.at - Vec2{half, 0}, h.at + Vec2{half, 0}}, false});
    sheet.strokes.push_back({Pen::dimension, {h.at - Vec2{0, half}, h.at + Vec2{0, half}}, false});
  }
}

// What is drilled, once for each kind of hole: beside the first of them that has room. Gives what
// found no room.
std::vector<std::string> add_hole_texts(Sheet& sheet, Room& room, const Part& part,
                                        const std::vector<Drilled>& holes,
                                        const LengthStyle& style) {
  std::vector<std::string> told;
  std::vector<std::string> left_over;
  for (const Drilled& h : holes) {
    Label label{.text = hole_text(part, *h.hole, style), .height = 2.4};
    if (std::find(told.begin(), told.end(), label.text) != told.end()) continue;
    told.push_back(label.text);
    std::vector<Vec2> places;
    for (const Drilled& other : holes) {
      if (hole_text(part, *other.hole, style) != label.text) continue;
      const double out = other.hole->diameter.in_mm() / 2 + 2.5;
      for (const double lift : {0.9, -out, out + 2.0}) {
        places.push_back(other.at + Vec2{out, lift});
        places.push_back(other.at + Vec2{-out - text_width(label), lift});
      }
    }
    const std::string text = label.text;
    if (!put_if_free(sheet, room, std::move(label), places)) left_over.push_back(text);
  }
  return left_over;
}

// An arrow along the grain with its word, in the first free place; near the left end, so that a
// long part needs no page for it.
void add_grain(Sheet& sheet, Room& room, Vec2 low, Vec2 high) {
  const double half = std::min(15.0, (high.x - low.x) / 4);
  Label label{.text = "grain", .height = 2.4};
  for (const double v : {0.5, 0.35, 0.65, 0.2, 0.8}) {
    for (const double u : {0.5, 0.3, 0.7}) {
      const Vec2 at = {low.x + std::min(high.x - low.x, 150.0) * u, low.y + (high.y - low.y) * v};
      label.at = {at.x - text_width(label) / 2, at.y - 1};
      const Vec2 reach = {half, 0};
      if (!room.is_free(label) || !room.is_free(at - reach, at + reach)) continue;
      add_arrow_line(sheet, at - reach, at + reach);
      room.add(at - reach, at + reach);
      room.add(label);
      sheet.labels.push_back(label);
      return;
    }
  }
}

std::string turn_text(const Part& part) {
  return part.right > 0 ? fmt::format("; turn the paper over for the {} right hand", part.right)
                        : "";
}

}  // namespace

bool wants_outline(const Part& part) {
  const auto is_past = [](const SawCut& cut) { return !cut.is_along && !cut.other_way.empty(); };
  return part.is_curved || std::any_of(part.ends.begin(), part.ends.end(), is_past) ||
         std::any_of(part.cuts.begin(), part.cuts.end(), is_past);
}

std::vector<Side> drilled_sides(const Part& part) {
  std::vector<Side> sides;
  for (const Side side :
       {Side::front, Side::back, Side::low_edge, Side::high_edge, Side::start, Side::end}) {
    const auto count = static_cast<std::size_t>(
        std::count_if(part.holes.begin(), part.holes.end(),
                      [&](const HoleMark& hole) { return hole.side == side; }));
    const bool pays = is_end(side) ? count > 0 : count >= two && part.members.size() > 1;
    if (pays) sides.push_back(side);
  }
  return sides;
}

Sheet side_template(const std::vector<Body>& bodies, const CutList& cut_list, int part, Side side,
                    const TemplateStyle& style) {
  const Part& p = cut_list.parts[static_cast<std::size_t>(part)];
  Sheet sheet{.name = fmt::format("template-{}-{}", p.letter, static_cast<int>(side)),
              .title = fmt::format("Template for part {}, {}: {}", p.letter, p.name, name_of(side)),
              .is_full_size = true};
  const Drawn base{.sheet = &sheet, .look = look_at(side)};
  View view = bench_view(bodies, p, base.look, side == Side::front);
  Drawn drawn = base;
  drawn.low = view.low;
  const Vec2 size = view.high - view.low;
  drawn.corner = {margin, head + size.y};
  for (Arc arc : take_arcs(view, shape_of(bodies, p), bench_frame(p), base.look)) {
    arc.centre = drawn.corner + Vec2{arc.centre.x - view.low.x, view.low.y - arc.centre.y};
    arc.from = -arc.from;  // y runs down the paper
    arc.sweep = -arc.sweep;
    sheet.arcs.push_back(arc);
  }
  draw(sheet, view, 1, drawn.corner);
  const auto holes = holes_in(drawn, shape_of(bodies, p), p, side);
  add_crosses(sheet, holes);
  Label title{.at = {margin, 6},
              .text = fmt::format("{} - {}, {}", p.letter, p.name, name_of(side)),
              .height = 3.4,
              .is_bold = true};
  sheet.labels.push_back(title);
  sheet.width = std::max(size.x + 2 * margin, text_width(title) + 2 * margin);
  sheet.labels.push_back({.at = {margin, 11},
                          .text = (is_end(side) ? "bench below" : "hook end left") +
                                  fmt::format("; {}", count_text(p)) + turn_text(p),
                          .height = 2.4});
  sheet.width = std::max(sheet.width, text_width(sheet.labels.back()) + 2 * margin);
  sheet.height = head + size.y + margin;
  Room room(sheet);
  for (const auto& text : add_hole_texts(sheet, room, p, holes, style.length)) {
    sheet.height += 3.4;
    sheet.labels.push_back({.at = {margin, sheet.height - margin}, .text = text, .height = 2.4});
    sheet.width = std::max(sheet.width, text_width(sheet.labels.back()) + 2 * margin);
    room.add(sheet.labels.back());
  }
  if (!is_end(side)) add_grain(sheet, room, {margin, head}, {margin + size.x, head + size.y});
  std::vector<Tick> ticks;
  for (const Drilled& h : holes) {
    if (is_end(side)) break;
    const auto& figure = p.figures[static_cast<std::size_t>(h.hole->along)];
    ticks.push_back({h.at.x, head + size.y, format_length(figure.printed, style.length)});
  }
  if (ticks.empty()) return sheet;
  Sheet with_figures = sheet;
  with_figures.height =
      add_running(with_figures, margin, ticks, sheet.height - margin + 4, true) + margin;
  const auto pages = [&](const Sheet& s) { return tile_count({s.width, s.height}, style); };
  return pages(with_figures) > pages(sheet) ? sheet : with_figures;
}

}  // namespace kw
