// Joints between boards: as declared, for every pair that meets, and along with copies.
#include <algorithm>
#include <fmt/format.h>
#include <set>

#include "joint.h"

namespace kw::resolving {
namespace {

using Pair = std::pair<int, int>;
Pair ordered(int a, int b) {
  return {std::min(a, b), std::max(a, b)};
}

// Where parts go in each copy of a laying.
class Copied {
 public:
  Copied(const Scene& scene, const Copying& copying);
  // The k-th copy of a source; of a copy of the same laying, the copy as far on from it (a joint
  // between a board and the next in a row goes on along the row); any other part itself. -1 when
  // there is none.
  [[nodiscard]] int of(int part, std::size_t k) const;
  [[nodiscard]] bool is_source(int part) const {
    return part >= 0 && stands_[at_index(part)].turn == 0;
  }
  [[nodiscard]] const CopyDecl& decl() const { return *copying_.decl; }
  [[nodiscard]] std::size_t count() const { return copying_.copies.size(); }

 private:
  // Which source, and how many steps on from it; -1: not of this laying.
  struct Stand {
    int source = -1, turn = -1;
  };
  const Copying& copying_;
  std::vector<Stand> stands_;
};

Copied::Copied(const Scene& scene, const Copying& copying)
    : copying_(copying), stands_(scene.parts.size()) {
  for (std::size_t i = 0; i < copying.sources.size(); ++i) {
    stands_[at_index(copying.sources[i])] = {static_cast<int>(i), 0};
    for (std::size_t k = 0; k < copying.copies.size(); ++k)
      if (copying.copies[k][i] >= 0)
        stands_[at_index(copying.copies[k][i])] = {static_cast<int>(i), static_cast<int>(k) + 1};
  }
}

int Copied::of(int part, std::size_t k) const {
  if (part < 0) return -1;
  const Stand& stand = stands_[at_index(part)];
  if (stand.turn < 0) return part;
  const auto* turn = std::get_if<TurnDecl>(&copying_.decl->how);
  const bool goes_round =
      std::holds_alternative<MirrorDecl>(copying_.decl->how) || (turn && !turn->angle);
  const std::size_t places = count() + 1;
  std::size_t place = at_index(stand.turn) + k + 1;
  if (goes_round) place %= places;
  if (place >= places) return -1;
  return place == 0 ? copying_.sources[at_index(stand.source)]
                    : copying_.copies[place - 1][at_index(stand.source)];
}

class Joiner {
 public:
  explicit Joiner(Scene& scene) : scene_(scene), meetings_(scene) {}
  void declare(const JointDecl& decl);
  void copy_along(const Copying& copying);

 private:
  void declare_in_one(const JointDecl& decl, const ResolvedJoint& joint);
  void declare_pair(const JointDecl& decl, const ResolvedJoint& joint, int a, int b);
  void declare_pairs(const JointDecl& decl, const ResolvedJoint& joint, const Selection& a,
                     const Selection& b);
  bool comes_with_source(int part, const std::vector<int>& of) const;
  bool is_allowed(const JointDecl& decl, const ResolvedJoint& joint, int a, int b);
  void add(ResolvedJoint joint, int a, int b, Span at);
  void copy_one(std::size_t index, const Copied& copied, std::size_t k);
  bool can_afford(const ResolvedJoint& joint, Span at);
  void tell_apart(const JointDecl& decl, int a, int b);

