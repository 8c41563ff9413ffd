// A drawing as a list of things to put on paper, in millimetres, y down from the top left corner.
// The same list becomes SVG here and PDF in the plan book, so that both show the same.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw {

// What a line says decides how it is drawn.
enum class Pen : std::uint8_t {
  outline,    // where a body ends against the air or another body: thick
  edge,       // visible edge
  hidden,     // dashed
  centre,     // dash-dotted: axes of holes
  dimension,  // thin: extension and dimension lines, leaders
  frame,      // thin box round a sheet or table
  mark,       // a line to be drawn on the wood
  hatch       // across wood that a section cuts: thin
};

struct Stroke {
  Pen pen = Pen::edge;
  std::vector<Vec2> points = {};
  bool is_closed = false;
};

// An arc of a circle, exact, of templates: from an angle over another, radians, from the x axis
// towards y, which runs down the paper (so clockwise as seen); a sweep of 2 pi is the circle, a
// sweep below zero runs the other way.
struct Arc {
  Pen pen = Pen::edge;
  Vec2 centre = {};
  double radius = 0;
  double from = 0, sweep = 0;
};

struct Tint {
  double red = 1, green = 1, blue = 1;
};

// A tinted area: wood, waste, a bar of a diagram. Shade 0 is paper, 1 is black.
struct Fill {
  std::vector<Vec2> points = {};
  double shade = 0.1;
  bool is_hatched = false;        // waste
  std::optional<Tint> tint = {};  // in place of the shade
};

enum class Align : std::uint8_t { left, middle, right };

struct Label {
  Vec2 at = {};  // on the base line, at the side that `align` names
  std::string text = {};
  double height = 2.8;  // of the type (em), mm
  Align align = Align::left;
  double turn = 0;  // degrees counter-clockwise
  bool is_bold = false;
};

struct Sheet {
  std::string name = {};  // for file names and contents: "part-a"
  std::string title = {};
  double width = 0, height = 0;
  std::vector<Fill> fills = {};
  std::vector<Stroke> strokes = {};
  std::vector<Arc> arcs = {};
  std::vector<Label> labels = {};
  bool is_full_size = false;  // a template: never to be scaled
};

// Line width in mm, and dash lengths (empty: solid), of a pen.
[[nodiscard]] double width_of(Pen pen);
[[nodiscard]] std::vector<double> dashes_of(Pen pen);

// About how wide a label's text is set in the plan's type, mm (sum of advance widths from a table
// of DejaVu Sans, the type the plan is set in; unknown characters count as 0.6 em). Good for
// layout.
[[nodiscard]] double text_width(const Label& label);

// A self-contained SVG file, sizes in mm, text as text.
[[nodiscard]] std::string to_svg(const Sheet& sheet);

// An arc as cubic curves, for formats that have no arcs, each over a 16th of a turn at most: from
// point to point with two points of control between. They stray from the circle by less than 1e-7
// of its radius (4/3 tan(a/4) for the arms; Goldapp 1991).
[[nodiscard]] std::vector<std::array<Vec2, 4>> beziers_of(const Arc& arc);

// Puts `what` onto `onto` with its top left corner at `at`.
void place(Sheet& onto, const Sheet& what, Vec2 at);

}  // namespace kw
