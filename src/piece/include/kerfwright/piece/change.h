// Changes of a piece as a maker asks for them, turned into edits of its text: a value set, a board
// put between two places, a name changed with everything that uses it. What a maker types is text;
// the TOML is written here. Every other byte, comment and space stays.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "kerfwright/piece/edit.h"
#include "kerfwright/piece/resolved.h"

namespace kw {

using KeyPath = std::vector<std::string>;

// Somewhere: a layout point, three formulas as typed, or what was pointed at in the picture.
struct Pointed {
  Vec3 world = {};         // mm
  std::string board = {};  // the board's id; "": none
  int face = -1;           // of its solid, for the caller to find the side by; -1: none
  std::string side = {};   // "+z": a side of the stick of that board; the new board ends against it
};
struct AtPoint {
  std::string name = {};
};
struct AtFormulas {
  std::array<std::string, 3> typed = {};
};
using PlaceWish = std::variant<AtPoint, AtFormulas, Pointed>;

// A word, three formulas, or from one layout point to another.
struct FromTo {
  std::string from = {}, to = {};
};
using DirectionWish = std::variant<std::string, std::array<std::string, 3>, FromTo>;

// How an end is cut: keys of the piece file and what is typed for each; none: square.
struct EndWish {
  std::vector<std::pair<std::string, std::string>> keys = {};
};
using ValueWish = std::variant<std::string, bool, std::vector<std::string>, EndWish>;

// Text typed, in UTF-16 code units.
struct SpliceText {
  std::uint32_t from = 0, to = 0;
  std::string with = {};
};
struct SetPath {
  KeyPath path = {};
  ValueWish value = {};
};
// A slider let go: the number in the piece's unit, degrees, or plain.
struct SlideSize {
  std::string size = {};
  double at = 0;
};
struct UnsetPath {
  KeyPath path = {};
};
// Refused while others need the table, unless `with_needing`: then joints, copies, cuts and so on
// that name nothing else go too, and it is struck out of the lists of the others.
struct RemoveTable {
  KeyPath path = {};
  bool with_needing = false;
};
struct RenameTable {
  KeyPath path = {};
  std::string to = {};
};
struct AddStock {
  std::string id = {};                    // "": one is found
  std::vector<std::string> section = {};  // one: a name of the table; two: thickness, width
  std::string species = {}, rip = {}, sheet = {};
};
struct AddSize {
  std::string id = {}, is = {}, from = {}, to = {}, step = {}, note = {};
};
struct AddPoint {
  std::string id = {};
  PlaceWish at = {};
};
// From `from` to `to`; or `from`, `along`, `length`.
struct AddBoard {
  std::string id = {}, stock = {};
  PlaceWish from = {};
  std::optional<PlaceWish> to = {};
  std::optional<DirectionWish> along = {}, face = {};
  std::string length = {};
  std::vector<std::string> hold = {}, shift = {};
  std::optional<EndWish> start = {}, end = {};
};
struct AddJoint {
  std::string id = {}, kind = {};
  std::vector<std::string> boards = {};
  std::vector<std::pair<std::string, std::string>> keys = {};
};
struct AddCopy {
  std::string id = {}, how = {};  // "mirror", "repeat", "turn"
  std::vector<std::string> boards = {};
  std::string across = {}, count = {}, angle = {};
  std::vector<std::string> step = {}, names = {};
  std::optional<DirectionWish> about = {};
  std::optional<PlaceWish> at = {};
  std::optional<bool> joints = {};
};
using Change = std::variant<SpliceText, SetPath, SlideSize, UnsetPath, RemoveTable, RenameTable,
                            AddStock, AddSize, AddPoint, AddBoard, AddJoint, AddCopy>;

struct Changed {
  Text text = {};                    // after it
  std::vector<TextEdit> edits = {};  // in order, each in the text that the one before left
  std::vector<KeyPath> made = {};    // tables that were added
  std::string words = {};            // "set height to 30 1/2", for undo and history
};
// `piece`: the text worked out, for what was pointed at; it may be of an older text. Errors: those
// of edit.h, and edit.no-place (a splice outside the text), edit.bad-id (no name of the language),
// edit.still-needed (with where), edit.pattern (a rename that a pattern would notice),
// edit.cannot-rename, edit.not-enough (a board with neither `to` nor `length`), edit.too-large.
[[nodiscard]] Outcome<Changed> change(const Text& text, const Change& wish, const Resolved& piece);

}  // namespace kw
