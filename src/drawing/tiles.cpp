#include "tiles.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <numbers>
#include <optional>

#include "kerfwright/drawing/templates.h"

#include "arcs.h"
#include "layout.h"

namespace kw {
namespace {

constexpr double foot = 26;      // mm below the window: ruler, page number, title
constexpr double strip_gap = 4;  // mm between what shares a page
constexpr double most_tiles = 400;

// How a sheet is cut: columns and rows of windows, each `step` on from the one before.
struct Grid {
  Vec2 window = {};
  Vec2 step = {};
  int columns = 1, rows = 1;
  double overlap = 0;
  bool is_strip = false;  // one row, so low that several go on a page
  [[nodiscard]] int count() const { return columns * rows; }
  [[nodiscard]] Rect window_at(int column, int row) const {
    const Vec2 low = {column * step.x, row * step.y};
    return {low, low + window};
  }
};

int windows_over(double size, double window, double step) {
  return size <= window ? 1 : 1 + static_cast<int>(std::ceil((size - window) / step - 1e-9));
}

Grid grid_over(Vec2 size, const TemplateStyle& style) {
  Grid grid;
  grid.overlap = std::clamp(style.overlap, 4.0, style.page.x / 2);
  // Steps that a tape can be set to; the windows are a little smaller for it.
  const double even = style.length.unit == LengthUnit::mm ? 1 : 25.4 / 8;
  const auto whole = [&](double step) { return std::max(1.0, std::floor(step / even)) * even; };
  grid.step = {whole(style.page.x - grid.overlap), whole(style.page.y - foot - grid.overlap)};
  grid.window = grid.step + Vec2{grid.overlap, grid.overlap};
  grid.columns = windows_over(size.x, grid.window.x, grid.step.x);
  grid.rows = windows_over(size.y, grid.window.y, grid.step.y);
  return grid;
}

// A long low sheet as strips of its height.
bool is_low(double height, const TemplateStyle& style) {
  return 2 * (height + foot) + strip_gap <= style.page.y;
}

Grid strips_over(Vec2 size, const TemplateStyle& style) {
  Grid grid = grid_over(size, style);
  grid.window.y = size.y;
  grid.is_strip = true;
  return grid;
}

void add_cross(Sheet& sheet, Vec2 at, double half) {
  sheet.strokes.push_back({Pen::mark, {at - Vec2{half, 0}, at + Vec2{half, 0}}, false});
  sheet.strokes.push_back({Pen::mark, {at - Vec2{0, half}, at + Vec2{0, half}}, false});
  std::vector<Vec2> ring;
  for (int i = 0; i < 36; ++i) {
    const double a = 2 * std::numbers::pi * i / 36;
    ring.push_back(at + Vec2{std::cos(a), std::sin(a)} * (half * 0.6));
  }
  sheet.strokes.push_back({Pen::mark, std::move(ring), true});
}

// Where a registration mark stands on the seam that runs along `way` from `from`, nearest to
// `wanted` along it, so that it meets no label; nothing where there is no room for it.
std::optional<Vec2> free_on_seam(const Sheet& sheet, const Room& room,
                                 const std::array<Vec2, 2>& seam, double wanted, double half) {
  const auto& [from, way] = seam;
  for (int i = 0; i < 40; ++i) {
    const double along = wanted + (i % 2 == 0 ? 1 : -1) * 2.0 * ((i + 1) / 2);
    const Vec2 at = from + way * along;
    const Vec2 corner = {half + 0.4, half + 0.4};
    if (at.x < half || at.y < half || at.x > sheet.width - half || at.y > sheet.height - half)
      continue;
    if (room.is_free(at - corner, at + corner) &&
        room.is_free(at + Vec2{-corner.x, corner.y}, at + Vec2{corner.x, -corner.y}) &&
        room.is_free(at - Vec2{corner.x, 0}, at + Vec2{corner.x, 0}) &&
        room.is_free(at - Vec2{0, corner.y}, at + Vec2{0, corner.y}))
      return at;
  }
  return std::nullopt;
}

// As large as the overlap allows, smaller where that has no room.
void add_on_seam(Sheet& sheet, const Room& room, const std::array<Vec2, 2>& seam, double wanted,
                 double half) {
  for (const double share : {1.0, 0.7, 0.5, 0.35}) {
    const auto at = free_on_seam(sheet, room, seam, wanted, half * share);
    if (at) return add_cross(sheet, *at, half * share);
  }
  add_cross(sheet, seam[0] + seam[1] * wanted, half);
}

// Two marks on each seam between two tiles; both tiles show them.
void add_registration(Sheet& sheet, const Grid& grid) {
  const Room room(sheet);
  const double half = grid.overlap / 2 - 0.6;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      const Rect w = grid.window_at(column, row);
      const Vec2 size = {std::min(w.high.x, sheet.width) - w.low.x,
                         std::min(w.high.y, sheet.height) - w.low.y};
      const Vec2 seam = w.high - Vec2{grid.overlap / 2, grid.overlap / 2};
      for (const double share : {0.2, 0.8}) {
        if (column + 1 < grid.columns)
          add_on_seam(sheet, room, {Vec2{seam.x, w.low.y}, Vec2{0, 1}}, size.y * share, half);
        if (row + 1 < grid.rows)
          add_on_seam(sheet, room, {Vec2{w.low.x, seam.y}, Vec2{1, 0}}, size.x * share, half);
      }
    }
  }
}

