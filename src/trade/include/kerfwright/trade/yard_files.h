// The rack and the yard's prices as CSV files, read and written. The first row names the columns,
// in any order; docs/sawing.md tells what each means.
//
//   label,stock,length,count,faults            stock,length,price
//   R1,2x4,"61 1/2",1,"20 to 22; 40 to 41"     2x4,8 ft,4.20
#pragma once

#include <vector>

#include "kerfwright/parts/job.h"
#include "kerfwright/trade/books.h"

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

// What was seen, day by day: columns day, yard, stock, species, length, width, per (piece, foot,
// metre or board-foot), price, tax (in percent). Also errors: trade.bad-day, trade.bad-per,
// trade.bad-tax.
[[nodiscard]] Reading<std::vector<trade::SeenPrice>> read_seen_prices(const Text& text,
                                                                      LengthUnit unit);

// The boards of a rack, one by one, as an entry of the books takes them; a label that is not a code
// of the books goes into the note.
[[nodiscard]] std::vector<trade::BoardFacts> boards_of(const std::vector<RackBoard>& rack);

// In `unit` where it is a whole number of 256ths of an inch, else in millimetres: to the tick.
[[nodiscard]] std::string exact_text(Length length, LengthUnit unit);

// What is written reads back the same: lengths exactly, in `unit` where they are whole 256ths of an
// inch or millimetres.
[[nodiscard]] std::string write_rack(const std::vector<RackBoard>& rack, LengthUnit unit);
[[nodiscard]] std::string write_prices(const std::vector<YardPrice>& prices, LengthUnit unit);
[[nodiscard]] std::string write_seen_prices(const std::vector<trade::SeenPrice>& prices,
                                            LengthUnit unit);

}  // namespace kw
