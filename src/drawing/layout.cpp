#include "layout.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kw {
namespace {

constexpr double type = 2.6;     // mm, of figures
constexpr double row_gap = 1.2;  // between base line and figure
constexpr double leader = 4.0;   // room in which extension lines bend to their figures

void add_line(Sheet& sheet, Pen pen, std::vector<Vec2> points) {
  sheet.strokes.push_back({pen, std::move(points), false});
}

void add_arrow(Sheet& sheet, Vec2 tip, Vec2 along) {
  const Vec2 across = {-along.y, along.x};
  const Vec2 back = tip - along * 1.8;
  sheet.fills.push_back({{tip, back + across * 0.35, back - across * 0.35}, 0.9, false});
}

void add_circle(Sheet& sheet, Vec2 at, double radius, Pen pen) {
  std::vector<Vec2> points;
  for (int i = 0; i < 36; ++i) {
    const double a = 2 * std::numbers::pi * i / 36;
    points.push_back({at.x + radius * std::cos(a), at.y + radius * std::sin(a)});
  }
  sheet.strokes.push_back({pen, std::move(points), true});
}

void drop_twins(std::vector<Tick>& ticks) {
  std::stable_sort(ticks.begin(), ticks.end(),
                   [](const Tick& a, const Tick& b) { return a.x < b.x; });
  const auto is_twin = [](const Tick& a, const Tick& b) {
    return std::abs(a.x - b.x) < 1e-6 && a.text == b.text;
  };
  ticks.erase(std::unique(ticks.begin(), ticks.end(), is_twin), ticks.end());
}

}  // namespace

std::vector<double> spread(const std::vector<double>& wanted, double apart, double low,
                           double high) {
  struct Pool {
    double sum;
    std::size_t count;
  };
  std::vector<Pool> pools;
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    pools.push_back({wanted[i] - apart * static_cast<double>(i), 1});
    while (pools.size() > 1) {
      const Pool last = pools.back();
      const Pool& before = pools[pools.size() - 2];
      if (before.sum / static_cast<double>(before.count) <=
          last.sum / static_cast<double>(last.count))
        break;
      pools.pop_back();
      pools.back().sum += last.sum;
      pools.back().count += last.count;
    }
  }
  std::vector<double> placed;
  const double top = high - apart * static_cast<double>(wanted.empty() ? 0 : wanted.size() - 1);
  for (const Pool& pool : pools) {
    const double value = std::max(low, std::min(pool.sum / static_cast<double>(pool.count), top));
    for (std::size_t i = 0; i < pool.count; ++i)
      placed.push_back(value + apart * static_cast<double>(placed.size()));
  }
  return placed;
}

double add_running(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y, bool is_below) {
  drop_twins(ticks);
  if (ticks.empty()) return base_y;
  const double way = is_below ? 1.0 : -1.0;
  std::vector<double> wanted;
  for (const Tick& tick : ticks) wanted.push_back(tick.x);
  const double apart = std::min(type * 1.25, (sheet.width - 8) / static_cast<double>(ticks.size()));
  const auto xs = spread(wanted, apart, 4, sheet.width - 4);
  double reach = 0;
  add_line(sheet, Pen::dimension, {{x0, base_y}, {ticks.back().x, base_y}});
  add_circle(sheet, {x0, base_y}, 0.7, Pen::dimension);
  for (std::size_t i = 0; i < ticks.size(); ++i) {
    const Tick& tick = ticks[i];
    if (tick.x - x0 > 2.5) add_arrow(sheet, {tick.x, base_y}, {1, 0});
    add_line(sheet, Pen::dimension,
             {{tick.x, tick.from_y + way * 0.8},
              {tick.x, base_y + way * 0.8},
              {xs[i], base_y + way * leader}});
    Label label{.at = {xs[i] + type * 0.36, base_y + way * (leader + row_gap)},
                .text = tick.text,
                .height = type,
                .align = is_below ? Align::right : Align::left,
                .turn = 90};
    reach = std::max(reach, text_width(label));
    sheet.labels.push_back(std::move(label));
  }
  return base_y + way * (leader + row_gap + reach + 1.0);
}

void add_dimension(Sheet& sheet, Vec2 from, Vec2 to, double out, const std::string& text) {
  const Vec2 span = to - from;
  const double length = norm(span);
  if (length < 1e-9) return;
  const Vec2 along = span * (1 / length);
  const Vec2 right = {-along.y, along.x};  // on paper y runs down
  const Vec2 a = from + right * out;
  const Vec2 b = to + right * out;
  const double way = out < 0 ? -1.0 : 1.0;
  add_line(sheet, Pen::dimension, {from + right * (way * 0.8), a + right * (way * 1.2)});
  add_line(sheet, Pen::dimension, {to + right * (way * 0.8), b + right * (way * 1.2)});
  const bool has_room = length > 6;
  const Vec2 beyond = has_room ? Vec2{} : along * 4;
  add_line(sheet, Pen::dimension, {a - beyond, b + beyond});
  add_arrow(sheet, a, has_room ? along * -1 : along);
  add_arrow(sheet, b, has_room ? along : along * -1);
  const bool is_upright = std::abs(along.y) > std::abs(along.x);
  Label label{.text = text, .height = type};
  const double width = text_width(label);
  const Vec2 middle = (a + b) * 0.5;
  if (is_upright && width < length - 4) {
    label.at = {middle.x - 0.8, middle.y};
    label.turn = 90;
    label.align = Align::middle;
  } else if (is_upright) {
    label.at = {middle.x + 1.2, middle.y + type * 0.36};
  } else {
    label.at = {middle.x, middle.y - 0.8};
    label.align = Align::middle;
  }
  sheet.labels.push_back(std::move(label));
}

void add_arrow_line(Sheet& sheet, Vec2 from, Vec2 to) {
  const Vec2 along = (to - from) * (1 / std::max(norm(to - from), 1e-9));
  add_line(sheet, Pen::dimension, {from, to});
  add_arrow(sheet, from, along * -1);
  add_arrow(sheet, to, along);
}

void add_balloon(Sheet& sheet, Vec2 at, const std::string& letter) {
  add_circle(sheet, at, 3.2, Pen::frame);
  sheet.labels.push_back({.at = {at.x, at.y + 1.15},
                          .text = letter,
                          .height = 3.2,
                          .align = Align::middle,
                          .is_bold = true});
}

double add_wrapped(Sheet& sheet, Vec2 at, double width, const Label& model) {
  Label line = model;
  line.at = at;
  line.text.clear();
  const auto finish = [&] {
    if (line.text.empty()) return;
    sheet.labels.push_back(line);
    line.at.y += model.height * 1.4;
    line.text.clear();
  };
  std::size_t from = 0;
  while (from < model.text.size()) {
    const std::size_t space = std::min(model.text.find(' ', from), model.text.size());
    const std::string word = model.text.substr(from, space - from);
    Label longer = line;
    longer.text += (line.text.empty() ? "" : " ") + word;
    if (text_width(longer) > width && !line.text.empty()) {
      finish();
      line.text = word;
    } else {
      line.text = longer.text;
    }
    from = space + 1;
  }
  finish();
  return line.at.y;
}

}  // namespace kw