// Whether a tile shows more than its neighbours before it do, but for straight lines that pass
// through: a line that begins, ends or turns here.
bool is_needed(const Sheet& whole, const Grid& grid, int column, int row) {
  const Rect window = grid.window_at(column, row);
  constexpr double inside = 0.01;
  const Vec2 low = {window.low.x + (column > 0 ? grid.overlap : 0) + inside,
                    window.low.y + (row > 0 ? grid.overlap : 0) + inside};
  const Vec2 high = window.high - Vec2{inside, inside};
  const auto is_here = [&](Vec2 p) {
    return p.x > low.x && p.x < high.x && p.y > low.y && p.y < high.y;
  };
  const auto bends_here = [&](const Arc& arc) { return !clipped(arc, Rect{low, high}).empty(); };
  if (std::any_of(whole.arcs.begin(), whole.arcs.end(), bends_here)) return true;
  return std::any_of(whole.strokes.begin(), whole.strokes.end(), [&](const Stroke& stroke) {
    return stroke.pen != Pen::dimension &&
           std::any_of(stroke.points.begin(), stroke.points.end(), is_here);
  });
}

// The nearest place to `wanted`, up or down in the window, where the label lies on nothing.
Vec2 freed(Label label, Vec2 wanted, const Rect& window, const Room& room) {
  for (int i = 0; i < 200; ++i) {
    label.at = wanted + Vec2{0, (i % 2 == 0 ? -1 : 1) * ((i + 1) / 2) * 1.0};
    if (window.holds(rect_of(box_of(label))) && room.is_free(label)) return label.at;
  }
  return wanted;
}

// Labels go to the first tile that holds them whole; those that none holds are moved into the one
// that has their middle.
std::vector<std::vector<Label>> labels_by_tile(const Sheet& whole, const Grid& grid) {
  std::vector<std::vector<Label>> tiles(static_cast<std::size_t>(grid.count()));
  const Room room(whole);
  for (Label label : whole.labels) {
    const Rect rect = rect_of(box_of(label));
    const Vec2 middle = (rect.low + rect.high) * 0.5;
    int home = -1;
    for (int t = 0; t < grid.count() && home < 0; ++t) {
      if (grid.window_at(t % grid.columns, t / grid.columns).holds(rect)) home = t;
    }
    if (home < 0) {
      const auto clamp_to = [](double at, double step, int count) {
        return std::clamp(static_cast<int>(at / step), 0, count - 1);
      };
      const int column = clamp_to(middle.x, grid.step.x, grid.columns);
      const int row = clamp_to(middle.y, grid.step.y, grid.rows);
      home = row * grid.columns + column;
      const Rect w = grid.window_at(column, row);
      const Vec2 past = {std::max(0.0, rect.high.x - w.high.x + 1),
                         std::max(0.0, rect.high.y - w.high.y + 1)};
      const Vec2 short_of = {std::max(0.0, w.low.x + 1 - rect.low.x),
                             std::max(0.0, w.low.y + 1 - rect.low.y)};
      label.at = freed(label, label.at - past + short_of, w, room);
    }
    tiles[static_cast<std::size_t>(home)].push_back(std::move(label));
  }
  return tiles;
}

struct Tile {
  int number = 0;  // from 1; 0 when left out
  int column = 0, row = 0;
};

struct Tiling {
  const Sheet* whole = nullptr;
  const TemplateStyle* style = nullptr;
  Grid grid = {};
  std::vector<Tile> tiles = {};
  int printed = 0;
};

void add_foot(Sheet& sheet, const Tiling& tiling, const Tile& tile) {
  const double top = sheet.height - foot;
  add_check_ruler(sheet, {1, top + 14});
  std::string text = tiling.whole->title;
  if (tiling.printed > 1) {
    text += tiling.grid.is_strip ? fmt::format(". Strip {} of {}", tile.number, tiling.printed)
                                 : fmt::format(". Page {} of {}, row {}, column {}", tile.number,
                                               tiling.printed, tile.row + 1, tile.column + 1);
    if (tile.column > 0) {
      text += fmt::format(
          "; its left side lies {} from the left of the template",
          format_length(Length::mm(std::round(tile.column * tiling.grid.step.x * 1000) / 1000),
                        tiling.style->length));
    }
  }
  text += ". Print at 100 % and measure the ruler before use.";
  add_wrapped(sheet, {110, top + 5}, sheet.width - 111, {.text = text, .height = 2.3});
}

