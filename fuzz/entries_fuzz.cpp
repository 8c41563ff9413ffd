// Any bytes as an entry of the books: what is read is written and read again alike, and the books
// take it or are as they were.
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

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto entry = kw::read_entry({reinterpret_cast<const char*>(data), size});
  if (!entry) {
    kw::fuzz::require(!entry.diagnostics().front().message.empty());
    return 0;
  }
  const std::string written = kw::entry_json(*entry);
  const auto again = kw::read_entry(written);
  kw::fuzz::require(again && *again == *entry && kw::entry_json(*again) == written);
  static const Journal before = small_journal();
  Journal journal = before;
  const auto lines = enter(journal, *entry);
  if (!lines) {
    kw::fuzz::require(journal == before);
    return 0;
  }
  kw::Money sum;
  for (const Line& line : *lines) sum = sum + line.amount;
  kw::fuzz::require(sum == kw::Money());
  return 0;
}
