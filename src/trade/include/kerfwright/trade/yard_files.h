// The rack and the yard's prices as CSV files. The first row names the columns, in any order;
// docs/sawing.md tells what each means.
//
//   label,stock,length,count,faults            stock,length,price
//   R1,2x4,"61 1/2",1,"20 to 22; 40 to 41"     2x4,8 ft,4.20
#pragma once

#include <vector>

#include "kerfwright/parts/job.h"

namespace kw {

// `unit`: of figures that name none. Rows with a fault are left out. Errors, each with its place:
// those of read_csv, trade.no-column (one that must be there), trade.unknown-column,
// trade.twice-column, trade.extra-cell, trade.no-value, trade.bad-money, trade.bad-count,
// trade.bad-fault (a faulty zone), trade.bad-size (not above zero, or a zone beyond the board),
// those of parse_length, and trade.too-many (over 1,000 rows).
[[nodiscard]] Reading<std::vector<RackBoard>> read_rack(const Text& text, LengthUnit unit);
[[nodiscard]] Reading<std::vector<YardPrice>> read_prices(const Text& text, LengthUnit unit);

// What an offcut of at least a length is worth: columns length, worth.
[[nodiscard]] Reading<std::vector<OffcutWorth>> read_offcut_worths(const Text& text,
                                                                   LengthUnit unit);

}  // namespace kw
