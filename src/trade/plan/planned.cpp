#include "kerfwright/trade/planned.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

#include "kerfwright/measure/text.h"
#include "kerfwright/trade/board_code.h"

namespace kw::trade {
namespace {

template <class List>
const auto& at(const List& list, int index) {
  return list[static_cast<std::size_t>(index)];
}

BoardFacts facts_of(const JobStock& stock, Length length, Length width) {
  return {.stock = stock.stock.sold_as,
          .species = stock.stock.species,
          .thickness = stock.stock.bought.thickness,
          .width = width,
          .length = length};
}

PlannedBoard board_for(const Job& job, const JobStock& stock, const StickSource& source,
                       Length length, Length width) {
  PlannedBoard board{.rack = source.rack,
                     .is_on_hand = source.is_on_hand,
                     .facts = facts_of(stock, length, width),
                     .has_price = source.is_on_hand};
  if (source.rack < 0) return board;
  const RackBoard& racked = at(job.rack, source.rack);
  board.facts.stock = racked.stock;
  if (racked.thickness != Length()) board.facts.thickness = racked.thickness;
  if (racked.width != Length()) board.facts.width = racked.width;
  board.facts.value = racked.value;
  return board;
}

std::string as_sold(const BoardFacts& facts) {
  return fmt::format("{}{}{}", facts.stock, facts.species.empty() ? "" : ", ", facts.species);
}

// One stick, or one strip of a board, filed into its board.
void file_strip(const StockProblem& sp, const SawnStick& stick, PlannedBoard& board) {
  const Problem& problem = sp.problem;
  const Length whole = at(problem.stocks, stick.stock).length;
  Length in_parts;
  for (const Placed& part : stick.parts) in_parts += at(problem.demands, part.demand).length;
  const bool is_kept =
      problem.shortest_offcut > Length() && stick.offcut >= problem.shortest_offcut;
  const Length left = is_kept ? stick.offcut : Length();
  board.sawn.in_parts += in_parts;
  board.sawn.in_waste += whole - in_parts - left;
  if (!is_kept) return;
  Offcut offcut{.facts = board.facts};
  offcut.facts.length = left;
  if (board.sawn.strips > 1) offcut.facts.width = sp.strip_width;
  board.sawn.offcuts.push_back(std::move(offcut));
}

// Strips of the last board that no part is sawn from: one offcut as long as the board.
void keep_unused(const StockProblem& sp, int unused, PlannedBoard& board) {
  if (unused == 0) return;
  Offcut offcut{.facts = board.facts, .strips = unused};
  const Length kerf = sp.problem.saw.kerf;
  const int used = board.sawn.strips - unused;
  const Length width = board.facts.width - (sp.strip_width + kerf) * used;
  offcut.facts.width = std::max(width, Length::ticks(1));
  board.sawn.offcuts.push_back(std::move(offcut));
}

void add_sticks(const Job& job, const StockPlan& plan, std::vector<PlannedBoard>& boards) {
  const StockProblem& sp = plan.problem;
  for (int s = 0; s < static_cast<int>(sp.problem.stocks.size()); ++s) {
    const StickSource& source = at(sp.sources, s);
    const Stock& stock = at(sp.problem.stocks, s);
    const int strips = source.rack < 0 ? sp.strips_per_board : 1;
    int filed = 0;
    for (const SawnStick& stick : plan.plan.sticks) {
      if (stick.stock != s) continue;
      if (filed % strips == 0) {
        boards.push_back(
            board_for(job, sp.stock, source, stock.length, sp.stock.stock.bought.width));
        boards.back().sawn.strips = strips;
        if (!source.is_on_hand && sp.has_prices) {
          boards.back().facts.value = stock.price;
          boards.back().has_price = true;
        }
      }
      file_strip(sp, stick, boards.back());
      ++filed;
    }
    if (filed % strips != 0) keep_unused(sp, strips - filed % strips, boards.back());
  }
}

void add_sheets(const Job& job, const SheetStockPlan& plan, const OffcutRule& rule,
                std::vector<PlannedBoard>& boards) {
  for (const SawnSheet& sawn : plan.plan.sheets) {
    const SheetStock& sheet = at(plan.problem.sheets, sawn.sheet);
    const StickSource& source = at(plan.sources, sawn.sheet);
    boards.push_back(board_for(job, plan.stock, source, sheet.length, sheet.width));
    PlannedBoard& board = boards.back();
    board.sawn.strips = 0;
    if (!source.is_on_hand && plan.has_prices) {
      board.facts.value = sheet.price;
      board.has_price = true;
    }
    for (const SheetPiece& piece : sawn.pieces) {
      if (piece.use != SheetPiece::Use::offcut || piece.length < rule.shortest_of_sheet ||
          piece.width < rule.narrowest_of_sheet)
        continue;
      Offcut offcut{.facts = board.facts, .strips = 0};
      offcut.facts.length = piece.length;
      offcut.facts.width = piece.width;
      board.sawn.offcuts.push_back(std::move(offcut));
    }
  }
}

double share_of(const BoardFacts& offcut, const BoardFacts& board) {
  const double length = board.length.in_mm(), width = board.width.in_mm();
  if (length <= 0) return 0;
  const double across = width > 0 ? std::min(1.0, offcut.width.in_mm() / width) : 1;
  return std::clamp(offcut.length.in_mm() / length * across, 0.0, 1.0);
}

// No board makes money by being sawn up.
void cap_offcuts(Money board_value, std::vector<Offcut>& offcuts) {
  for (Offcut& offcut : offcuts) {
    offcut.facts.value = std::min(offcut.facts.value, board_value);
    board_value = board_value - offcut.facts.value;
  }
}

void value_offcuts(const std::vector<OffcutWorth>& worths, const OffcutRule& rule,
                   PlannedBoard& board) {
  for (Offcut& offcut : board.sawn.offcuts) {
    Money worth;
    for (const OffcutWorth& step : worths)
      if (offcut.facts.length >= step.from) worth = std::max(worth, step.worth);
    if (worths.empty()) {
      const double value = static_cast<double>(board.facts.value.coins) *
                           std::clamp(rule.share, 0.0, 1.0) * share_of(offcut.facts, board.facts);
      worth.coins = static_cast<std::int64_t>(std::floor(value + 1e-6));
    }
    offcut.facts.value = worth;
  }
  cap_offcuts(board.facts.value, board.sawn.offcuts);
}

// The shortest board reserved for the batch that is as good as the planned one, or 0.
int board_like(const PlannedBoard& planned, const Books& books, int batch,
               const std::set<int>& taken) {
  const RackedBoard* best = nullptr;
  for (const auto& [number, board] : books.boards) {
    if (board.state != BoardState::reserved || board.batch != batch || taken.contains(number))
      continue;
    const BoardFacts& facts = board.facts;
    const bool is_like = facts.stock == planned.facts.stock &&
                         facts.length >= planned.facts.length &&
                         (facts.species.empty() || planned.facts.species.empty() ||
                          facts.species == planned.facts.species);
    if (is_like && (best == nullptr || facts.length < best->facts.length)) best = &board;
  }
  return best == nullptr ? 0 : best->number;
}

// Numbers for the boards that have none, the longest first: what is left suits the shorter ones.
void find_boards(std::vector<PlannedBoard>& planned, const Books& books, int batch) {
  std::set<int> taken;
  std::vector<PlannedBoard*> open;
  for (PlannedBoard& board : planned) {
    if (board.sawn.board != 0)
      taken.insert(board.sawn.board);
    else
      open.push_back(&board);
  }
  std::stable_sort(open.begin(), open.end(), [](const PlannedBoard* a, const PlannedBoard* b) {
    return a->facts.length > b->facts.length;
  });
  for (PlannedBoard* board : open) {
    board->sawn.board = board_like(*board, books, batch, taken);
    taken.insert(board->sawn.board);
  }
}

}  // namespace

std::vector<PlannedBoard> planned_boards(const Job& job, const Sawing& sawing,
                                         const OffcutRule& rule) {
  std::vector<PlannedBoard> boards;
  for (const StockPlan& plan : sawing.plans) add_sticks(job, plan, boards);
  for (const SheetStockPlan& plan : sawing.sheets) add_sheets(job, plan, rule, boards);
  for (PlannedBoard& board : boards) {
    if (board.rack >= 0) {
      if (const auto number = read_code(at(job.rack, board.rack).label)) board.sawn.board = *number;
    }
    value_offcuts(job.offcut_worths, rule, board);
  }
  return boards;
}

BatchPlanned batch_of(const Job& job, const Sawing& sawing, std::string name,
                      std::vector<Lot> lots) {
  BatchPlanned batch{.name = std::move(name), .lots = std::move(lots)};
  for (const BuyLine& line : buying_list_of(job, sawing)) {
    if (!line.is_on_hand)
      batch.to_buy.push_back({.stock = line.sold_as,
                              .species = line.species,
                              .length = line.length,
                              .width = line.width,
                              .count = line.count,
                              .each = line.each.value_or(Money())});
    else if (const auto number = read_code(line.label))
      batch.boards.push_back(*number);
  }
  for (int p = 0; p < static_cast<int>(job.pieces.size()); ++p) {
    const JobPiece& piece = at(job.pieces, p);
    for (int i = 0; i < static_cast<int>(piece.cut_list->parts.size()); ++i) {
      const auto members = at(piece.cut_list->parts, i).members.size();
      batch.parts.push_back({label_of(job, {p, i}), static_cast<int>(members) * piece.count});
    }
  }
  return batch;
}

Outcome<BoardsSawn> sawn_of(std::vector<PlannedBoard> planned, const Books& books, int batch) {
  BoardsSawn event{.batch = batch};
  Diagnostics missing;
  find_boards(planned, books, batch);
  for (PlannedBoard& board : planned) {
    const auto found = books.boards.find(board.sawn.board);
    if (found == books.boards.end()) {
      missing.push_back(
          {.code = "trade.board-missing",
           .message = fmt::format("no {} of {} is reserved for batch {}", as_sold(board.facts),
                                  format_length(board.facts.length), batch),
           .hint = "book what was bought for it, or reserve a board like it"});
      continue;
    }
    const BoardFacts& facts = found->second.facts;
    board.sawn.in_waste += (facts.length - board.facts.length) * board.sawn.strips;
    cap_offcuts(facts.value, board.sawn.offcuts);
    event.boards.push_back(std::move(board.sawn));
  }
  if (!missing.empty()) return missing;
  return event;
}

}  // namespace kw::trade
