// Views of solids with hidden lines found exactly for flat faces: each edge is cut where it passes
// behind a face, and each stretch is told visible or hidden.
#pragma once

#include <vector>

#include "kerfwright/drawing/sheet.h"
#include "kerfwright/solid/body.h"

namespace kw {

// A solid somewhere: a mesh with its face numbers, and where it lies. `frame` may be left-handed (a
// mirror image).
struct Shown {
  const Shape* shape = nullptr;
  const Mesh* mesh = nullptr;
  Frame frame = {};
};

// Looking along -towards: `towards` points at the eye, `up` is up on the paper.
struct Look {
  Vec3 towards = {0, -1, 0};
  Vec3 up = {0, 0, 1};
};
[[nodiscard]] Look front_look();  // from -y
[[nodiscard]] Look side_look();   // from +x
[[nodiscard]] Look top_look();    // from +z
[[nodiscard]] Look
isometric_look();  // from right, front and above, equal angles to all axes (ISO 5456-3)

// Lines in the plane of view, millimetres of the thing itself, x right, y up. Collinear pieces are
// joined, and where lines coincide the strongest (outline, edge, hidden) stays.
struct ViewLine {
  Vec2 from = {}, to = {};
  Pen pen = Pen::edge;
  int body = 0;  // index into what was shown
};
struct View {
  std::vector<ViewLine> lines = {};
  Vec2 low = {}, high = {};  // the box around the lines
};
[[nodiscard]] View view_of(const std::vector<Shown>& shown, const Look& look,
                           bool with_hidden = true);

// The face that a saw would leave in a body: outer loops counter-clockwise as seen, holes
// clockwise.
struct CutFace {
  int body = 0;  // index into what was shown
  std::vector<std::vector<Vec2>> loops = {};
  double area = 0;  // mm^2
};
// A view of what lies behind a plane square to the line of sight, and the faces that the plane
// cuts. The outlines of those are among the lines (pen `outline`). Bodies that only touch the plane
// are not cut. Curves are the polygons of the mesh, of the true curve's area.
struct SectionView {
  View view = {};
  std::vector<CutFace> faces = {};
};
[[nodiscard]] SectionView section_of(const std::vector<Shown>& shown, const Look& look,
                                     Vec3 through, bool with_hidden = true);

// Hatching of a face at 45 degrees (or, `is_falling`, at 135), `apart` mm from line to line; lines
// of faces that are hatched alike are in step.
[[nodiscard]] std::vector<ViewLine> hatching_of(const CutFace& face, double apart, bool is_falling);

// The point as a view shows it.
[[nodiscard]] Vec2 projected(const Look& look, Vec3 p);

// Puts a view on a sheet at a scale (paper mm per mm), its low corner (x, y up) at paper point
// `at`.
void draw(Sheet& sheet, const View& view, double scale, Vec2 at);
// Where a point of the view then lies.
[[nodiscard]] Vec2 on_paper(const View& view, double scale, Vec2 at, Vec2 p);

}  // namespace kw
