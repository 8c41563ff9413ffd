// The shop numbers as JSON. Lengths are objects {"text", "ticks"}: what is printed and, exact, in
// 20 millionths of a millimetre; angles are degrees; money is whole coins.
#pragma once

#include <string>

#include "kerfwright/diag/diagnostic.h"
#include "kerfwright/planbook/book.h"

namespace kw {

inline constexpr int contract_version = 2;

// Each a JSON document (RFC 8259), indented by two, keys in a fixed order.
[[nodiscard]] std::string cut_list_json(const PlanData& data, const LengthStyle& style);
[[nodiscard]] std::string buying_list_json(const Job& job, const Sawing& sawing,
                                           const LengthStyle& style);
// docs/sawing.md has the schema.
[[nodiscard]] std::string sawing_plan_json(const Job& job, const Sawing& sawing,
                                           const LengthStyle& style);
[[nodiscard]] std::string closing_json(const PlanData& data);
// The findings of the checks, boards and joints by their ids.
[[nodiscard]] std::string findings_json(const Resolved& piece,
                                        const std::vector<Finding>& findings);
[[nodiscard]] std::string diagnostics_json(const Text& text, const Diagnostics& diagnostics);

}  // namespace kw
