// The lists of a piece as tables, and tables as plain text and CSV (RFC 4180).
#pragma once

#include <string>

#include "kerfwright/planbook/book.h"

namespace kw {

[[nodiscard]] Table cut_list_table(const PlanData& data, const LengthStyle& style);
// Every mark, hole and angle of every part, one a row.
[[nodiscard]] Table marks_table(const PlanData& data, const LengthStyle& style);
[[nodiscard]] Table buying_table(const PlanData& data, const LengthStyle& style);
[[nodiscard]] Table hardware_table(const PlanData& data);
[[nodiscard]] Table setups_table(const PlanData& data, const LengthStyle& style);
[[nodiscard]] Table closing_table(const PlanData& data);

[[nodiscard]] std::string to_text(const Table& table);
[[nodiscard]] std::string to_csv(const Table& table);

// "4.50 USD", "12 coins" when no currency is named.
[[nodiscard]] std::string written(Money money, const std::string& currency);
// What is proved of a sawing plan: "cheapest possible, proved", or "within 2.50 USD of the cheapest
// possible".
[[nodiscard]] std::string proof_text(const Resolved& piece, const StockPlan& plan);

}  // namespace kw
