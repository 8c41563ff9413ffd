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

// Leaves out ticks between the first and the last until the rest have room; true when it did.
bool thin_out(std::vector<Tick>& ticks, double room) {
  const auto most = static_cast<std::size_t>(std::max(2.0, std::floor(room / (type * 1.25))));
  if (ticks.size() <= most) return false;
  std::vector<Tick> kept;
  for (std::size_t i = 0; i < most; ++i) kept.push_back(ticks[i * (ticks.size() - 1) / (most - 1)]);
  ticks = std::move(kept);
  return true;
}

// Figures beside a base line: `along` it they are spread, `out` from it they stand.
struct Row {
  Vec2 along = {}, out = {};
  double turn = 0;
  Align align = Align::left;
  // Extension lines that bend to their figures; `base` is the base line's place in the way of
  // `out`. Gives how wide the widest figure is.
  double add(Sheet& sheet, const std::vector<Tick>& ticks, double base, Vec2 bounds) const {
    const double sign = along.x + along.y;  // ticks are told in paper coordinates
    const double out_sign = out.x + out.y;
    const auto at = [&](double t, double o) { return along * t + out * o; };
    std::vector<double> wanted;
    for (const Tick& tick : ticks) wanted.push_back(tick.x * sign);
    const auto places = spread(wanted, type * 1.25, bounds.x, bounds.y);
    double reach = 0;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
      const double t = wanted[i];
      const double o = base * out_sign;
      std::vector<Vec2> line = {at(t, o + 0.8), at(places[i], o + leader)};
      if (ticks[i].from_y * out_sign + 0.8 < o)
        line.insert(line.begin(), at(t, ticks[i].from_y * out_sign + 0.8));
      add_line(sheet, Pen::dimension, std::move(line));
      const Vec2 below_middle = turn == 0 ? Vec2{0, type * 0.36} : Vec2{type * 0.36, 0};
      Label label{.at = at(places[i], o + leader + row_gap) + below_middle,
                  .text = ticks[i].text,
                  .height = type,
                  .align = align,
                  .turn = turn};
      reach = std::max(reach, text_width(label));
      sheet.labels.push_back(std::move(label));
    }
    return reach;
  }
};

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

namespace {

double add_row(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y, Vec2 ways) {
  drop_twins(ticks);
  if (ticks.empty()) return base_y;
  const bool is_thinned = thin_out(ticks, sheet.width - 8);
  const double first = std::min(x0, ticks.front().x);
  const double last = std::max(x0, ticks.back().x);
  add_line(sheet, Pen::dimension, {{first, base_y}, {last, base_y}});
  add_circle(sheet, {x0, base_y}, 0.7, Pen::dimension);
  for (const Tick& tick : ticks) {
    if ((tick.x - x0) * ways.x > 2.5) add_arrow(sheet, {tick.x, base_y}, {ways.x, 0});
  }
  const Row row{.along = {1, 0},
                .out = {0, ways.y},
                .turn = 90,
                .align = ways.y > 0 ? Align::right : Align::left};
  const double reach = row.add(sheet, ticks, base_y, {4, sheet.width - 4});
  double end = base_y + ways.y * (leader + row_gap + reach + 1.0);
  if (!is_thinned) return end;
  end += ways.y * (ways.y > 0 ? 2.4 : 1.0);
  sheet.labels.push_back({.at = {4, end},
                          .text = "Not every mark is drawn here; the notes have them all.",
                          .height = 2.2});
  return end + ways.y * 2.6;
}

}  // namespace

double add_running(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y, bool is_below) {
  return add_row(sheet, x0, std::move(ticks), base_y, {1, is_below ? 1.0 : -1.0});
}

double add_running_back(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y) {
  return add_row(sheet, x0, std::move(ticks), base_y, {-1, 1});
}

double add_column(Sheet& sheet, double y0, std::vector<Tick> ticks, double base_x, Vec2 bounds) {
  drop_twins(ticks);
  if (ticks.empty()) return base_x;
  thin_out(ticks, bounds.y - bounds.x);
  std::reverse(ticks.begin(), ticks.end());  // upwards
  add_line(sheet, Pen::dimension, {{base_x, y0}, {base_x, ticks.back().x}});
  add_circle(sheet, {base_x, y0}, 0.7, Pen::dimension);
  for (const Tick& tick : ticks) {
    if (y0 - tick.x > 2.5) add_arrow(sheet, {base_x, tick.x}, {0, -1});
  }
  const Row row{.along = {0, -1}, .out = {1, 0}, .turn = 0, .align = Align::left};
  const double reach = row.add(sheet, ticks, base_x, {-bounds.y, -bounds.x});
  return base_x + leader + row_gap + reach + 1.0;
}

double column_height(std::size_t figures) {
  return static_cast<double>(figures) * type * 1.25;
}

double widest_of(const std::vector<Tick>& ticks) {
  double widest = 0;
  for (const Tick& t : ticks)
    widest = std::max(widest, text_width({.text = t.text, .height = type}));
  return widest;
}

double add_fan(Sheet& sheet, std::vector<Tick> words, double top_y) {
  drop_twins(words);
  if (words.empty()) return top_y;
  thin_out(words, sheet.width - 8);
  const Row row{.along = {1, 0}, .out = {0, 1}, .turn = 90, .align = Align::right};
  return top_y + leader + row_gap + row.add(sheet, words, top_y, {4, sheet.width - 4}) + 1.0;
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
  Label label{.text = text, .height = type};
  const double width = text_width(label);
  const bool has_room = width < length - 4;
  const Vec2 beyond = length > 6 ? Vec2{} : along * 4;
  add_line(sheet, Pen::dimension, {a - beyond, b + beyond});
  add_arrow(sheet, a, length > 6 ? along * -1 : along);
  add_arrow(sheet, b, length > 6 ? along : along * -1);
  const bool is_upright = std::abs(along.y) > std::abs(along.x);
  const Vec2 middle = (a + b) * 0.5;
  const Vec2 outward = right * way;
  label.align = Align::middle;
  if (is_upright && has_room) {
    label.at = {middle.x - 0.8, middle.y};
    label.turn = 90;
  } else if (is_upright) {  // level, beside the line
    label.at = middle + outward * 1.2 + Vec2{0, type * 0.36};
    label.align = outward.x < 0 ? Align::right : Align::left;
  } else if (has_room) {
    label.at = {middle.x, middle.y - 0.8};
  } else {  // past the end of the line
    label.at = {std::max(a.x, b.x) + (length > 6 ? 2.0 : 5.0), middle.y + type * 0.36};
    label.align = Align::left;
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
  add_circle(sheet, at, balloon_radius, Pen::frame);
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
