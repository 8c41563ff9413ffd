#include <algorithm>
#include <fmt/core.h>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"

#include "painted.h"
#include "whole.h"

namespace kw {
namespace {

constexpr double margin = 5;
constexpr double figure_room = 14;  // for the greatest share, beside the view
constexpr double scale_room = 15;   // under it

std::vector<Vec2> box_at(Vec2 at, Vec2 size) {
  return {at, {at.x + size.x, at.y}, at + size, {at.x, at.y + size.y}};
}

void paint(Sheet& sheet, const std::vector<PaintedFace>& faces, const std::vector<double>& shares,
           const View& view, double scale, Vec2 origin) {
  for (const PaintedFace& face : faces) {
    const double share = shares[static_cast<std::size_t>(face.body)];
    Fill fill{.tint = share < 0 ? Tint{} : tint_of_share(share)};
    for (const Vec2 p : face.points) fill.points.push_back(on_paper(view, scale, origin, p));
    sheet.fills.push_back(std::move(fill));
  }
}

void add_scale(Sheet& sheet, double top) {
  const auto& bands = share_bands();
  const double wide =
      std::min(26.0, (sheet.width - 2 * margin) / static_cast<double>(bands.size()));
  const Vec2 box = {wide, 4};
  Vec2 at = {sheet.width / 2 - wide * static_cast<double>(bands.size()) / 2, top};
  double from = 0;
  for (const ShareBand& band : bands) {
    sheet.fills.push_back({.points = box_at(at, box), .tint = band.tint});
    sheet.strokes.push_back({Pen::frame, box_at(at, box), true});
    const bool is_last = &band == &bands.back();
    sheet.labels.push_back(
        {.at = {at.x + wide / 2, top + box.y + 3.8},
         .text = is_last ? fmt::format("over {:.0f}", from) : fmt::format("to {:.2f}", band.to),
         .height = 2.5,
         .align = Align::middle});
    from = band.to;
    at.x += wide;
  }
}

// To the greatest share, from beside the view.
void point_at(Sheet& sheet, const View& view, double share, int body, double scale, Vec2 origin) {
  double longest = -1;
  Vec2 at = {};
  for (const ViewLine& line : view.lines) {
    if (line.body != body || line.pen == Pen::hidden) continue;
    if (norm(line.to - line.from) <= longest) continue;
    longest = norm(line.to - line.from);
    at = on_paper(view, scale, origin, (line.from + line.to) * 0.5);
  }
  if (longest < 0) return;  // nothing of it is seen
  const bool is_left = at.x < sheet.width / 2;
  const double side = is_left ? margin : sheet.width - margin;
  const double end = is_left ? side + figure_room - 4 : side - figure_room + 4;
  sheet.strokes.push_back({Pen::dimension, {{end, at.y}, at}, false});
  sheet.fills.push_back({box_at(at - Vec2{0.5, 0.5}, {1, 1}), 0.9, false});
  sheet.labels.push_back({.at = {side, at.y + 1},
                          .text = fmt::format("{:.2f}", share),
                          .height = 3,
                          .align = is_left ? Align::left : Align::right,
                          .is_bold = true});
}

}  // namespace

const std::array<ShareBand, 5>& share_bands() {
  static const std::array<ShareBand, 5> bands = {{{0.25, {0.98, 0.95, 0.86}},
                                                  {0.50, {0.96, 0.82, 0.55}},
                                                  {0.75, {0.92, 0.62, 0.27}},
                                                  {1.00, {0.76, 0.36, 0.16}},
                                                  {1e300, {0.42, 0.11, 0.16}}}};
  return bands;
}

Tint tint_of_share(double share) {
  const auto& bands = share_bands();
  return std::find_if(bands.begin(), bands.end() - 1,
                      [&](const ShareBand& band) { return share <= band.to; })
      ->tint;
}

Sheet shares_sheet(const std::vector<Body>& bodies, const std::vector<double>& shares,
                   const SheetStyle& style) {
  Sheet sheet{.name = "shares", .title = "share of the limit by board", .width = style.width};
  if (bodies.empty() || shares.size() != bodies.size()) return sheet;
  const ShownBodies scene = shown_bodies(bodies);
  const View view = view_of(scene.shown, isometric_look(), false);
  const double w = std::max(view.high.x - view.low.x, 1.0);
  const double h = std::max(view.high.y - view.low.y, 1.0);
  const double scale = std::min((style.width - 2 * (margin + figure_room)) / w,
                                (style.tallest - 2 * margin - scale_room) / h);
  const Vec2 origin = {(style.width - w * scale) / 2, margin + h * scale};
  paint(sheet, painted_faces(scene.shown, isometric_look()), shares, view, scale, origin);
  draw(sheet, view, scale, origin);
  const auto most = std::max_element(shares.begin(), shares.end());
  if (*most >= 0)
    point_at(sheet, view, *most, static_cast<int>(most - shares.begin()), scale, origin);
  add_scale(sheet, margin + h * scale + 5);
  sheet.height = margin + h * scale + scale_room + margin;
  return sheet;
}

}  // namespace kw
