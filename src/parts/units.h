// Private to parts: what is made apart first, and the ways in which one thing can be drawn off
// others.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/parts/assembly.h"
#include "kerfwright/parts/extent.h"

namespace kw {

// Something that is put on as one: a board, or boards joined before.
struct PutUnit {
  std::vector<int> bodies = {};
  int sub = -1;           // index into Assembly::subs
  std::string kind = {};  // the letters of its parts, sorted: equal units are of one kind
  std::string name = {};  // of its board or group
};

// Joints and touches between bodies.
struct Ties {
  struct Touch {
    int other = 0;
    Vec3 away = {};  // from the other into this body: unit vector, world
    double area = 0;
  };
  std::vector<std::vector<Touch>> touches = {};                 // by body
  std::map<std::pair<int, int>, std::vector<int>> joints = {};  // by pair of bodies, a < b
  std::vector<Extent> boxes = {};                               // by body
};
[[nodiscard]] Ties ties_of(const Resolved& piece, const std::vector<Body>& bodies,
                           const std::vector<Contact>& contacts);
// Around all of these bodies.
[[nodiscard]] Extent extent_of(const Ties& ties, const std::vector<int>& bodies);
[[nodiscard]] const std::vector<int>* joints_between(const Ties& ties, int a, int b);

// The sets that joints hold together, each sorted.
[[nodiscard]] std::vector<std::vector<int>> joined_sets(const std::vector<int>& bodies,
                                                        const Ties& ties);

// Joined sets of `bodies` that occur twice or more, alike in their parts; each set of two or more,
// grown part by part as long as the sets stay apart. The first of each list is the one to be
// told.
[[nodiscard]] std::vector<std::vector<std::vector<int>>> twins_in(const std::vector<int>& bodies,
                                                                  const CutList& cut_list,
                                                                  const Ties& ties);

// A direction in which `moving` can be drawn off `rest` without passing through it: judged by the
// faces that touch, then by trying some distances. None when there is none among those tried: the
// axes, the normals of touching faces, and what runs along two of them.
[[nodiscard]] std::optional<Vec3> way_off(const std::vector<Body>& bodies, const Ties& ties,
                                          const std::vector<int>& moving,
                                          const std::vector<int>& rest);

}  // namespace kw
