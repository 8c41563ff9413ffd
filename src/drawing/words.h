// Private to drawing: what is said of a part in words, with its printed figures.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/drawing/sheets.h"

namespace kw {

[[nodiscard]] std::string figure_text(const Part& part, int figure, const SheetStyle& style);
// The letter of the part that a board is; "" when it is none.
[[nodiscard]] std::string letter_of_board(const Resolved& piece, const std::vector<Body>& bodies,
                                          const CutList& list, const std::string& id);
// "4 pieces", "2 left and 2 right (mirror images)"
[[nodiscard]] std::string count_text(const Part& part);
// "3/4" x 5 1/2" x 29 11/16", 1x6 spruce"
[[nodiscard]] std::string size_text(const Resolved& piece, const Part& part,
                                    const SheetStyle& style);
// One sentence each: ends that are not square, tapers, notches, holes.
[[nodiscard]] std::vector<std::string> notes_of(const Resolved& piece,
                                                const std::vector<Body>& bodies,
                                                const CutList& cut_list, const Part& part,
                                                const SheetStyle& style);

}  // namespace kw