Sheet tile_of(const Tiling& tiling, const Tile& tile, const std::vector<Label>& labels) {
  const Rect window = tiling.grid.window_at(tile.column, tile.row);
  const Sheet& whole = *tiling.whole;
  Sheet sheet{
      .name = tiling.printed > 1 ? fmt::format("{}-{}", whole.name, tile.number) : whole.name,
      .title = whole.title,
      .width = tiling.style->page.x,
      .height = tiling.style->page.y,
      .is_full_size = true};
  Sheet inside;
  for (const Fill& fill : whole.fills) {
    Fill part = clipped(fill, window);
    if (part.points.size() > 2) inside.fills.push_back(std::move(part));
  }
  for (const Stroke& stroke : whole.strokes) {
    for (Stroke& part : clipped(stroke, window)) inside.strokes.push_back(std::move(part));
  }
  for (const Arc& arc : whole.arcs) {
    for (const Arc& part : clipped(arc, window)) inside.arcs.push_back(part);
  }
  inside.labels = labels;
  place(sheet, inside, window.low * -1);
  if (tiling.printed == 1) {
    sheet.height = std::min(sheet.height, whole.height + foot);
  } else {
    const Vec2 w = tiling.grid.window;
    if (tiling.grid.is_strip) sheet.height = w.y + foot;
    sheet.strokes.push_back({Pen::frame, {{0, 0}, {w.x, 0}, w, {0, w.y}}, true});
  }
  add_foot(sheet, tiling, tile);
  return sheet;
}

// Where a page's number stands on the map: as near the middle of its tile as is free.
void add_number(Sheet& map, Room& room, const Rect& tile, int number) {
  Label label{.text = fmt::format("{}", number), .height = 4, .is_bold = true};
  const double width = text_width(label);
  std::vector<Vec2> places;
  for (const double v : {0.5, 0.25, 0.75, 0.12, 0.88}) {
    for (const double u : {0.5, 0.25, 0.75, 0.12, 0.88}) {
      const Vec2 size = tile.high - tile.low;
      places.push_back({tile.low.x + size.x * u - width / 2, tile.low.y + size.y * v + 1.5});
    }
  }
  put_free(map, room, std::move(label), places);
}

constexpr double below = 5;  // mm on a map from a strip to its number

void draw_small(Sheet& map, const Sheet& whole, double scale, Vec2 origin) {
  for (const Stroke& stroke : whole.strokes) {
    if (stroke.pen != Pen::outline && stroke.pen != Pen::edge) continue;
    Stroke small{Pen::edge, {}, stroke.is_closed};
    for (const Vec2& p : stroke.points) small.points.push_back(origin + p * scale);
    map.strokes.push_back(std::move(small));
  }
  for (Arc arc : whole.arcs) {
    if (arc.pen == Pen::hidden) continue;
    arc = {Pen::edge, origin + arc.centre * scale, arc.radius * scale, arc.from, arc.sweep};
    map.arcs.push_back(arc);
  }
}

void number_tiles(Sheet& map, const Tiling& tiling, double scale, Vec2 origin) {
  Room room(map);
  for (const Tile& tile : tiling.tiles) {
    if (tile.number == 0) continue;
    const Rect w = tiling.grid.window_at(tile.column, tile.row);
    const Rect on_map = {origin + w.low * scale, origin + w.high * scale};
    if (tiling.grid.is_strip) {
      map.labels.push_back({.at = {(on_map.low.x + on_map.high.x) / 2, on_map.high.y + below},
                            .text = fmt::format("{}", tile.number),
                            .height = 4,
                            .align = Align::middle,
                            .is_bold = true});
    } else {
      add_number(map, room, on_map, tile.number);
    }
  }
}

