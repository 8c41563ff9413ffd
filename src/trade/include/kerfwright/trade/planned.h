// A sawing plan as the books see it: which boards it takes and what it leaves of each.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "kerfwright/parts/sawing.h"
#include "kerfwright/trade/books.h"

namespace kw::trade {

// At what an offcut is valued: by Job::offcut_worths where those are given, else at `share` of what
// its part of the board cost, in whole coins rounded down. Never more than the board is left.
struct OffcutRule {
  double share = 0.5;
  // Of a sheet, what is worth keeping; of a stick the piece's file says it.
  Length shortest_of_sheet = Length::mm(300), narrowest_of_sheet = Length::mm(100);
};

struct PlannedBoard {
  int rack = -1;  // index into Job::rack; -1: bought, or on hand by a piece's file
  bool is_on_hand = false;
  BoardFacts facts = {};  // as it comes, its value what it costs
  bool has_price = false;
  SawnBoard sawn = {};  // `board` is 0 until it has a number
};

// Board by board in the order of the plan. Sticks that are strips of one board are one.
[[nodiscard]] std::vector<PlannedBoard> planned_boards(const Job& job, const Sawing& sawing,
                                                       const OffcutRule& rule = {});

// The batch that the plan makes: its boards on the rack (by the codes on their labels), what must
// be bought, and how many of each part.
[[nodiscard]] BatchPlanned batch_of(const Job& job, const Sawing& sawing, std::string name,
                                    std::vector<Lot> lots);

// What the plan becomes once it is sawn: each of its boards is found among those reserved for the
// batch, those bought for it by stock and wood, as long or longer. What a board is longer than
// planned is waste, and its value is that of the books. Error: trade.board-missing (not bought yet,
// or not reserved).
[[nodiscard]] Outcome<BoardsSawn> sawn_of(std::vector<PlannedBoard> planned, const Books& books,
                                          int batch);

}  // namespace kw::trade
