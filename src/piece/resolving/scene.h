// A site as it is built up: its boards, those of its uses and their copies, and the joints between
// them.
//
// The steps, in the order of work_out(): lay the boards and panels (lay.cpp), place the uses, make
// the copies (copies.cpp), find the ends (ends.cpp), cut (cuts.cpp), join (joints.cpp), move the
// ends that go into other boards (entering.cpp), round corners and bore holes.
#pragma once

#include <array>
#include <map>

#include "convex.h"
#include "motion.h"
#include "work.h"

namespace kw::resolving {

enum class EndState : std::uint8_t { open, busy, done };

struct EndCut {
  EndState state = EndState::open;
  const EndDecl* decl = nullptr;  // null: square, or as the source's
  Plane plane = {};               // in the board's frame; the wood is where distance <= 0
};
enum Which : std::size_t { at_start = 0, at_end = 1 };

// A board or panel at work. `board` gets its cuts, hollows, curves and holes when all is done.
struct Part {
  ResolvedBoard board = {};
  double length = 0;     // of its line
  double starts_at = 0;  // x, where its middle line leaves the start as the file cuts it
  std::array<EndCut, 2> ends = {};
  Features features = {};
  int source = -1;          // the part it is a copy of, in the same scene
  bool is_flipped = false;  // the source's mirror image
  bool is_broken = false;   // not understood: left out in the end, and so are its copies
  bool has_outline = false;
  bool is_in_fill = false;  // laid at the first place of a [fill]
};

struct Crowd {
  std::string name = {};  // of a copy or a use
  std::vector<int> parts = {};
  bool is_broken = false;  // what it should have made is not known: no more is told of it
};

// One laying of copies: `copies[k][i]` is the k-th copy of `sources[i]`.
struct Copying {
  const CopyDecl* decl = nullptr;
  std::vector<int> sources = {};
  std::vector<std::vector<int>> copies = {};
};

// A joint at work; a and b are parts of the scene.
struct Joined {
  ResolvedJoint joint = {};
  int origin = 0;           // the joint of the scene that it is a copy of in the end, or itself
  bool is_settled = false;  // of a use: its ends are where they should be
};

struct Scene {
  Work& work;
  int site = 0;
  std::vector<Part> parts = {};
  std::map<std::string, int, std::less<>> by_id = {};
  std::vector<Crowd> crowds = {};
  std::vector<Copying> copyings = {};
  std::vector<Joined> joints = {};

  [[nodiscard]] Part& part(int index) { return parts[at_index(index)]; }
  [[nodiscard]] const Part& part(int index) const { return parts[at_index(index)]; }
  [[nodiscard]] const Scope& scope() const { return work.sites.scope(site); }
};

// Adds a part under its id: its index, or -1 when the id is taken (which the reader has told) or
// when the names grow too many.
int add_part(Scene& scene, Part part);

// What a word of `of` or `on` means: a board or panel by its id, a copy or use by its name (all of
// it), or a pattern with `*`.
struct Selection {
  std::vector<int> parts = {};
  bool is_single = false;  // named by its own id
};
// piece.unknown-board, piece.matches-nothing; empty also when the word was not read.
[[nodiscard]] Selection select(Scene& scene, const Name& word);
// In the order of the words, each part once.
[[nodiscard]] std::vector<int> select(Scene& scene, const std::vector<Name>& words);
// One board by its id, or -1 and piece.unknown-board.
[[nodiscard]] int select_one(Scene& scene, const Name& word);

[[nodiscard]] bool is_pattern(std::string_view word);
[[nodiscard]] bool matches(std::string_view pattern, std::string_view id);

// The stick of a part: its box as far as its end cuts reach. The ends must be done.
[[nodiscard]] Box box_of(const Part& part);
// x, where the middle line leaves an end.
[[nodiscard]] double end_on_line(const Part& part, Which which);
// The part as a convex body in the scene: its stick with end cuts, free cuts and tapers; outlines,
// corners, holes and joints apart.
[[nodiscard]] Convex body_of(const Part& part);

// Works a site out to its end.
[[nodiscard]] Scene work_out(Work& work, int site);

}  // namespace kw::resolving
