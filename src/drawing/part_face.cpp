#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <numbers>

#include "bench_view.h"
#include "boxes.h"
#include "layout.h"
#include "part_views.h"
#include "words.h"

namespace kw {
namespace {

constexpr double least_for_arc = 5;  // mm of paper: a lower face has its angle in letters only
constexpr double gap = 4;            // between a view and its base lines
constexpr double type = 2.6;

const Shape& shape_of(const PartDrawing& d) {
  return *(*d.bodies)[static_cast<std::size_t>(d.part->members.front().body)].shape;
}

// The ticks of the figures along x that belong to one edge of the upper face.
std::vector<Tick> ticks_of(const PartDrawing& d, bool is_marked_edge, double edge_y) {
  const Part& part = *d.part;
  std::vector<Tick> ticks;
  const auto add = [&](int figure) {
    if (figure < 0 || d.mm(figure) < -1e-6) return;
    ticks.push_back({d.x0 + d.mm(figure) * d.scale, edge_y, d.text(figure)});
  };
  for (const SawCut& cut : part.ends) add(is_marked_edge ? cut.on_edge : cut.off_edge);
  for (const SawCut& cut : part.cuts) {
    if (!cut.is_along) add(is_marked_edge ? cut.on_edge : cut.off_edge);
    if (cut.is_along && is_marked_edge && !is_bevel(part, cut)) {
      add(cut.from_along);
      add(cut.to_along);
    }
  }
  for (const Mark& mark : part.marks) {
    for (const Opening& o : mark.openings) {
      if (o.side == Side::front || o.side == Side::back) {
        add(is_marked_edge ? o.near_from : o.far_from);
        add(is_marked_edge ? o.near_to : o.far_to);
      } else if (o.side == (is_marked_edge ? Side::low_edge : Side::high_edge)) {
        add(o.near_from);
        add(o.near_to);
      }
    }
  }
  if (!is_marked_edge) return ticks;
  for (const HoleMark& hole : part.holes) {
    if (hole.side != Side::start && hole.side != Side::end) add(hole.along);
  }
  add(part.length);
  return ticks;
}

// Figures across the face, from the marked edge.
std::vector<Tick> across_of(const PartDrawing& d, double bottom) {
  const Part& part = *d.part;
  std::vector<Tick> ticks;
  const auto add = [&](int figure) {
    if (figure < 0 || d.mm(figure) < -1e-6) return;
    ticks.push_back({bottom - d.mm(figure) * d.scale, d.right(), d.text(figure)});
  };
  for (const HoleMark& hole : part.holes) {
    if (hole.side == Side::front || hole.side == Side::back) add(hole.across);
  }
  for (const Mark& mark : part.marks) {
    for (const Opening& o : mark.openings) {
      if (o.side != Side::front && o.side != Side::back) continue;
      add(o.across_from);
      add(o.across_to);
    }
  }
  for (const SawCut& cut : part.cuts) {
    if (!cut.is_along) continue;
    if (cut.from_along >= 0) add(cut.from_across);
    if (cut.from_along >= 0) add(cut.to_across);
  }
  add(part.width);
  std::erase_if(ticks, [&](const Tick& t) { return t.x > bottom - 1e-6; });  // the edge itself
  return ticks;
}

std::size_t different(std::vector<Tick> ticks) {
  std::sort(ticks.begin(), ticks.end(), [](const Tick& a, const Tick& b) { return a.x < b.x; });
  const auto last = std::unique(ticks.begin(), ticks.end(), [](const Tick& a, const Tick& b) {
    return std::abs(a.x - b.x) < 1e-6 && a.text == b.text;
  });
  return static_cast<std::size_t>(last - ticks.begin());
}

bool says_more(const std::vector<Tick>& far, const std::vector<Tick>& near) {
  return std::any_of(far.begin(), far.end(), [&](const Tick& f) {
    return std::none_of(near.begin(), near.end(), [&](const Tick& n) { return n.text == f.text; });
  });
}

std::string angle_text(Angle angle) {
  const double degrees = std::abs(angle.in_degrees());
  return degrees < 0.05 ? "" : format_angle(Angle::degrees(degrees));
}

double angle_room(Angle angle) {
  const auto text = angle_text(angle);
  return text.empty() ? 0 : text_width({.text = text, .height = type}) + 3;
}

// The angle of an end: the line square to the edge at the long point, the arc, the figure outside.
void add_swing(Sheet& sheet, const PartDrawing& d, bool is_hook, Vec2 y_range) {
  const SawCut& cut = d.part->ends[is_hook ? 0 : 1];
  const auto text = angle_text(cut.printed_swing);
  if (text.empty()) return;
  const double x = is_hook ? d.x0 : d.right();
  const double outward = is_hook ? -1 : 1;
  const double height = y_range.y - y_range.x;
  if (height >= least_for_arc) {
    const bool is_long_at_marked_edge = cut.swing.in_degrees() > 0;
    const Vec2 corner = {x, is_long_at_marked_edge ? y_range.y : y_range.x};
    const double way = is_long_at_marked_edge ? -1 : 1;  // of the square line, on paper
    const double radius = std::min(14.0, height * 0.75);
    sheet.strokes.push_back(
        {Pen::dimension, {corner, corner + Vec2{0, way * (radius + 1.5)}}, false});
    Stroke arc{Pen::dimension, {}, false};
    const double whole = std::abs(cut.swing.in_degrees()) * std::numbers::pi / 180;
    for (int i = 0; i <= 16; ++i) {
      const double a = whole * i / 16;
      arc.points.push_back(corner + Vec2{-outward * std::sin(a), way * std::cos(a)} * radius);
    }
    sheet.strokes.push_back(std::move(arc));
  }
  Room room(sheet);
  const Label label{.text = text, .height = type, .align = is_hook ? Align::right : Align::left};
  std::vector<Vec2> places;
  for (int i = 0; i < 24; ++i) {
    const double off = (i % 2 == 0 ? -1 : 1) * ((i + 1) / 2) * 0.8;
    places.push_back({x + outward * 1.5, (y_range.x + y_range.y) / 2 + type * 0.36 + off});
  }
  put_free(sheet, room, label, places, 0.2);
}

// Cross lines through the holes of the face.
void add_centres(Sheet& sheet, const PartDrawing& d, double bottom) {
  for (const HoleMark& hole : d.part->holes) {
    if (hole.side != Side::front && hole.side != Side::back) continue;
    const auto& feature = shape_of(d).features[static_cast<std::size_t>(hole.feature)];
    const Vec3 mouth = d.part->members.front().lie.to_bench(feature.mouth);
    const Vec2 at = {d.x0 + mouth.x * d.scale, bottom - mouth.y * d.scale};
    const double half = hole.diameter.in_mm() / 2 * d.scale + 0.8;
    sheet.strokes.push_back({Pen::centre, {at - Vec2{half, 0}, at + Vec2{half, 0}}, false});
    sheet.strokes.push_back({Pen::centre, {at - Vec2{0, half}, at + Vec2{0, half}}, false});
  }
}

// Letters of the boards that go into the notches, where they have room.
void add_partners(Sheet& sheet, Room& room, const PartDrawing& d, double bottom) {
  for (const Mark& mark : d.part->marks) {
    const auto letter = letter_of_board(*d.piece, *d.bodies, *d.list, mark.partner);
    if (letter.empty()) continue;
    for (const Opening& o : mark.openings) {
      if (o.side != Side::front || o.outline.empty()) continue;
      Vec2 middle;
      for (const Vec3& p : o.outline)
        middle = middle + Vec2{p.x, p.y} * (1.0 / static_cast<double>(o.outline.size()));
      Label label{.text = letter, .height = 2.8, .align = Align::middle, .is_bold = true};
      const Vec2 at = {d.x0 + middle.x * d.scale, bottom - middle.y * d.scale + 1};
      put_if_free(sheet, room, label, {at, at + Vec2{0, 3}, at - Vec2{0, 3}});
    }
  }
}

// The way of the grain, where it has room.
void add_grain(Sheet& sheet, Room& room, const PartDrawing& d, Vec2 y_range) {
  const double length = d.right() - d.x0;
  const double half = std::min(9.0, length / 5);
  Label label{.text = "grain", .height = 2.2, .align = Align::middle};
  for (const double v : {0.5, 0.3, 0.75}) {
    for (const double u : {0.5, 0.3, 0.7, 0.2, 0.8, 0.4, 0.6}) {
      const Vec2 at = {d.x0 + length * u, y_range.x + (y_range.y - y_range.x) * v};
      const Vec2 reach = {half, 0};
      label.at = at - Vec2{0, 0.9};
      const bool has_height = at.y + 1 < y_range.y && at.y - 3 > y_range.x;
      if (!has_height || !room.is_free(label) || !room.is_free(at - reach, at + reach) ||
          room.crosses_line(at - reach, at + reach))
        continue;
      add_arrow_line(sheet, at - reach, at + reach);
      room.add(at - reach, at + reach);
      room.add(label);
      sheet.labels.push_back(label);
      return;
    }
  }
}

}  // namespace

std::string PartDrawing::text(int figure) const {
  return figure_text(*part, figure, *style);
}

double PartDrawing::mm(int figure) const {
  return part->figures[static_cast<std::size_t>(figure)].exact.in_mm();
}

double room_left(const PartDrawing& d) {
  const double tilt = angle_text(d.part->ends[0].printed_tilt).empty() ? 0 : 18;
  return std::max({4.0, angle_room(d.part->ends[0].printed_swing) + 1, tilt});
}

double room_right(const PartDrawing& d) {
  const double tilt = angle_text(d.part->ends[1].printed_tilt).empty() ? 0 : 16;
  const double face =
      angle_room(d.part->ends[1].printed_swing) + gap + 6.2 + widest_of(across_of(d, 0));
  const double edge =
      tilt + gap + 3 + text_width({.text = d.text(d.part->thickness), .height = type});
  return std::max(face, edge) + 1;
}

double nice_scale(double most) {
  for (const double one_to :
       {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0}) {
    if (1 / one_to <= most) return 1 / one_to;
  }
  return most;
}

double add_face_view(Sheet& sheet, const PartDrawing& d, double top) {
  const View view = bench_view(*d.bodies, *d.part, look_at(Side::front));
  const double height = d.part->size.y * d.scale;
  const auto probe = across_of(d, 0);
  const double spill = std::max(0.0, (column_height(different(probe)) - height) / 2);
  double y = top + spill;
  const auto far_probe = ticks_of(d, false, 0);
  const bool has_far = says_more(far_probe, ticks_of(d, true, 0));
  if (has_far) {
    y += widest_of(far_probe) + 12;
    add_running(sheet, d.x0, ticks_of(d, false, y), y - gap - spill, false);
  }
  const double bottom = y + height;
  draw(sheet, view, d.scale, {d.x0 + view.low.x * d.scale, bottom - view.low.y * d.scale});
  add_centres(sheet, d, bottom);
  const double base_x = d.right() + angle_room(d.part->ends[1].printed_swing) + gap;
  add_column(sheet, bottom, across_of(d, bottom), base_x, {y - spill - 1.7, bottom + spill + 1.7});
  const double end =
      add_running(sheet, d.x0, ticks_of(d, true, bottom), bottom + gap + spill, true);
  add_swing(sheet, d, true, {y, bottom});
  add_swing(sheet, d, false, {y, bottom});
  Room room(sheet);
  add_partners(sheet, room, d, bottom);
  add_grain(sheet, room, d, {y, bottom});
  return end;
}

double add_edge_view(Sheet& sheet, const PartDrawing& d, double top) {
  const View view = bench_view(*d.bodies, *d.part, look_at(Side::low_edge));
  const double bottom = top + d.part->size.z * d.scale;
  draw(sheet, view, d.scale, {d.x0 + view.low.x * d.scale, bottom - view.low.y * d.scale});
  const double middle = (top + bottom) / 2 + type * 0.36;
  const auto tilt = [&](const SawCut& cut, double x, Align align) {
    const auto text = angle_text(cut.printed_tilt);
    if (text.empty()) return 0.0;
    sheet.labels.push_back(
        {.at = {x, middle}, .text = "tilt " + text, .height = type, .align = align});
    return text_width(sheet.labels.back()) + 1.5;
  };
  tilt(d.part->ends[0], d.x0 - 1.5, Align::right);
  const double out = tilt(d.part->ends[1], d.right() + 1.5, Align::left);
  add_column(sheet, bottom, {{top, d.right() + out, d.text(d.part->thickness)}},
             d.right() + out + gap, {top - 2, bottom + 2});
  std::vector<Tick> depths;
  for (const Mark& mark : d.part->marks) {
    if (mark.depth < 0 || (mark.depth_from != Side::front && mark.depth_from != Side::back))
      continue;
    double low = 1e300;
    double high = -1e300;
    for (const Opening& o : mark.openings) {
      for (const Vec3& p : o.outline) {
        low = std::min(low, p.x);
        high = std::max(high, p.x);
      }
    }
    if (low > high) continue;
    depths.push_back({d.x0 + (low + high) / 2 * d.scale, bottom, d.text(mark.depth) + " deep"});
  }
  return add_fan(sheet, depths, bottom + 1);
}

}  // namespace kw
