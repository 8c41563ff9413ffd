// Private to drawing: what the sheets of the whole piece and of its steps share.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/drawing/view.h"

namespace kw {

// Bodies with the meshes that `shown` points at.
struct ShownBodies {
  std::vector<std::shared_ptr<const Mesh>> meshes = {};
  std::vector<Shown> shown = {};
};
[[nodiscard]] ShownBodies shown_bodies(const std::vector<Body>& bodies);
[[nodiscard]] View view_of_bodies(const std::vector<Body>& bodies, const Look& look,
                                  bool with_hidden);

struct Pointer {
  Vec2 at = {};  // paper
  std::string letter = {};
  int part = -1;
};

// Where each part is pointed at: the middle of the longest visible line of its most visible member.
// `shown[i]` is the body that the view calls i; empty: the view has all bodies as they are
// numbered.
[[nodiscard]] std::vector<Pointer> pointers_of(const View& view, const CutList& list,
                                               const std::vector<int>& shown, double scale,
                                               Vec2 origin);

// Balloons in two columns beside the view, each on the side its part is nearer to. Returns how far
// down they reach: below `bottom` where there are more of them than have room above it.
double add_balloons(Sheet& sheet, std::vector<Pointer> pointers, double top, double bottom);

}  // namespace kw
