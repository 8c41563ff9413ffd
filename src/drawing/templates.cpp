#include "kerfwright/drawing/templates.h"

#include <algorithm>

#include "tiles.h"

namespace kw {

std::vector<Sheet> templates_of(const Resolved& piece, const std::vector<Body>& bodies,
                                const CutList& cut_list, const TemplateStyle& style) {
  std::vector<Sheet> pages;
  const auto add = [&](const Sheet& whole) {
    for (Sheet& page : tiles_of(whole, style)) pages.push_back(std::move(page));
  };
  for (std::size_t i = 0; i < cut_list.parts.size(); ++i) {
    const Part& part = cut_list.parts[i];
    if (part.size.x > style.longest) continue;
    std::vector<Side> sides = drilled_sides(part);
    if (wants_outline(part) && std::find(sides.begin(), sides.end(), Side::front) == sides.end())
      sides.insert(sides.begin(), Side::front);
    for (const Side side : sides)
      add(side_template(bodies, cut_list, static_cast<int>(i), side, style));
  }
  for (Sheet& page : angle_gauges(cut_list, style)) pages.push_back(std::move(page));
  for (const StickOf what : {StickOf::height, StickOf::lengths})
    add(story_stick(piece, bodies, cut_list, what, style));
  return sharing_pages(std::move(pages), style);
}

}  // namespace kw
