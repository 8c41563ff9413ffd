// For tests: pieces of a few boards, as text, from what many of them have in common. Inches.
#pragma once

#include <string>

#include "checked_piece.h"

namespace kw::test {

inline std::string in_quotes(const std::string& word) {
  return "\"" + word + "\"";
}

// `section` as the file has it: `"2x4"`, or `["3/4", "9"]`.
inline std::string stock(const std::string& name, const std::string& section,
                         const std::string& species) {
  return "[stock." + name + "]\nsection = " + section + "\nspecies = " + in_quotes(species) + "\n";
}

// A board that stands on the floor at x, broad face to the right.
struct Upright {
  std::string name = {}, stock = {}, x = "0", length = "20";
};
inline std::string text_of(const Upright& board) {
  return "[board." + board.name + "]\nstock = " + in_quotes(board.stock) + "\nat = [" +
         in_quotes(board.x) +
         ", \"0\", \"0\"]\nalong = \"up\"\nlength = " + in_quotes(board.length) +
         "\nface = \"right\"\n";
}

// Two uprights, `left` at 0 and `right` at `apart`.
inline std::string posts(const std::string& stock, const std::string& apart,
                         const std::string& length = "20") {
  return text_of(Upright{"left", stock, "0", length}) +
         text_of(Upright{"right", stock, apart, length});
}

// A board from one of the posts to the other, cut against both.
struct Between {
  std::string name = {}, stock = {}, apart = {}, height = {}, face = "front";
};
inline std::string text_of(const Between& board) {
  const std::string z = in_quotes(board.height);
  return "[board." + board.name + "]\nstock = " + in_quotes(board.stock) +
         "\nruns = [[\"0\", \"0\", " + z + "], [" + in_quotes(board.apart) + ", \"0\", " + z +
         "]]\nface = " + in_quotes(board.face) +
         "\nstart = { against = \"left\" }\nend = { against = \"right\" }\n";
}

// Two uprights alike under what lies on them, `x` in from both of its ends.
struct Blocks {
  std::string stock = {}, x = {}, height = {}, middle = {};
};
inline std::string text_of(const Blocks& blocks) {
  return text_of(Upright{"block", blocks.stock, blocks.x, blocks.height}) +
         "[mirror.other]\nof = \"block\"\nacross = \"middle\"\n[plane.middle]\nat = [" +
         in_quotes(blocks.middle) + ", \"0\", \"0\"]\nfaces = \"+x\"\n";
}

// `each` as the file has it; none: the load does not say.
inline std::string load(const std::string& name, const std::string& on, const std::string& kind,
                        const std::string& each = "") {
  return "[load." + name + "]\non = " + in_quotes(on) + "\nkind = " + in_quotes(kind) + "\n" +
         (each.empty() ? "" : "each = " + in_quotes(each) + "\n");
}

// A joint of a with b by `count` of a fastener; `from = "a"` where it goes in through a.
struct Fastened {
  std::string name = {}, kind = "screw", a = {}, b = {}, fasten = {}, count = {}, rest = {};
};
inline std::string text_of(const Fastened& joint) {
  return "[joint." + joint.name + "]\nkind = " + in_quotes(joint.kind) + "\nof = [" +
         in_quotes(joint.a) + ", " + in_quotes(joint.b) + "]\nfasten = " + in_quotes(joint.fasten) +
         "\ncount = " + joint.count + "\n" + joint.rest;
}

}  // namespace kw::test
