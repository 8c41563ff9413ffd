#include <algorithm>
#include <set>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"

#include "layout.h"
#include "whole.h"

namespace kw {
namespace {

constexpr double margin = 4;
constexpr double balloon_room = 14;

}  // namespace

Sheet step_sheet(const std::vector<Body>& bodies, const CutList& cut_list,
                 const StepPicture& picture, const SheetStyle& style) {
  Sheet sheet{.name = picture.name, .title = picture.title, .width = style.width};
  std::vector<Body> scene;
  std::vector<int> shown;
  for (const int b : picture.there) {
    scene.push_back(bodies[static_cast<std::size_t>(b)]);
    shown.push_back(b);
  }
  std::set<int> lettered;
  for (std::size_t i = 0; i < picture.added.size(); ++i) {
    const int b = picture.added[i];
    scene.push_back(bodies[static_cast<std::size_t>(b)]);
    scene.back().frame.origin += picture.moved[i];
    shown.push_back(b);
  }
  if (scene.empty()) return sheet;
  const View view = view_of_bodies(scene, isometric_look(), false);
  const double w = std::max(view.high.x - view.low.x, 1.0);
  const double h = std::max(view.high.y - view.low.y, 1.0);
  const double scale =
      std::min((style.width - 2 * (margin + balloon_room)) / w, (style.tallest - 2 * margin) / h);
  const Vec2 origin = {(style.width - w * scale) / 2, margin + h * scale};
  draw(sheet, view, scale, origin);
  for (const int b : picture.added)
    lettered.insert(cut_list.part_of_body[static_cast<std::size_t>(b)]);
  for (const int b : picture.onto)
    lettered.insert(cut_list.part_of_body[static_cast<std::size_t>(b)]);
  auto pointers = pointers_of(view, cut_list, shown, scale, origin);
  std::erase_if(pointers, [&](const Pointer& p) { return !lettered.contains(p.part); });
  const double lowest = add_balloons(sheet, std::move(pointers), margin, margin + h * scale);
  sheet.height = std::max(margin + h * scale, lowest) + margin;
  return sheet;
}

}  // namespace kw
