// The steps by which a scene is worked out, in their order.
#pragma once

#include "scene.h"

namespace kw::resolving {

void lay_boards(Scene& scene);    // lay.cpp
void lay_panels(Scene& scene);    // panels.cpp
void place_uses(Scene& scene);    // uses.cpp
void make_copies(Scene& scene);   // copies.cpp
void find_ends(Scene& scene);     // ends.cpp
void cut_planes(Scene& scene);    // cuts.cpp
void join(Scene& scene);          // joints.cpp
void enter_others(Scene& scene);  // entering.cpp: ends that go into other boards
void cut_corners(Scene& scene);   // corners.cpp
void bore_holes(Scene& scene);    // holes.cpp

// A plane in a board's frame without the noise of turning from frame to frame, so that boards that
// are laid alike are equal to the bit: parts of the normal below 1e-12 are 0, the offset is to 1e-9
// mm.
[[nodiscard]] Plane tidied(const Plane& plane);

// The side of a stick that a word names, "+y" "-y" "+z" "-z": its plane in the board's frame.
[[nodiscard]] std::optional<Plane> long_side(std::string_view word, const Section& section);

// The [show] side of a declaration as "+z", "-z", "+y", "-y"; "" (piece.unknown-word) when it is
// none.
[[nodiscard]] std::string show_of(Work& work, const std::optional<Name>& word);

// The id of a declaration of this scene, as copies of it name it. Declared in an assembly, a board
// is called after both, so that all its uses are copies of one thing.
[[nodiscard]] std::string declared_id(const Scene& scene, const std::string& name);

// Finds the stock of a board or panel: its index among the resolved, or -1 (piece.unknown-stock).
[[nodiscard]] int stock_called(Work& work, const Name& name);

}  // namespace kw::resolving
