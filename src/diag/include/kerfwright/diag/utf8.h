// Whether bytes are UTF-8 text.
#pragma once

#include <cstddef>
#include <string_view>

namespace kw {

// Where the first byte stands that begins no well-formed UTF-8 sequence (RFC 3629, section 4); npos
// when there is none.
[[nodiscard]] std::size_t first_not_utf8(std::string_view text);

}  // namespace kw