  Scene& scene_;
  Meetings meetings_;
  std::set<std::tuple<JointKind, Pair>> declared_ = {};
  std::set<std::pair<int, Pair>> done_ = {};  // by origin
};

void Joiner::add(ResolvedJoint joint, int a, int b, Span at) {
  if (!can_afford(joint, at)) return;
  joint.a = a;
  joint.b = b;
  const int index = static_cast<int>(scene_.joints.size());
  declared_.emplace(joint.kind, ordered(a, b));
  done_.emplace(index, ordered(a, b));
  scene_.joints.push_back({.joint = std::move(joint), .origin = index});
}

bool Joiner::can_afford(const ResolvedJoint& joint, Span at) {
  const std::size_t letters =
      joint.id.size() + joint.note.size() + joint.fastener.size() + joint.glue.size();
  return spend(scene_.work, scene_.work.budget.joints, 1, at, "joints") &&
         spend_letters(scene_.work, letters, at);
}

void Joiner::declare(const JointDecl& decl) {
  auto joint = joint_of(scene_, decl);
  if (decl.of.empty() || decl.of.size() > 2) return;
  if (decl.of.size() == 1) {
    if (joint) declare_in_one(decl, *joint);
    return;
  }
  const Selection a = select(scene_, decl.of[0]), b = select(scene_, decl.of[1]);
  if (!joint || a.parts.empty() || b.parts.empty()) return;
  joint->id = decl.name.text;
  if (a.is_single && b.is_single)
    declare_pair(decl, *joint, a.parts.front(), b.parts.front());
  else
    declare_pairs(decl, *joint, a, b);
}

// Whether a part is a copy, made with its joints, of one of these.
bool Joiner::comes_with_source(int part, const std::vector<int>& of) const {
  const int source = scene_.part(part).source;
  if (std::find(of.begin(), of.end(), source) == of.end()) return false;
  return std::any_of(scene_.copyings.begin(), scene_.copyings.end(), [&](const Copying& copying) {
    return copying.decl->with_joints &&
           std::any_of(copying.copies.begin(), copying.copies.end(), [&](const auto& copies) {
             return std::find(copies.begin(), copies.end(), part) != copies.end();
           });
  });
}

void Joiner::declare_in_one(const JointDecl& decl, const ResolvedJoint& joint) {
  const Selection selection = select(scene_, decl.of.front());
  int number = 0;
  for (const int part : selection.parts) {
    ++number;
    // A copy has what its source has; it is not cut twice.
    if (scene_.part(part).is_broken || comes_with_source(part, selection.parts)) continue;
    if (!can_be_made(scene_, decl, joint, scene_.part(part), nullptr)) return;
    ResolvedJoint own = joint;
    own.id = selection.is_single ? decl.name.text : fmt::format("{}/{}", decl.name.text, number);
    add(std::move(own), part, -1, decl.name.at);
  }
}

bool Joiner::is_allowed(const JointDecl& decl, const ResolvedJoint& joint, int a, int b) {
  return !scene_.part(a).is_broken && !scene_.part(b).is_broken &&
         can_be_made(scene_, decl, joint, scene_.part(a), &scene_.part(b));
}

void Joiner::declare_pair(const JointDecl& decl, const ResolvedJoint& joint, int a, int b) {
  if (a == b) {
    scene_.work.faults.report(
        {.code = "piece.joint-with-itself",
         .at = decl.of[1].at,
         .message = fmt::format("`{}` cannot be joined with itself", decl.of[1].text),
         .hint = "name two boards"});
    return;
  }
  if (!is_allowed(decl, joint, a, b)) return;
  if (!meetings_.do_meet(a, b, decl.name.at)) return tell_apart(decl, a, b);
  add(joint, a, b, decl.name.at);
}

void Joiner::tell_apart(const JointDecl& decl, int a, int b) {
  scene_.work.faults.report(
      {.code = "piece.joint-apart",
       .at = decl.name.at,
       .message = fmt::format("`{}` and `{}` do not meet: they are at least {} apart",
                              scene_.part(a).board.id, scene_.part(b).board.id,
                              scene_.work.faults.length(meetings_.gap(a, b))),
       .notes = {{decl.of[0].at, "this board"}, {decl.of[1].at, "and this one"}},
       .hint = "move one of them, or let its end run up to the other: { against = ... }"});
}

void Joiner::declare_pairs(const JointDecl& decl, const ResolvedJoint& joint, const Selection& a,
                           const Selection& b) {
  std::vector<bool> is_b(scene_.parts.size());
  for (const int part : b.parts) is_b[at_index(part)] = true;
  std::set<Pair> found;
  bool is_sound = true;
  for (const int one : a.parts)
    for (const int other :
         scene_.part(one).is_broken ? std::vector<int>{} : meetings_.met_by(one, decl.name.at)) {
      if (!spend(scene_.work, scene_.work.budget.comparisons, 1, decl.name.at, "pairs of boards"))
        return;
      if (!is_b[at_index(other)] || !found.insert(ordered(one, other)).second) continue;
      if (!can_be_made(scene_, decl, joint, scene_.part(one), &scene_.part(other))) return;
      ResolvedJoint own = joint;
      own.id = fmt::format("{}/{}", decl.name.text, found.size());
      add(std::move(own), one, other, decl.name.at);
    }
  const auto is_broken = [&](int part) { return scene_.part(part).is_broken; };
  is_sound = std::none_of(a.parts.begin(), a.parts.end(), is_broken) &&
             std::none_of(b.parts.begin(), b.parts.end(), is_broken);
  if (!found.empty() || !is_sound) return;
  scene_.work.faults.report(
      {.code = "piece.no-pair-meets",
       .at = decl.name.at,
       .message =
           fmt::format("no board of `{}` meets one of `{}`", decl.of[0].text, decl.of[1].text),
       .hint = "boards meet when they touch or overlap, within 1/64 in or 0.5 mm"});
}

void Joiner::copy_one(std::size_t index, const Copied& copied, std::size_t k) {
  const Joined& from = scene_.joints[index];
  const bool is_alone = from.joint.b < 0;
  const int a = copied.of(from.joint.a, k), b = copied.of(from.joint.b, k);
  const Span at = copied.decl().name.at;
  if (a < 0 || (!is_alone && b < 0) || scene_.part(a).is_broken ||
      (!is_alone && scene_.part(b).is_broken))
    return;
  const bool are_both_copied =
      is_alone || (copied.is_source(from.joint.a) && copied.is_source(from.joint.b));
  if (!is_alone && declared_.count({from.joint.kind, ordered(a, b)}) > 0) return;
  if (done_.count({from.origin, ordered(a, b)}) > 0) return;
  if (!are_both_copied && !meetings_.do_meet(a, b, at)) return;
  if (!can_afford(from.joint, at)) return;
  done_.emplace(from.origin, ordered(a, b));
  Joined copy = from;
  const bool is_mirror = std::holds_alternative<MirrorDecl>(copied.decl().how);
  if (is_mirror) copy.joint = flipped(std::move(copy.joint), a != from.joint.a, b != from.joint.b);
  copy.joint.a = a;
  copy.joint.b = b;
  const std::string& name = copied.decl().name.text;
  copy.joint.id = is_mirror ? fmt::format("{}/{}", name, from.joint.id)
                            : fmt::format("{}/{}/{}", name, from.joint.id, k + 2);
  scene_.joints.push_back(std::move(copy));
}

// A joint of a board that is copied is copied with it. Its partner's copy takes the partner's
// place; where the partner is not copied it stays, and where copy and partner do not meet there is
// no joint.
void Joiner::copy_along(const Copying& copying) {
  const Copied copied(scene_, copying);
  const std::size_t count = scene_.joints.size();
  for (std::size_t j = 0; j < count; ++j) {
    if (!copied.is_source(scene_.joints[j].joint.a) && !copied.is_source(scene_.joints[j].joint.b))
      continue;
    for (std::size_t k = 0; k < copied.count(); ++k) copy_one(j, copied, k);
  }
}

}  // namespace

void join(Scene& scene) {
  Joiner joiner(scene);
  for (const JointDecl& decl : scene.scope().joints) joiner.declare(decl);
  for (const Copying& copying : scene.copyings)
    if (copying.decl->with_joints) joiner.copy_along(copying);
}

}  // namespace kw::resolving
