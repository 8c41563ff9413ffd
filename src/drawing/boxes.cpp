#include "boxes.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "arcs.h"

namespace kw {
namespace {

// DejaVu Sans: a digit is 1493 of 2048 units high, a "g" reaches 426 below the base line (glyf
// table).
constexpr double above = 1493.0 / 2048;
constexpr double below = 426.0 / 2048;

struct Span1 {
  double low = 1e300, high = -1e300;
  void add(double v) {
    low = std::min(low, v);
    high = std::max(high, v);
  }
};

// The least way to push two sets of points apart along one of the axes.
template <class A, class B>
double least_push(const A& a, const B& b, const std::vector<Vec2>& axes) {
  double least = 1e300;
  for (const Vec2& axis : axes) {
    const double n = norm(axis);
    if (n < 1e-12) continue;
    Span1 of_a, of_b;
    for (const Vec2& p : a) of_a.add(dot(axis, p) / n);
    for (const Vec2& p : b) of_b.add(dot(axis, p) / n);
    least = std::min({least, of_a.high - of_b.low, of_b.high - of_a.low});
  }
  return least;
}

Vec2 across(Vec2 v) {
  return {-v.y, v.x};
}

}  // namespace

void Rect::add(Vec2 p) {
  low = {std::min(low.x, p.x), std::min(low.y, p.y)};
  high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

bool Rect::holds(const Rect& inner) const {
  return inner.low.x >= low.x && inner.high.x <= high.x && inner.low.y >= low.y &&
         inner.high.y <= high.y;
}

bool Rect::is_near(const Rect& other, double apart) const {
  return other.low.x <= high.x + apart && other.high.x >= low.x - apart &&
         other.low.y <= high.y + apart && other.high.y >= low.y - apart;
}

Corners box_of(const Label& label) {
  const double width = text_width(label);
  const double left = label.align == Align::left     ? 0
                      : label.align == Align::middle ? -width / 2
                                                     : -width;
  const double a = label.turn * std::numbers::pi / 180;
  const Vec2 along = {std::cos(a), -std::sin(a)};
  const Vec2 up = {-std::sin(a), -std::cos(a)};
  const auto corner = [&](double x, double y) { return label.at + along * x + up * y; };
  return {corner(left, -below * label.height), corner(left + width, -below * label.height),
          corner(left + width, above * label.height), corner(left, above * label.height)};
}

Rect rect_of(const Corners& corners) {
  Rect rect;
  for (const Vec2& p : corners) rect.add(p);
  return rect;
}

double depth_of(const Corners& a, const Corners& b) {
  return least_push(a, b, {a[1] - a[0], a[3] - a[0], b[1] - b[0], b[3] - b[0]});
}

double depth_of(const Corners& box, Vec2 from, Vec2 to) {
  const std::array<Vec2, 2> line = {from, to};
  return least_push(box, line, {box[1] - box[0], box[3] - box[0], across(to - from)});
}

Room::Room(const Sheet& sheet) {
  for (const Stroke& stroke : sheet.strokes) add(stroke);
  for (const Arc& arc : sheet.arcs) add(Stroke{.points = sampled(arc)});
  for (const Fill& fill : sheet.fills) add(fill);
  for (const Label& label : sheet.labels) add(label);
}

void Room::add(Vec2 from, Vec2 to) {
  Rect rect;
  rect.add(from);
  rect.add(to);
  segments_.push_back({from, to, rect});
}

void Room::add(const Stroke& stroke) {
  for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i)
    add(stroke.points[i], stroke.points[i + 1]);
  if (stroke.is_closed && stroke.points.size() > 2)
    add(stroke.points.back(), stroke.points.front());
}

void Room::add(const Fill& fill) {
  add(Stroke{.points = fill.points, .is_closed = true});
}

void Room::add(const Label& label) {
  const Corners corners = box_of(label);
  boxes_.push_back({corners, rect_of(corners)});
}

bool Room::is_free(const Label& label, double apart) const {
  const Corners box = box_of(label);
  const Rect rect = rect_of(box);
  const auto hits_box = [&](const Box& b) {
    return rect.is_near(b.rect, apart) && depth_of(box, b.corners) > -apart;
  };
  const auto hits_line = [&](const Segment& s) {
    return rect.is_near(s.rect, apart) && depth_of(box, s.from, s.to) > -apart;
  };
  return std::none_of(boxes_.begin(), boxes_.end(), hits_box) &&
         std::none_of(segments_.begin(), segments_.end(), hits_line);
}

bool Room::is_free(Vec2 from, Vec2 to, double apart) const {
  Rect rect;
  rect.add(from);
  rect.add(to);
  return std::none_of(boxes_.begin(), boxes_.end(), [&](const Box& b) {
    return rect.is_near(b.rect, apart) && depth_of(b.corners, from, to) > -apart;
  });
}

bool Room::crosses_line(Vec2 from, Vec2 to) const {
  const auto side = [](Vec2 a, Vec2 b, Vec2 p) { return cross(b - a, p - a); };
  return std::any_of(segments_.begin(), segments_.end(), [&](const Segment& s) {
    return side(from, to, s.from) * side(from, to, s.to) <= 0 &&
           side(s.from, s.to, from) * side(s.from, s.to, to) <= 0;
  });
}

bool put_if_free(Sheet& sheet, Room& room, Label label, const std::vector<Vec2>& places,
                 double apart) {
  for (const Vec2& place : places) {
    label.at = place;
    if (!room.is_free(label, apart)) continue;
    room.add(label);
    sheet.labels.push_back(std::move(label));
    return true;
  }
  return false;
}

void put_free(Sheet& sheet, Room& room, Label label, const std::vector<Vec2>& places,
              double apart) {
  for (const Vec2& place : places) {
    label.at = place;
    if (room.is_free(label, apart)) break;
  }
  room.add(label);
  sheet.labels.push_back(std::move(label));
}

}  // namespace kw
