// The sheets of a piece: the whole, and each part with its dimensions from the hook end.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "kerfwright/cutting/problem.h"
#include "kerfwright/drawing/sheet.h"
#include "kerfwright/measure/text.h"
#include "kerfwright/parts/closing.h"
#include "kerfwright/parts/cut_list.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/solid/body.h"

namespace kw {

struct SheetStyle {
  double width = 180;       // of the sheet, mm
  double tallest = 240;     // scale is chosen so that the sheet stays within this
  LengthStyle length = {};  // how figures are written
};

// The piece from right, front and above, with the boards' letters and its overall sizes.
[[nodiscard]] Sheet overall_sheet(const Resolved& piece, const std::vector<Body>& bodies,
                                  const CutList& cut_list, const SheetStyle& style);
// Front, side and top, to one scale, with overall sizes.
[[nodiscard]] Sheet elevations_sheet(const Resolved& piece, const std::vector<Body>& bodies,
                                     const CutList& cut_list, const SheetStyle& style);
// The piece cut open where that shows most of what lies inside: the section, hatched, its boards
// lettered, beside the view that the plane is marked on. Nothing for a piece that has no joint
// inside the wood and no hollow.
[[nodiscard]] std::optional<Sheet> section_sheet(const Resolved& piece,
                                                 const std::vector<Body>& bodies,
                                                 const CutList& cut_list, const SheetStyle& style);
// What a board's share of its limit is painted with: light where it has much to spare, dark past
// the limit. Each is darker than the last, so that the order is seen in grey, and by whoever does
// not tell red from green. The last holds all above 1.
struct ShareBand {
  double to = 0;
  Tint tint = {};
};
[[nodiscard]] const std::array<ShareBand, 5>& share_bands();
[[nodiscard]] Tint tint_of_share(double share);

// The piece from its corner, each body painted by its share of what it may be counted on for (below
// zero: not known, left white), with the scale, and the greatest pointed at.
[[nodiscard]] Sheet shares_sheet(const std::vector<Body>& bodies, const std::vector<double>& shares,
                                 const SheetStyle& style);

// A step of the assembly: what is there, and what is put on, drawn `moved` (mm, world) away from
// its place. The parts that are put on, and those they go `onto`, are lettered.
struct StepPicture {
  std::string name = {}, title = {};                   // of the sheet
  std::vector<int> there = {}, added = {}, onto = {};  // bodies
  std::vector<Vec3> moved = {};                        // one for each of `added`
};
[[nodiscard]] Sheet step_sheet(const std::vector<Body>& bodies, const CutList& cut_list,
                               const StepPicture& picture, const SheetStyle& style);
// One part as it lies on the bench: face and edge, running dimensions from the hook end, angles,
// depths, holes, left/right told in words. Up to two steps of scale smaller where it would be
// taller than `style.tallest`; a part with much to tell may be taller still.
[[nodiscard]] Sheet part_sheet(const Resolved& piece, const std::vector<Body>& bodies,
                               const CutList& cut_list, int part, const SheetStyle& style);
// Each stick of one stock with the parts on it, angled ends drawn true, kerfs and offcuts, to
// scale; under each part its length over all and the name of its stop. `proof` is said above them.
// As many sheets as it takes, none taller than `style.tallest`.
[[nodiscard]] std::vector<Sheet> sawing_sheets(const Job& job, const StockPlan& plan,
                                               const std::string& proof, const SheetStyle& style);

// Each sheet of one stock with the parts on it, to scale: the cuts numbered in the order in which
// they are made, the grain, the trim, what is left over. Boards sawn to several widths likewise.
[[nodiscard]] std::vector<Sheet> sheet_sheets(const Job& job, const SheetStockPlan& plan,
                                              const std::string& proof, const SheetStyle& style);

// A printed figure in the piece's way: `29 11/16"`.
[[nodiscard]] std::string written(Length length, const SheetStyle& style);

}  // namespace kw
