// Any text is a piece or has faults, each with its place in it; a piece without faults is worked
// out or has faults. Any edit that is granted can be undone, and leaves a file that can be read.
#include <cstdint>
#include <string>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/piece/edit.h"
#include "kerfwright/piece/resolved.h"

#include "require.h"

namespace {

using kw::fuzz::require;
using kw::fuzz::require_places;
using Path = std::vector<std::string>;

void require_edit(const kw::Text& text, const kw::Outcome<kw::TextEdit>& edit) {
  if (!edit) return require_places(edit.diagnostics(), text.content.size());
  const auto after = kw::apply(text, *edit);
  require(static_cast<bool>(after));
  require(static_cast<bool>(kw::find_value(*after, {})));
  const auto back = kw::apply(*after, kw::inverse_of(text, *edit));
  require(back && back->content == text.content);
}

const Path paths[] = {{"piece"},
                      {"tags", "1"},
                      {"size"},
                      {"size", "a"},
                      {"size", "a", "is"},
                      {"derived", "a"},
                      {"point", "a"},
                      {"point", "a", "0"},
                      {"board", "a"},
                      {"board", "a", "start"},
                      {"board", "a", "start", "add"},
                      {"stock", "a", "buy", "0", "length"},
                      {"joint", "a", "of", "0"}};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const kw::Text text{"a.toml", std::string(bytes, bytes + count)};
  const auto piece = kw::read_piece(text);
  require_places(piece.diagnostics, count);
  if (!kw::has_errors(piece.diagnostics)) {
    const auto resolved = kw::resolve(piece.value, kw::built_in_catalogue());
    require_places(resolved.diagnostics, count);
  }
  if (!kw::find_value(text, {})) return 0;
  for (const Path& path : paths) {
    require_edit(text, kw::set_value(text, path, "[1, '2']"));
    require_edit(text, kw::remove_value(text, path));
    require_edit(text, kw::add_value(text, path, "k", "'v'"));
  }
  return 0;
}