Sheet map_of(const Tiling& tiling) {
  const Sheet& whole = *tiling.whole;
  const Grid& grid = tiling.grid;
  Sheet map{.name = whole.name + "-map",
            .title = whole.title + ": map of its pages",
            .width = tiling.style->page.x};
  double y =
      add_wrapped(map, {0, 5}, map.width, {.text = map.title, .height = 3.6, .is_bold = true});
  y = add_wrapped(
      map, {0, y + 1}, map.width,
      {.text = fmt::format(
           "{} {} at full size. Print at 100 %, measure the ruler on each, cut along the frame "
           "of the upper one of two neighbours and lay its crosses on the crosses of the lower; "
           "they share {:g} mm.{}",
           tiling.printed, grid.is_strip ? "strips" : "pages", grid.overlap,
           tiling.printed < grid.count()
               ? " Dotted ones hold only lines that run straight on and are not printed: set "
                 "those beside them by the distance in their foot."
               : "")});
  const Vec2 size =
      Vec2{(grid.columns - 1) * grid.step.x, (grid.rows - 1) * grid.step.y} + grid.window;
  const double scale = std::min({map.width / size.x, (tiling.style->page.y - y - 4) / size.y, 0.5});
  const Vec2 origin = {(map.width - size.x * scale) / 2, y};
  draw_small(map, whole, scale, origin);
  for (const Tile& tile : tiling.tiles) {
    const Rect w = grid.window_at(tile.column, tile.row);
    const Vec2 low = origin + w.low * scale;
    const Vec2 high = origin + w.high * scale;
    map.strokes.push_back({tile.number > 0 ? Pen::frame : Pen::centre,
                           {low, {high.x, low.y}, high, {low.x, high.y}},
                           true});
  }
  number_tiles(map, tiling, scale, origin);
  map.height = y + size.y * scale + (grid.is_strip ? below : 0) + 2;
  return map;
}

}  // namespace

int tile_count(Vec2 size, const TemplateStyle& style) {
  return std::min(grid_over(size, style).count(), grid_over({size.y, size.x}, style).count());
}

void add_check_ruler(Sheet& sheet, Vec2 at) {
  constexpr double inch = 25.4;
  const auto tick = [&](double x, double up) {
    sheet.strokes.push_back({Pen::mark, {at + Vec2{x, 0}, at + Vec2{x, -up}}, false});
  };
  sheet.strokes.push_back({Pen::mark, {at, at + Vec2{4 * inch, 0}}, false});
  for (int i = 0; i <= 100; i += 5) tick(i, i % 50 == 0 ? 5 : i % 10 == 0 ? 3.5 : 2);
  for (int i = 0; i <= 16; ++i) tick(i * inch / 4, i % 4 == 0 ? -5 : i % 2 == 0 ? -3.5 : -2);
  sheet.labels.push_back(
      {.at = at + Vec2{100, -6}, .text = "100 mm", .height = 2.6, .align = Align::right});
  sheet.labels.push_back(
      {.at = at + Vec2{4 * inch, 8.2}, .text = "4 in", .height = 2.6, .align = Align::right});
}

std::vector<Sheet> tiles_of(const Sheet& whole, const TemplateStyle& style) {
  Sheet sheet = whole;
  Tiling tiling{.style = &style, .grid = grid_over({sheet.width, sheet.height}, style)};
  const Grid other = grid_over({sheet.height, sheet.width}, style);
  const bool is_on_one = tiling.grid.count() == 1 || other.count() == 1;
  const bool lies = is_low(sheet.height, style), stands = is_low(sheet.width, style);
  if (!is_on_one && (lies || stands)) {
    if (!lies) sheet = quarter_turned(sheet);
    tiling.grid = strips_over({sheet.width, sheet.height}, style);
  } else if (other.count() < tiling.grid.count()) {
    sheet = quarter_turned(sheet);
    tiling.grid = other;
  }
  if (tiling.grid.count() > most_tiles) return {};
  tiling.whole = &sheet;
  const auto labels = labels_by_tile(sheet, tiling.grid);
  sheet.labels.clear();  // where they came to stand
  for (const auto& tile : labels) sheet.labels.insert(sheet.labels.end(), tile.begin(), tile.end());
  for (int t = 0; t < tiling.grid.count(); ++t) {
    Tile tile{.column = t % tiling.grid.columns, .row = t / tiling.grid.columns};
    const bool has_labels = !labels[static_cast<std::size_t>(t)].empty();
    if (has_labels || is_needed(sheet, tiling.grid, tile.column, tile.row))
      tile.number = ++tiling.printed;
    tiling.tiles.push_back(tile);
  }
  if (tiling.printed > 1) add_registration(sheet, tiling.grid);
  std::vector<Sheet> pages;
  if (tiling.printed > 1) pages.push_back(map_of(tiling));
  for (std::size_t t = 0; t < tiling.tiles.size(); ++t) {
    if (tiling.tiles[t].number > 0) pages.push_back(tile_of(tiling, tiling.tiles[t], labels[t]));
  }
  return pages;
}

std::vector<Sheet> sharing_pages(std::vector<Sheet> sheets, const TemplateStyle& style) {
  std::vector<Sheet> pages;
  for (Sheet& sheet : sheets) {
    const bool fits =
        !pages.empty() && pages.back().height + strip_gap + sheet.height <= style.page.y;
    if (!fits) {
      pages.push_back(std::move(sheet));
      continue;
    }
    Sheet& page = pages.back();
    place(page, sheet, {0, page.height + strip_gap});
    page.height += strip_gap + sheet.height;
    page.is_full_size = page.is_full_size || sheet.is_full_size;
  }
  return pages;
}

}  // namespace kw
