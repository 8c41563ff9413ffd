// Private to drawing: rows of running dimensions, plain dimensions, balloons, wrapped notes; each
// keeps its own labels apart.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/drawing/sheet.h"

namespace kw {

// Positions as near as can be to `wanted` (in order), at least `apart` from one another and inside
// [low, high]: least squares by pooling neighbours (Ayer et al. 1955), then shifted inside.
[[nodiscard]] std::vector<double> spread(const std::vector<double>& wanted, double apart,
                                         double low, double high);

struct Tick {
  double x = 0;       // paper; in a column: y
  double from_y = 0;  // where the extension line leaves the thing drawn; in a column: x
  std::string text = {};
};

// A row of superimposed running dimensions (ISO 129-1) from the origin at x0: the base line at
// `base_y`, each figure turned upright beyond it (below when `is_below`, else above). Gives the y
// that the row reaches to. Where more figures are asked for than there is room for, those of the
// ends and as many between as can be read are set, and a label says that the notes have the rest.
double add_running(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y, bool is_below);
// The same from an origin on the right towards the left, below.
double add_running_back(Sheet& sheet, double x0, std::vector<Tick> ticks, double base_y);
// The same upwards from y0, the base line at `base_x`, the figures level to its right; they spread
// no further than `low_y` .. `high_y` (paper, low_y < high_y). Gives the x that it reaches to.
double add_column(Sheet& sheet, double y0, std::vector<Tick> ticks, double base_x, Vec2 bounds);
// How far figures in a column spread up and down, mm; how wide they are set.
[[nodiscard]] double column_height(std::size_t figures);
[[nodiscard]] double widest_of(const std::vector<Tick>& ticks);

// Words below a thing drawn, each upright at the end of a leader. Gives the y they reach to.
double add_fan(Sheet& sheet, std::vector<Tick> words, double top_y);

// A dimension between two points, its line shifted by `out` (paper mm, to the right of from->to).
void add_dimension(Sheet& sheet, Vec2 from, Vec2 to, double out, const std::string& text);

// A line with an arrow head at each end.
void add_arrow_line(Sheet& sheet, Vec2 from, Vec2 to);

// A letter in a circle.
constexpr double balloon_radius = 3.2;
void add_balloon(Sheet& sheet, Vec2 at, const std::string& letter);

// Text broken at spaces to fit `width`; gives the y below the last line.
double add_wrapped(Sheet& sheet, Vec2 at, double width, const Label& model);

}  // namespace kw
