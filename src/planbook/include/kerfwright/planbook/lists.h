// The lists of a piece as tables, and tables as plain text and CSV (RFC 4180).
#pragma once

#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

namespace kw {

[[nodiscard]] Table cut_list_table(const PlanData& data, const LengthStyle& style);
// Every mark, hole and angle of every part, one a row.
[[nodiscard]] Table marks_table(const PlanData& data, const LengthStyle& style);
[[nodiscard]] Table buying_table(const Job& job, const Sawing& sawing, const LengthStyle& style);
// As it is sold in the unit; where that is not what the piece file asks for, a column says what is.
[[nodiscard]] Table hardware_table(const Job& job, const LengthStyle& style);
// The pieces of a job and how many are made.
[[nodiscard]] Table pieces_table(const Job& job);
// Every part of every piece with its label on the diagrams.
[[nodiscard]] Table parts_table(const Job& job, const LengthStyle& style);
// Every part on every stick, one a row.
[[nodiscard]] Table sticks_table(const Job& job, const Sawing& sawing, const LengthStyle& style);
// The cuts of each sheet in the order in which they are made.
[[nodiscard]] Table cuts_table(const Job& job, const SheetStockPlan& plan,
                               const LengthStyle& style);
// The order of work at the saw: stop after stop, what comes off which sticks.
[[nodiscard]] Table sequence_table(const Job& job, const StockPlan& plan, const LengthStyle& style);
// Every cut with how the machine is set for it, one a row.
[[nodiscard]] Table setups_table(const PlanData& data, const LengthStyle& style);
// The same as it is worked through: one stop a row with all its parts, or the holes of one part.
[[nodiscard]] Table tickets_table(const PlanData& data, const LengthStyle& style);
[[nodiscard]] Table closing_table(const PlanData& data);

// Columns from `from` on in which no row has anything are left out.
[[nodiscard]] Table without_empty_columns(Table table, std::size_t from = 0);
[[nodiscard]] std::string to_text(const Table& table);
[[nodiscard]] std::string to_csv(const Table& table);

// "4.50 USD", "12 coins" when no currency is named.
[[nodiscard]] std::string written(Money money, const std::string& currency);
// What is proved of a sawing plan: "cheapest possible, proved", or "within 2.50 USD of the cheapest
// possible".
[[nodiscard]] std::string proof_text(const Job& job, const StockPlan& plan);
[[nodiscard]] std::string proof_text(const Job& job, const SheetStockPlan& plan);
// "fewest set-ups: 9 (4 layouts, 5 stops), proved", or "set-ups: 9 (..), at least 8".
[[nodiscard]] std::string setups_text(const Aims& aims);
// "spend 2.00 USD more and save 3 set-ups", one for each alternative.
[[nodiscard]] std::vector<std::string> alternatives_of(const Job& job, const StockPlan& plan);

}  // namespace kw
