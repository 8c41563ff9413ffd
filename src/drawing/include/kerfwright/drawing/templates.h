// Templates at full size, to be glued on the wood or on a stick: outlines and holes of parts,
// gauges to set a saw by, story sticks; and their tiling over sheets of paper.
//
// Guarantees: one millimetre of a sheet is one millimetre of wood (`Sheet::is_full_size`), at the
// exact sizes of the part, not at the printed ones. Figures written beside are the printed ones.
// Tiles hold registration marks on every seam, a map, and a ruler to check the printer by.
#pragma once

#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/drawing/sheet.h"
#include "kerfwright/measure/text.h"
#include "kerfwright/parts/cut_list.h"
#include "kerfwright/solid/body.h"

namespace kw {

struct TemplateStyle {
  Vec2 page = {180, 247};   // what the printer's page leaves free, mm
  double overlap = 12;      // of neighbouring tiles, mm; at least 4
  double longest = 1300;    // no template is made of a part longer than this, mm
  LengthStyle length = {};  // how figures are written
};

// Whether a part is sawn to a template: it is curved, or no mitre saw makes one of its cuts.
[[nodiscard]] bool wants_outline(const Part& part);
// The sides of a part that are drilled by a template: two holes or more in them, in a part made
// more than once; or any hole in an end.
[[nodiscard]] std::vector<Side> drilled_sides(const Part& part);

// One side of a part seen square on, hook end left (an end: marked edge towards the reader's left
// at the hook end, right at the far end), with what is sawn and drilled into it: outlines, notches,
// the centre and the diameter of every hole that starts there. Left hand of a pair; the right hand
// is the same paper turned over.
[[nodiscard]] Sheet side_template(const std::vector<Body>& bodies, const CutList& cut_list,
                                  int part, Side side, const TemplateStyle& style);

// A card for each angle that a saw is set to, to lay between fence and blade; several on a sheet.
[[nodiscard]] std::vector<Sheet> angle_gauges(const CutList& cut_list, const TemplateStyle& style);

enum class StickOf : std::uint8_t { width, depth, height, lengths };
// A strip with marks where boards begin and end along the piece's width (x), depth (y) or height
// (z); or with the length of each part from the hook end. Boards that lie askew to the direction
// are not on it.
[[nodiscard]] Sheet story_stick(const Resolved& piece, const std::vector<Body>& bodies,
                                const CutList& cut_list, StickOf what, const TemplateStyle& style);

// A sheet at full size cut to pages. One that fits on a page comes as that page; else the map comes
// first. One so low that two go on a page comes as strips of its height. Tiles through which
// nothing but straight lines pass, or nothing, are left out; the map says so. No page is larger
// than `style.page`. Nothing when it would take over 400 pages.
[[nodiscard]] std::vector<Sheet> tiles_of(const Sheet& whole, const TemplateStyle& style);

// All of the piece, tiled, in the order of the cut list: outlines, drilled sides, gauges, sticks;
// what is low shares a page with what follows it.
[[nodiscard]] std::vector<Sheet> templates_of(const Resolved& piece,
                                              const std::vector<Body>& bodies,
                                              const CutList& cut_list, const TemplateStyle& style);

}  // namespace kw
