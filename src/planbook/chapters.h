// Private to planbook: what stands in the book besides lists and drawings.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

namespace kw {

// The words with a full stop behind them, once.
[[nodiscard]] std::string sentence(std::string words);

// Names that stand between grave accents, in quotation marks.
[[nodiscard]] std::string quoted(const std::string& words);

// Sizes, mass, work and yield of the piece.
[[nodiscard]] Table facts_table(const PlanData& data, const LengthStyle& style);

// What the tables say of the dust and use of the woods that the piece is made of.
[[nodiscard]] std::vector<std::string> wood_cautions(const PlanData& data);

// What it takes to make the piece, read off its set-ups, joints and holes: one sentence.
[[nodiscard]] std::string tools_for(const PlanData& data, const LengthStyle& style);

// How much of the file's finish it takes, and what to mind. Empty when the file names none.
[[nodiscard]] std::vector<std::string> finishing(const PlanData& data);

// All faces of all boards, m2.
[[nodiscard]] double area_m2(const PlanData& data);

}  // namespace kw
