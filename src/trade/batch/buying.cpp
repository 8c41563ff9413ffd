// What is still to be bought.
#include <algorithm>
#include <map>
#include <tuple>

#include "kerfwright/trade/batch.h"

namespace kw::trade {
namespace {

using Kind = std::tuple<std::string, std::string, std::string, Length, Length, Money>;

bool is_one_of(const RackedBoard& board, const BoardsToBuy& buy) {
  return board.facts.stock == buy.stock && board.facts.length == buy.length &&
         (buy.species.empty() || board.facts.species.empty() || board.facts.species == buy.species);
}

}  // namespace

std::vector<BoardsToBuy> still_to_buy(const Books& books, int batch) {
  const auto found = books.batches.find(batch);
  if (found == books.batches.end() || found->second.is_over()) return {};
  std::vector<BoardsToBuy> open = found->second.to_buy;
  for (const auto& [number, board] : books.boards) {
    const bool is_ours = board.batch == batch && board.state != BoardState::gone;
    if (!is_ours || number <= found->second.boards_before) continue;
    const auto bought = std::find_if(
        open.begin(), open.end(),
        [&, b = &board](const BoardsToBuy& buy) { return buy.count > 0 && is_one_of(*b, buy); });
    if (bought != open.end()) --bought->count;
  }
  open.erase(std::remove_if(open.begin(), open.end(),
                            [](const BoardsToBuy& buy) { return buy.count <= 0; }),
             open.end());
  return open;
}

std::vector<BoardsToBuy> to_buy_until(const Books& books, const Schedule& batches, Day until) {
  std::map<Kind, BoardsToBuy> alike;
  for (const ScheduledLoad& load : batches.loads) {
    if (load.begins > until) continue;
    for (const BoardsToBuy& buy : still_to_buy(books, load.of)) {
      BoardsToBuy& line =
          alike[{buy.yard, buy.stock, buy.species, buy.length, buy.width, buy.each}];
      const int count = line.count;
      const bool is_new = line.length == Length();
      line = buy;
      if (!is_new) line.count += count;
    }
  }
  std::vector<BoardsToBuy> lines;
  for (auto& [kind, line] : alike) lines.push_back(std::move(line));
  return lines;
}

}  // namespace kw::trade
