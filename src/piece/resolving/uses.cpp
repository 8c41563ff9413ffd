// Assemblies where they are used: each worked out in its own frame, then carried to its place.
#include <algorithm>
#include <fmt/format.h>

#include "place.h"
#include "steps.h"

namespace kw::resolving {
namespace {

// Where the assembly's frame goes: mirrored first, then turned, then moved.
std::optional<Motion> motion_of(Scene& scene, const UseDecl& decl) {
  Motion motion;
  if (decl.mirror) {
    const auto axis = axis_of(scene.work, *decl.mirror);
    if (!axis) return std::nullopt;
    motion = mirrored_in({*axis, 0});
  }
  if (decl.turn) {
    const auto angle = scene.work.values.angle(*decl.turn, scene.site);
    const auto axis = decl.about ? axis_of(scene.work, *decl.about) : std::optional(Vec3{0, 0, 1});
    if (!angle || !axis) return std::nullopt;
    motion = in_turn(motion, turned_about({}, *axis, *angle));
  }
  if (!decl.at) return motion;
  const auto at = point_of(scene.work, scene.site, *decl.at);
  if (!at) return std::nullopt;
  return in_turn(motion, shifted_by(*at));
}

bool is_in_itself(Scene& scene, int scope, const UseDecl& decl) {
  const Sites& sites = scene.work.sites;
  Diagnostic fault{.code = "piece.cycle",
                   .at = decl.assembly.at,
                   .message = fmt::format("assembly `{}` uses itself", decl.assembly.text),
                   .hint = "take one of these uses away"};
  for (int site = scene.site; site > 0; site = sites[site].parent) {
    if (sites[site].scope == scope) {
      std::reverse(fault.notes.begin(), fault.notes.end());
      scene.work.faults.report(std::move(fault));
      return true;
    }
    if (const UseDecl* use = sites[site].use)
      fault.notes.push_back(
          {use->assembly.at, fmt::format("`{}` is used here", use->assembly.text)});
  }
  return false;
}

void check_with(Scene& scene, int scope, const UseDecl& decl) {
  const NameTable& own = scene.work.given.names.scopes[at_index(scope)].derived;
  for (const DerivedDecl& given : decl.with) {
    if (find(own, given.name.text)) continue;
    scene.work.faults.report(
        {.code = "piece.unknown-name",
         .at = given.name.at,
         .message = fmt::format("assembly `{}` has no derived value `{}`", decl.assembly.text,
                                given.name.text),
         .hint = hint_for(given.name.text, names_in(own), "derived values of the assembly")});
  }
}

// The number of the scope that is used, or nothing when it cannot be.
std::optional<int> scope_used(Scene& scene, const UseDecl& decl) {
  const auto found = find(scene.work.given.names.assemblies, decl.assembly.text);
  if (!found) {
    if (!decl.assembly.text.empty())
      scene.work.faults.report(
          {.code = "piece.unknown-assembly",
           .at = decl.assembly.at,
           .message = fmt::format("no assembly is called `{}`", decl.assembly.text),
           .hint = hint_for(decl.assembly.text, names_in(scene.work.given.names.assemblies),
                            "assemblies")});
    return std::nullopt;
  }
  const int scope = *found + 1;
  if (is_in_itself(scene, scope, decl)) return std::nullopt;
  if (scene.work.sites[scene.site].depth < deepest_assembly) return scope;
  scene.work.faults.report(
      {.code = "piece.too-deep",
       .at = decl.assembly.at,
       .message = fmt::format("assemblies are used more than {} deep", deepest_assembly),
       .hint = "use some of them side by side"});
  return std::nullopt;
}

// A part as it stands after the motion; its ends are settled and its cuts are its own.
Part carried(Part part, const Motion& motion, const std::string& use) {
  ResolvedBoard& board = part.board;
  board.id = fmt::format("{}/{}", use, board.id);
  board.group = board.group.empty() ? use : fmt::format("{}/{}", use, board.group);
  board.frame = moved(board.frame, motion);
  part.source = -1;
  part.is_flipped = false;
  for (EndCut& end : part.ends) {
    end.decl = nullptr;
    if (motion.is_mirror) end.plane = flipped(end.plane);
  }
  if (!motion.is_mirror) return part;
  part.features = flipped(part.features);
  board.is_mirrored = !board.is_mirrored;
  board.show = flipped_side(board.show);
  return part;
}

void place_use(Scene& scene, const UseDecl& decl) {
  Work& work = scene.work;
  const auto scope = scope_used(scene, decl);
  const auto motion = motion_of(scene, decl);
  if (!scope) return;
  check_with(scene, *scope, decl);
  if (!spend(work, work.budget.uses, 1, decl.name.at, "uses")) return;
  const int depth = work.sites[scene.site].depth + 1;
  const int site =
      work.sites.open({.scope = *scope, .parent = scene.site, .use = &decl, .depth = depth});
  Scene inner = work_out(work, site);
  if (!motion) return;
  Crowd crowd{.name = decl.name.text};
  const int first = static_cast<int>(scene.parts.size());
  for (Part& part : inner.parts) {
    crowd.parts.push_back(static_cast<int>(scene.parts.size()));
    Part here = carried(std::move(part), *motion, decl.name.text);
    scene.by_id.emplace(here.board.id, crowd.parts.back());
    scene.parts.push_back(std::move(here));
  }
  for (Joined& joined : inner.joints) {
    if (motion->is_mirror) joined.joint = flipped(std::move(joined.joint), true, true);
    joined.joint.id = fmt::format("{}/{}", decl.name.text, joined.joint.id);
    joined.joint.a += first;
    if (joined.joint.b >= 0) joined.joint.b += first;
    joined.origin = static_cast<int>(scene.joints.size());
    joined.is_settled = true;
    scene.joints.push_back(std::move(joined));
  }
  scene.crowds.push_back(std::move(crowd));
}

}  // namespace

void place_uses(Scene& scene) {
  for (const UseDecl& decl : scene.scope().uses) place_use(scene, decl);
}

}  // namespace kw::resolving
