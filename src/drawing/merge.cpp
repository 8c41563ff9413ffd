#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "lines.h"

namespace kw {
namespace {

constexpr double same_angle = 1e-6;   // radians
constexpr double same_offset = 2e-3;  // mm
constexpr double too_short = 1e-3;    // mm

struct Item {
  double angle = 0, offset = 0, from = 0, to = 0;
  int line = 0;
};

double angle_of(const ViewLine& line) {
  double a = std::atan2(line.to.y - line.from.y, line.to.x - line.from.x);
  if (a <= -std::numbers::pi / 2 + same_angle) a += std::numbers::pi;
  if (a > std::numbers::pi / 2 + same_angle) a -= std::numbers::pi;
  return a;
}

// Ends of runs in which a neighbour is no further than `tolerance` in `key`.
template <class Key>
std::vector<std::size_t> run_ends(const std::vector<Item>& items, std::size_t begin,
                                  std::size_t end, double tolerance, Key key) {
  std::vector<std::size_t> ends;
  for (std::size_t i = begin + 1; i < end; ++i) {
    if (key(items[i]) - key(items[i - 1]) > tolerance) ends.push_back(i);
  }
  ends.push_back(end);
  return ends;
}

// The strongest of the items that cover [from, to]; -1 when none does.
int strongest_over(const std::vector<Item>& items, const std::vector<ViewLine>& lines, double from,
                   double to) {
  int best = -1;
  for (const Item& item : items) {
    if (item.from > from + too_short / 2 || item.to < to - too_short / 2) continue;
    const Pen pen = lines[static_cast<std::size_t>(item.line)].pen;
    if (best < 0 || strength_of(pen) > strength_of(lines[static_cast<std::size_t>(best)].pen))
      best = item.line;
  }
  return best;
}

void sweep(const std::vector<Item>& items, const std::vector<ViewLine>& lines, Vec2 along,
           double offset, std::vector<ViewLine>& out) {
  std::vector<double> stops;
  for (const Item& item : items) {
    stops.push_back(item.from);
    stops.push_back(item.to);
  }
  std::sort(stops.begin(), stops.end());
  const Vec2 across = {-along.y, along.x};
  const auto at = [&](double s) { return along * s + across * offset; };
  double last_to = -1e300;
  std::size_t last = 0;
  bool has_last = false;
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    if (stops[i + 1] - stops[i] < too_short) continue;
    const int best = strongest_over(items, lines, stops[i], stops[i + 1]);
    if (best < 0) continue;
    const ViewLine& line = lines[static_cast<std::size_t>(best)];
    if (has_last && out[last].pen == line.pen && stops[i] - last_to < 2 * too_short) {
      out[last].to = at(stops[i + 1]);
    } else {
      out.push_back({at(stops[i]), at(stops[i + 1]), line.pen, line.body});
      last = out.size() - 1;
      has_last = true;
    }
    last_to = stops[i + 1];
  }
}

Item item_of(const ViewLine& line, int index, Vec2 along, double angle) {
  Item item{.angle = angle, .offset = cross(along, line.from), .line = index};
  item.from = std::min(dot(along, line.from), dot(along, line.to));
  item.to = std::max(dot(along, line.from), dot(along, line.to));
  return item;
}

}  // namespace

int strength_of(Pen pen) {
  return pen == Pen::outline ? 3 : pen == Pen::edge ? 2 : pen == Pen::hidden ? 1 : 0;
}

std::vector<ViewLine> merged(const std::vector<ViewLine>& lines) {
  std::vector<Item> items;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (norm(lines[i].to - lines[i].from) < too_short) continue;
    items.push_back({.angle = angle_of(lines[i]), .line = static_cast<int>(i)});
  }
  std::stable_sort(items.begin(), items.end(),
                   [](const Item& a, const Item& b) { return a.angle < b.angle; });
  std::vector<ViewLine> out;
  std::size_t begin = 0;
  for (const std::size_t end :
       run_ends(items, 0, items.size(), same_angle, [](const Item& i) { return i.angle; })) {
    if (begin == end) continue;
    const double angle = items[begin].angle;
    const Vec2 along = {std::cos(angle), std::sin(angle)};
    for (std::size_t i = begin; i < end; ++i) {
      items[i] =
          item_of(lines[static_cast<std::size_t>(items[i].line)], items[i].line, along, angle);
    }
    std::stable_sort(items.begin() + static_cast<std::ptrdiff_t>(begin),
                     items.begin() + static_cast<std::ptrdiff_t>(end),
                     [](const Item& a, const Item& b) { return a.offset < b.offset; });
    std::size_t first = begin;
    for (const std::size_t last :
         run_ends(items, begin, end, same_offset, [](const Item& i) { return i.offset; })) {
      sweep({items.begin() + static_cast<std::ptrdiff_t>(first),
             items.begin() + static_cast<std::ptrdiff_t>(last)},
            lines, along, items[first].offset, out);
      first = last;
    }
    begin = end;
  }
  return out;
}

void merge_strokes(Sheet& sheet) {
  std::vector<ViewLine> lines;
  for (const Stroke& stroke : sheet.strokes) {
    if (strength_of(stroke.pen) == 0) continue;
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i)
      lines.push_back({stroke.points[i], stroke.points[i + 1], stroke.pen});
    if (stroke.is_closed)
      lines.push_back({stroke.points.back(), stroke.points.front(), stroke.pen});
  }
  std::erase_if(sheet.strokes, [](const Stroke& s) { return strength_of(s.pen) > 0; });
  for (const ViewLine& line : merged(lines))
    sheet.strokes.push_back({line.pen, {line.from, line.to}, false});
}

}  // namespace kw
