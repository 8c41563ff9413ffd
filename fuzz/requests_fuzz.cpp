// What the page may send: never more than a refusal, and a refusal has its words.
#include <cstdint>

#include "kerfwright/wire/requests.h"
#include "kerfwright/wire/trade_requests.h"

#include "require.h"

namespace {

template <class T>
void look(const kw::Outcome<T>& outcome) {
  if (outcome) return;
  kw::fuzz::require(!outcome.diagnostics().front().message.empty());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view json(reinterpret_cast<const char*>(data), size);
  const auto edits = kw::read_edits(json);
  look(edits);
  if (edits) {
    const kw::Text text{"fuzz",
                        "format = 1\npiece = \"Fuzz\"\nunit = \"in\"\n[size.a]\nis = \"1\"\n"};
    const kw::Resolved piece;
    for (const kw::Change& wish : edits->what) {
      const auto changed = kw::change(text, wish, piece);
      look(changed);
      if (!changed) continue;
      kw::Text now = text;
      for (const kw::TextEdit& edit : changed->edits) now = *kw::apply(now, edit);
      kw::fuzz::require(now.content == changed->text.content);
    }
  }
  look(kw::read_try(json));
  look(kw::read_base(json));
  look(kw::read_restore(json));
  look(kw::read_settle(json));
  look(kw::read_new_piece(json));
  look(kw::read_new_name(json));
  look(kw::read_open_bench(json));
  look(kw::read_make_plan(json));
  look(kw::read_ticks(json));
  look(kw::read_enter(json));
  look(kw::read_import(json));
  look(kw::read_trade_ask(json));
  const auto shop = kw::read_shop(json);
  look(shop);
  // What is written reads back, and is then written the same.
  if (shop) {
    const std::string written = kw::shop_json(*shop);
    const auto again = kw::read_shop(written);
    kw::fuzz::require(again && kw::shop_json(*again) == written);
  }
  return 0;
}
