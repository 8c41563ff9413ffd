// Private to drawing: cutting sheets to windows.
#pragma once

#include <vector>

#include "kerfwright/drawing/templates.h"

#include "boxes.h"

namespace kw {

// The pieces of a stroke inside the window; a closed one comes as open pieces unless it lies
// wholly inside.
[[nodiscard]] std::vector<Stroke> clipped(const Stroke& stroke, const Rect& window);
// What of an area lies inside (Sutherland and Hodgman 1974); no points where nothing does.
[[nodiscard]] Fill clipped(const Fill& fill, const Rect& window);
// Turned a quarter clockwise: what ran to the right runs down.
[[nodiscard]] Sheet quarter_turned(const Sheet& sheet);

// Pages that a sheet of this size is cut to, the way round that takes fewer.
[[nodiscard]] int tile_count(Vec2 size, const TemplateStyle& style);

// Sheets put below one another on a page as long as there is room, in their order.
[[nodiscard]] std::vector<Sheet> sharing_pages(std::vector<Sheet> sheets,
                                               const TemplateStyle& style);

// A ruler of 100 mm (ticks above) and 4 in (ticks below), 12 mm high; `at` is its zero point.
void add_check_ruler(Sheet& sheet, Vec2 at);

}  // namespace kw
