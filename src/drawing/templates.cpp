#include "kerfwright/drawing/templates.h"

#include <algorithm>

#include "tiles.h"

namespace kw {
namespace {

constexpr std::int64_t most_holes = 1000;

}  // namespace

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

Outcome<std::vector<Length>> drill_pattern(Length over, Length first, Length greatest) {
  const Length nothing;
  const auto wrong = [](const char* message) {
    return Diagnostic{.code = "drawing.pattern",
                      .message = message,
                      .hint =
                          "give the row's length, the distance of the first hole from the end "
                          "and the greatest spacing, all above zero"};
  };
  if (over <= nothing || first <= nothing || greatest <= nothing)
    return wrong("a row of holes needs lengths above zero");
  const Length between = over - first * 2;
  if (between <= nothing) return std::vector<Length>{divide(over, 2)};
  const std::int64_t steps = (between.in_ticks() + greatest.in_ticks() - 1) / greatest.in_ticks();
  if (steps + 1 > most_holes) return wrong("a row of more than 1,000 holes");
  std::vector<Length> places;
  for (std::int64_t i = 0; i <= steps; ++i) places.push_back(first + divide(between * i, steps));
  return places;
}

}  // namespace kw
