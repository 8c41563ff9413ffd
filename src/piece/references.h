// Where the words of a document name other things of it. Private to piece.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/piece/document.h"

namespace kw::changing {

enum class Kind : std::uint8_t { value, stock, point, plane, board, assembly };

struct Reference {
  Kind kind = Kind::value;
  std::string word = {};  // "leg-*", "leg-a", "low/side"; of a formula the name before the dot
  Span at = {};           // without quotes; of a formula's name, the whole of it
  int scope = 0;          // where it stands; 0: the piece, 1: the first assembly, ...
  std::vector<std::string> owner = {};  // table that it stands in: {"joint", "crossing"}
  std::string key = {};                 // key of a list that may lose one of its words: "of", "on"
  bool is_dotted = false;               // of a formula: a figure of a stock, board or point
  std::string tail = {};                // what stands behind the dot
  Span formula = {};                    // that it stands in, perhaps several times; {0, 0}: none
  int given_to = 0;  // the assembly (as `scope`) whose derived value a [use] gives anew; 0: none
};

// The number of an assembly's scope; -1: there is none.
[[nodiscard]] int scope_called(const Document& document, const std::string& assembly);

// Every one, in no particular order.
[[nodiscard]] std::vector<Reference> references_in(const Document& document);

}  // namespace kw::changing
