// The order in which the boards are put together, read off the finished piece: what can be drawn
// off without going through wood is taken off, the last comes first, and the whole is told
// backwards (assembly by disassembly; Homem de Mello and Sanderson, "A correct and complete
// algorithm for the generation of mechanical assembly sequences", 1991, from memory).
//
// What is made apart first: the [use] groups of the file, and boards that are joined to one another
// in the same way twice or more (two equal side frames). `step` of a joint in the file goes before
// all of this.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/parts/cut_list.h"

namespace kw {

// Where a board that is put on covers another: marks to set out on `on`, from its hook end.
struct SetOut {
  int on = 0, of = 0;  // bodies
  ShopFigure from = {}, to = {};
};

// Two distances from corner to corner of a frame; equal when it is square.
struct Diagonals {
  int a = 0, b = 0;  // the two equal boards that they run between (bodies)
  ShopFigure one = {}, other = {};
};

struct AssemblyStep {
  std::string name = {};       // for the file's [step.NAME]: the first board or group put on
  std::vector<int> adds = {};  // bodies that are new to the work
  std::vector<int> frames =
      {};  // of those, what was made apart: indices into Assembly::subs, one each
  std::vector<int> onto = {};    // bodies of the work that they are joined to or touch
  std::vector<int> joints = {};  // indices into Resolved::joints, made in this step
  std::vector<SetOut> marks = {};
  std::vector<Diagonals> checks = {};
  Vec3 from = {};  // unit vector, world: what is added comes from there; zero: no straight way in
  int sub = -1;    // index into Assembly::subs: the work that the step belongs to; -1: the whole
  bool is_first = false;    // nothing is there yet
  bool is_at_once = false;  // no order was found: the boards lock one another
};

// Something made apart before it is put on.
struct SubAssembly {
  std::string name = {};  // of the group, or "A-D" from the letters of its parts
  std::vector<std::vector<int>> copies = {};  // bodies of each; the first is the one that is told
};

struct Assembly {
  std::vector<SubAssembly> subs = {};
  std::vector<AssemblyStep> steps = {};  // in order of work
  std::vector<int> step_of_body = {};    // when each body joins the whole; index into steps
  // mm, world: how far each body is drawn away in an exploded view: in all, and with what was made
  // apart still together.
  std::vector<Vec3> apart = {}, apart_in_whole = {};
};

// Needs contacts of the bodies, up to the widest ease of a joint (contacts_in's default does).
// Pure; at most about bodies^2 tests whether a way is clear.
[[nodiscard]] Assembly assembly_of(const Resolved& piece, const std::vector<Body>& bodies,
                                   const CutList& cut_list, const std::vector<Contact>& contacts);

}  // namespace kw
