// Convex bodies: a board as a box cut by planes, and how far two of them are apart.
#pragma once

#include <optional>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw::resolving {

struct Convex {
  struct Side {
    Plane plane = {};             // looks out of the body
    std::vector<Vec3> loop = {};  // corners, counter-clockwise seen from outside
  };
  std::vector<Side> sides = {};    // none: nothing is left of it
  std::vector<Vec3> corners = {};  // of all loops, each once
  std::vector<Vec3> edges = {};    // unit directions of all sides' edges, each once, up to sign
  Vec3 low = {}, high = {};        // the box around it
};

struct Box {
  double from_x = 0, to_x = 0, half_width = 0, half_thickness = 0;
};

// The box in a frame, cut by planes of that frame (the wood is where distance <= 0), in the world.
[[nodiscard]] Convex convex_of(const Box& box, const std::vector<Plane>& cuts, const Frame& frame);

// From the least to the greatest dot(direction, p).
struct Reach {
  double from = 0, to = 0;
};
[[nodiscard]] Reach reach_of(const Convex& body, Vec3 direction);

// How far the bodies are apart at least: the widest gap along the normals of their sides and the
// common normals of their edges (so 0 only when they touch or overlap; exact but for corner against
// corner). Stops looking once a gap wider than `enough` is found.
[[nodiscard]] double gap_between(const Convex& a, const Convex& b, double enough);

// Whether two bodies that touch do so in an edge or corner only: less than `by` beside one another
// in more than one direction.
[[nodiscard]] bool meet_in_an_edge(const Convex& a, const Convex& b, double by);

[[nodiscard]] bool are_boxes_apart(const Convex& a, const Convex& b, double by);

}  // namespace kw::resolving
