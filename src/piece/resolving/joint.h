// Private to the joining: what a [joint] says, and whether two boards can be joined so.
#pragma once

#include "steps.h"

namespace kw::resolving {

// The joint that a declaration describes, its boards not yet known; nothing when a figure or word
// of it cannot be had.
[[nodiscard]] std::optional<ResolvedJoint> joint_of(Scene& scene, const JointDecl& decl);

// Whether it can be made in these boards (b: null when it is cut into one board). Tells why not.
[[nodiscard]] bool can_be_made(Scene& scene, const JointDecl& decl, const ResolvedJoint& joint,
                               const Part& a, const Part* b);

// Which boards of a scene meet: their bodies overlap, or are within 0.5 mm of one another.
class Meetings {
 public:
  explicit Meetings(Scene& scene) : scene_(scene), bodies_(scene.parts.size()) {}

  [[nodiscard]] double gap(int a, int b);  // at least; 0 when they touch or overlap
  // False also, with piece.too-many at `at`, when too much has been compared.
  [[nodiscard]] bool do_meet(int a, int b, Span at);
  // All that a part meets, by number; not what it touches in an edge or corner only.
  [[nodiscard]] const std::vector<int>& met_by(int part, Span at);

 private:
  [[nodiscard]] const Convex& body(int part);
  void find_all(Span at);

  Scene& scene_;
  std::vector<std::optional<Convex>> bodies_;
  std::optional<std::vector<std::vector<int>>> met_ = {};
};

}  // namespace kw::resolving
