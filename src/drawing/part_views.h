// Private to drawing: the views of a part sheet, each with its figures.
#pragma once

#include <vector>

#include "kerfwright/drawing/sheets.h"

namespace kw {

struct PartDrawing {
  const std::vector<Body>* bodies = nullptr;
  const CutList* list = nullptr;
  const Part* part = nullptr;
  const SheetStyle* style = nullptr;
  const Resolved* piece = nullptr;
  double scale = 1;
  double end_share = 1;  // of the size that an end view may have
  double x0 = 0;         // paper, of the hook end in face and edge view
  [[nodiscard]] double right() const { return x0 + part->size.x * scale; }
  [[nodiscard]] std::string text(int figure) const;
  [[nodiscard]] double mm(int figure) const;  // exact
};

// Room that figures need left and right of the views, mm.
[[nodiscard]] double room_left(const PartDrawing& drawing);
[[nodiscard]] double room_right(const PartDrawing& drawing);

// Each draws below `top` and gives the y that it reaches to.
double add_face_view(Sheet& sheet, const PartDrawing& drawing, double top);
double add_edge_view(Sheet& sheet, const PartDrawing& drawing, double top);
// The ends that say more than a rectangle: bevels along the grain, tilts, holes and sockets.
double add_end_views(Sheet& sheet, const PartDrawing& drawing, double top);

// 1:1, 1:2, ... whichever is not above `most`.
[[nodiscard]] double nice_scale(double most);

}  // namespace kw
