// Any bytes as entries of the books, one a line: what is read is written and read again alike, the
// books take it or are as they were, and they balance.
#include <algorithm>
#include <cstdint>

#include "kerfwright/trade/journal.h"
#include "kerfwright/wire/entry_json.h"

#include "require.h"

namespace {

using namespace kw::trade;

// A rack, an order and a batch, so that entries find what they name.
Journal small_journal() {
  const BoardFacts board{.stock = "2x4", .length = kw::Length::inches(96), .value = {600}};
  Journal journal;
  for (Event& event :
       std::vector<Event>{BoardsFound{{board, board}}, OrderTaken{{.buyer = "Ann"}},
                          BatchPlanned{.lots = {{2, 1}}, .boards = {1}, .parts = {{"A", 4}}}}) {
    kw::fuzz::require(bool(enter(journal, {Day{20'000}, std::move(event)})));
  }
  return journal;
}

// What must hold of any books.
void require_sound(const Books& books) {
  kw::Money all, on_rack;
  for (const auto& [account, amount] : books.balances) all = all + amount;
  for (const auto& [number, board] : books.boards) {
    if (board.state == BoardState::on_hand || board.state == BoardState::reserved)
      on_rack = on_rack + board.facts.value;
  }
  kw::fuzz::require(all == kw::Money());
  kw::fuzz::require(balance_of(books, AccountKind::boards) == on_rack);
}

void enter_line(std::string_view line, Journal& journal) {
  const auto entry = kw::read_entry(line);
  if (!entry) {
    kw::fuzz::require(!entry.diagnostics().front().message.empty());
    return;
  }
  const std::string written = kw::entry_json(*entry);
  const auto again = kw::read_entry(written);
  kw::fuzz::require(again && *again == *entry && kw::entry_json(*again) == written);
  const Journal before = journal;
  if (!enter(journal, *entry)) kw::fuzz::require(journal == before);
  require_sound(journal.books);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Journal begun = small_journal();
  Journal journal = begun;
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  for (int lines = 0; !rest.empty() && lines < 50; ++lines) {
    const std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    enter_line(line, journal);
  }
  const auto replayed = replay(journal.entries);
  kw::fuzz::require(replayed && replayed->books == journal.books);
  return 0;
}
