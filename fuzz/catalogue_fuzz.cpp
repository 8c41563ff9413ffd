// Any text is a table of wood and hardware or has faults, each with its place in it; whatever was
// understood of it can be found by its own name.
#include <cmath>
#include <cstdint>
#include <string>

#include "kerfwright/lumber/catalogue.h"

#include "require.h"

using kw::fuzz::require;
using kw::fuzz::require_places;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const kw::Text text{"a.toml", std::string(bytes, bytes + count)};
  const auto table = kw::read_catalogue({text});
  require_places(table.diagnostics, count);
  const kw::Catalogue& read = table.value;
  const bool is_clean = !kw::has_errors(table.diagnostics);
  for (const kw::NominalSize& size : read.sizes) {
    require(!is_clean || kw::find_size(read, size.name) != nullptr);
    require(std::isfinite(kw::board_feet(size, kw::Length::inches(96))));
  }
  for (const kw::Species& species : read.species) {
    require(!is_clean || kw::find_species(read, species.name) != nullptr);
    const auto density = kw::density_at_12(species);
    require(!density || std::isfinite(density->value));
  }
  for (const kw::Fastener& fastener : read.fasteners) {
    require(!is_clean || kw::find_fastener(read, fastener.name) != nullptr);
    static_cast<void>(kw::look_up(read, fastener.name, kw::LengthUnit::mm));
  }
  return 0;
}
