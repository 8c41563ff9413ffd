#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "bench_view.h"
#include "layout.h"
#include "part_views.h"
#include "words.h"

namespace kw {
namespace {

constexpr double widest = 52;  // mm of paper
constexpr double tallest = 36;
constexpr double left = 12;
constexpr double title = 5;

bool has_bevel(const Part& part) {
  return std::any_of(part.cuts.begin(), part.cuts.end(), [&](const SawCut& cut) {
    return cut.is_along && (std::abs(cut.printed_tilt.in_degrees()) > 0.05 || is_bevel(part, cut));
  });
}

bool is_shown(const Part& part, Side side) {
  const bool has_hole = std::any_of(part.holes.begin(), part.holes.end(),
                                    [&](const HoleMark& h) { return h.side == side; });
  const bool has_mark = std::any_of(part.marks.begin(), part.marks.end(), [&](const Mark& m) {
    return std::any_of(m.openings.begin(), m.openings.end(),
                       [&](const Opening& o) { return o.side == side; });
  });
  return has_hole || has_mark || (side == Side::start && has_bevel(part));
}

// Figures of an end: holes from the marked edge and from the bench, width and thickness.
struct EndTicks {
  std::vector<Tick> across = {}, up = {};
};

EndTicks ticks_of(const PartDrawing& d, Side side, double scale, Vec2 low_left) {
  const Part& part = *d.part;
  const double width = part.size.y * scale;
  const auto x_of = [&](double y) {  // seen from the hook end the marked edge is on the right
    return side == Side::start ? low_left.x + width - y * scale : low_left.x + y * scale;
  };
  EndTicks ticks;
  for (const HoleMark& hole : part.holes) {
    if (hole.side != side) continue;
    ticks.across.push_back({x_of(d.mm(hole.along)), low_left.y, d.text(hole.along)});
    ticks.up.push_back(
        {low_left.y - d.mm(hole.across) * scale, low_left.x + width, d.text(hole.across)});
  }
  for (const Mark& mark : part.marks) {
    for (const Opening& o : mark.openings) {
      if (o.side != side) continue;
      for (const int figure : {o.across_from, o.across_to}) {
        if (figure >= 0 && part.figures[static_cast<std::size_t>(figure)].way == Way::through)
          ticks.up.push_back(
              {low_left.y - d.mm(figure) * scale, low_left.x + width, d.text(figure)});
      }
    }
  }
  ticks.across.push_back({x_of(d.mm(part.width)), low_left.y, d.text(part.width)});
  ticks.up.push_back(
      {low_left.y - d.mm(part.thickness) * scale, low_left.x + width, d.text(part.thickness)});
  std::erase_if(ticks.up, [&](const Tick& t) { return t.x > low_left.y - 1e-6; });
  return ticks;
}

double add_end(Sheet& sheet, const PartDrawing& d, Side side, Vec2 corner) {
  const double from_left = corner.x;
  const double top = corner.y;
  const Part& part = *d.part;
  const double most = std::min(widest, sheet.width - 50);
  const double scale = nice_scale(d.end_share * std::min(most / std::max(part.size.y, 1.0),
                                                         tallest / std::max(part.size.z, 1.0)));
  sheet.labels.push_back({.at = {from_left, top + 2.4},
                          .text = fmt::format("{}, seen from outside, marked edge {}; scale 1:{:g}",
                                              side == Side::start ? "Hook end" : "Far end",
                                              side == Side::start ? "right" : "left", 1 / scale),
                          .height = 2.4});
  const Vec2 size = {part.size.y * scale, part.size.z * scale};
  const auto probe = ticks_of(d, side, scale, {});
  const double spill = std::max(0.0, (column_height(probe.up.size()) - size.y) / 2);
  const Vec2 low_left = {from_left, top + title + spill + size.y};
  const View view = bench_view(*d.bodies, part, look_at(side));
  draw(sheet, view, scale, low_left);
  const EndTicks ticks = ticks_of(d, side, scale, low_left);
  add_column(sheet, low_left.y, ticks.up, low_left.x + size.x + 4,
             {low_left.y - size.y - spill - 1.7, low_left.y + spill + 1.7});
  const double base = low_left.y + 4 + spill;
  if (side == Side::start) return add_running_back(sheet, low_left.x + size.x, ticks.across, base);
  return add_running(sheet, low_left.x, ticks.across, base, true);
}

}  // namespace

double add_end_views(Sheet& sheet, const PartDrawing& d, double top) {
  double y = top;
  std::vector<Side> sides;
  for (const Side side : {Side::start, Side::end}) {
    if (is_shown(*d.part, side)) sides.push_back(side);
  }
  const bool are_abreast = sides.size() > 1 && sheet.width >= 170;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const double x = left + (are_abreast && i > 0 ? sheet.width / 2 : 0);
    const double reach = add_end(sheet, d, sides[i], {x, are_abreast ? top : y}) + 3;
    y = std::max(y, reach);
  }
  return y;
}

}  // namespace kw
