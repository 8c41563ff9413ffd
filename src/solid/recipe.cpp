#include "recipe.h"

#include <algorithm>

#include "kerfwright/lumber/choose.h"

#include "joints/kinds.h"
#include "own_cuts.h"

namespace kw {
namespace {

constexpr int most_holes = 20'000;  // in a piece

// A board that its own cuts leave nothing of joins nothing; bodies_of tells of it.
bool is_there(const JoinedBoard& board) {
  return board.board < 0 || !board.stick->wood.is_empty();
}

JoinedBoard joined(int board, const std::vector<Stick>& sticks, std::vector<Recipe>& recipes) {
  const auto at = static_cast<std::size_t>(board);
  return board < 0 ? JoinedBoard{} : JoinedBoard{board, &sticks[at], &recipes[at]};
}

std::optional<Patch> cut_joint(Joining& joining) {
  switch (joining.joint.kind) {
    case JointKind::half_lap:
      return cut_half_lap(joining);
    case JointKind::bridle:
      return cut_bridle(joining);
    case JointKind::notch:
      return cut_seat(joining, FeatureKind::notch);
    case JointKind::housing:
      return cut_seat(joining, FeatureKind::housing);
    case JointKind::rabbet:
      return cut_seat(joining, FeatureKind::rabbet);
    case JointKind::groove:
      return cut_seat(joining, FeatureKind::groove);
    case JointKind::tenon:
      return cut_tenon(joining);
    case JointKind::butt:
    case JointKind::mitre:
    case JointKind::dowel:
    case JointKind::pocket_screw:
    case JointKind::toe_nail:
    case JointKind::screw:
    case JointKind::glue:
      return contact_of(joining);
  }
  return std::nullopt;
}

void work_alone(Joining& joining) {
  if (joining.joint.kind == JointKind::rabbet) cut_rabbet(joining);
  if (joining.joint.kind == JointKind::groove) cut_groove(joining);
}

// A joint that could not be cut has told why; nothing is drilled for it then.
void work(Joining& joining) {
  const std::size_t faults = joining.diagnostics.size();
  const auto patch = cut_joint(joining);
  if (joining.diagnostics.size() == faults) drill(joining, patch);
}

}  // namespace

std::vector<Recipe> recipes_of(const Resolved& piece, Diagnostics& diagnostics,
                               std::vector<Driven>* driven) {
  std::vector<Recipe> recipes;
  std::vector<Stick> sticks;
  for (const ResolvedBoard& board : piece.boards) {
    recipes.push_back(own_cuts_of(board));
    sticks.push_back(stick_of(board, recipes.back()));
  }
  Bits bits(piece);
  int holes_left = most_holes;
  for (std::size_t i = 0; i < piece.joints.size(); ++i) {
    const ResolvedJoint& joint = piece.joints[i];
    Joining joining{piece,
                    static_cast<int>(i),
                    joint,
                    joined(joint.a, sticks, recipes),
                    joined(joint.b, sticks, recipes),
                    bits,
                    holes_left,
                    diagnostics,
                    driven};
    if (!is_there(joining.a) || !is_there(joining.b)) continue;
    if (joint.b < 0)
      work_alone(joining);
    else
      work(joining);
  }
  return recipes;
}

std::vector<Driven> driven_in(const Resolved& piece) {
  std::vector<Driven> driven;
  Diagnostics told_by_bodies_of;
  static_cast<void>(recipes_of(piece, told_by_bodies_of, &driven));
  return driven;
}

void settle_fasteners(Resolved& piece) {
  const bool is_any = std::any_of(
      piece.joints.begin(), piece.joints.end(),
      [](const ResolvedJoint& joint) { return kind_by_rule(joint.fastener).has_value(); });
  if (!is_any) return;
  for (const Driven& driven : driven_in(piece)) {
    std::string& name = piece.joints[static_cast<std::size_t>(driven.joint)].fastener;
    if (kind_by_rule(name) && !driven.fastener.empty()) name = driven.fastener;
  }
}

}  // namespace kw
