#include "kerfwright/drawing/sheet.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace kw {
namespace {

// Advance widths of DejaVu Sans, thousandths of an em, for ' ' to '~' (read from the font's hmtx
// table).
constexpr std::array<int, 95> advance = {
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361,  318, 337, 636, 636, 636,
    636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632,
    575, 775, 752, 295, 295, 656, 557, 863, 748, 787, 603, 787, 695, 635,  611, 732, 684, 989, 685,
    611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352,  635, 634, 278, 278, 579,
    278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592,  525, 636, 337, 636, 838};
constexpr double bold_is_wider =
    1.12;  // DejaVu Sans Bold against the regular, mean over its letters

void shift(std::vector<Vec2>& points, Vec2 by) {
  for (Vec2& p : points) p = p + by;
}

}  // namespace

double width_of(Pen pen) {
  switch (pen) {
    case Pen::outline:
      return 0.45;
    case Pen::edge:
      return 0.25;
    case Pen::hidden:
      return 0.18;
    case Pen::centre:
      return 0.13;
    case Pen::dimension:
      return 0.13;
    case Pen::frame:
      return 0.2;
    case Pen::mark:
      return 0.35;
    case Pen::hatch:
      return 0.1;
  }
  return 0.25;
}

std::vector<double> dashes_of(Pen pen) {
  if (pen == Pen::hidden) return {1.6, 0.9};
  if (pen == Pen::centre) return {5, 0.8, 0.8, 0.8};
  return {};
}

double text_width(const Label& label) {
  double em = 0;
  for (const char c : label.text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= ' ' && byte <= '~') {
      em += advance[static_cast<std::size_t>(byte - ' ')] / 1000.0;
    } else if (byte >= 0xC0) {
      em += 0.6;
    }
  }
  return em * label.height * (label.is_bold ? bold_is_wider : 1.0);
}

std::vector<std::array<Vec2, 4>> beziers_of(const Arc& arc) {
  constexpr double most = std::numbers::pi / 8;
  const int count = std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep) / most - 1e-9)));
  const double turn = arc.sweep / count;
  const double arm = 4.0 / 3 * std::tan(turn / 4) * arc.radius;
  std::vector<std::array<Vec2, 4>> curves;
  for (int i = 0; i < count; ++i) {
    const double a = arc.from + turn * i, b = a + turn;
    const Vec2 out_a = {std::cos(a), std::sin(a)}, out_b = {std::cos(b), std::sin(b)};
    const Vec2 from = arc.centre + out_a * arc.radius, to = arc.centre + out_b * arc.radius;
    curves.push_back(
        {from, from + Vec2{-out_a.y, out_a.x} * arm, to - Vec2{-out_b.y, out_b.x} * arm, to});
  }
  return curves;
}

void place(Sheet& onto, const Sheet& what, Vec2 at) {
  for (Fill fill : what.fills) {
    shift(fill.points, at);
    onto.fills.push_back(std::move(fill));
  }
  for (Stroke stroke : what.strokes) {
    shift(stroke.points, at);
    onto.strokes.push_back(std::move(stroke));
  }
  for (Arc arc : what.arcs) {
    arc.centre = arc.centre + at;
    onto.arcs.push_back(arc);
  }
  for (Label label : what.labels) {
    label.at = label.at + at;
    onto.labels.push_back(std::move(label));
  }
}

}  // namespace kw
