// How each kind of row becomes a value. Nothing when the row has a fault, which stands in the page.
#pragma once

#include <optional>

#include "kerfwright/lumber/catalogue.h"

#include "row.h"

namespace kw::lumber {

[[nodiscard]] std::optional<NominalSize> read_size(const Cell& cell, Page& page);
[[nodiscard]] std::optional<Species> read_species(const Cell& cell, Page& page);
[[nodiscard]] std::optional<Fastener> read_fastener(const Cell& cell, Page& page);
[[nodiscard]] std::optional<Adhesive> read_adhesive(const Cell& cell, Page& page);
[[nodiscard]] std::optional<Finish> read_finish(const Cell& cell, Page& page);

}  // namespace kw::lumber
