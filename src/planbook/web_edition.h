// Private to planbook: the script that the web edition carries.
#pragma once

#include <string_view>

namespace kw {

[[nodiscard]] std::string_view viewer_script();

}  // namespace kw
