// A change of a text as bytes. Private to store.
#pragma once

#include "kerfwright/store/store.h"

namespace kw::storing {

[[nodiscard]] std::string packed(const Delta& delta);
// Nothing when the bytes are not those of a change.
[[nodiscard]] std::optional<Delta> unpacked(std::string_view bytes);

}  // namespace kw::storing
