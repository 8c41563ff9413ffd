// Private to solid: the borders of faces as rings over shared points. Faces are made one by one, so
// their corners agree only nearly; here they are made to agree.
#pragma once

#include <cstdint>
#include <vector>

#include "kerfwright/solid/body.h"

namespace kw {

inline constexpr double one_point = 1e-4;  // mm: corners nearer than this are one

struct Ring {
  int face = 0;  // index into the faces
  std::vector<std::uint32_t> points = {};
};

// Points are more than one_point apart. A ring meets no point twice: loops that touch themselves
// are parted there, and what runs out and back the same way is left out. Rings are in the order of
// the faces.
struct Net {
  std::vector<Vec3> points = {};
  std::vector<Ring> rings = {};
};
[[nodiscard]] Net net_of(const std::vector<Face>& faces);

// Splits every edge at the corners that lie on it. True when there was anything to split, or when
// two corners of one ring are one.
bool split_at_corners(Net& net);

// Makes the rings bound a closed solid: each edge is used as often one way as the other. Edges that
// are not are split at the corners of other such edges that lie on them; what is open after that
// (slits about as thin as one_point) is filled with rings of its own, of the face beside it.
void close_seams(Net& net);

// How many separate pieces of wood (of more than 1e-3 mm^3) the closed net bounds. Rings belong
// together where they share an edge that is used once each way, so a bare line or point does not
// hold wood together.
[[nodiscard]] int pieces_in(const Net& net, const std::vector<Face>& faces);

}  // namespace kw
