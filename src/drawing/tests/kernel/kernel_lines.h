// Private to the tests of drawing: views as the geometry kernel draws them (HLRBRep_Algo), which
// works on true planes and true cylinders, and how far two drawings agree.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/drawing/view.h"
#include "kerfwright/piece/resolved.h"

namespace kw::test {

[[nodiscard]] std::vector<std::string> starters();
[[nodiscard]] Resolved piece_of(const std::string& name);

// The kernel's lines: of the solids as they are, or with faces in one plane made one; behind the
// plane only, when there is one (what lies where its normal points is taken away).
[[nodiscard]] std::vector<ViewLine> lines_of_kernel(const Resolved& piece, const Look& look,
                                                    bool is_unified,
                                                    const std::optional<Plane>& cut = {});
// The area of the faces that the plane cuts, mm^2, of each board.
[[nodiscard]] std::vector<double> cut_areas_of_kernel(const Resolved& piece, const Plane& cut);

// What is shown to a view.
struct Scene {
  std::vector<Body> bodies = {};
  std::vector<std::shared_ptr<const Mesh>> meshes = {};
  std::vector<Shown> shown = {};
};
[[nodiscard]] Scene scene_of(const Resolved& piece);

// Outlines and edges alike, joined.
[[nodiscard]] std::vector<ViewLine> without_weights(std::vector<ViewLine> lines);

[[nodiscard]] double length_of(const std::vector<ViewLine>& lines, Pen pen);

// Length of the lines seen (or hidden) of one drawing where the other has none; hidden lines that
// run on seen ones of their own drawing are not counted, for the seen one is drawn.
[[nodiscard]] double alone(const std::vector<ViewLine>& lines, const std::vector<ViewLine>& others,
                           bool seen);

}  // namespace kw::test
