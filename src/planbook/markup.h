// Private to planbook: text that stands in HTML, in an element or an attribute.
#pragma once

#include <string>

namespace kw {

[[nodiscard]] std::string in_html(std::string text);

}  // namespace kw
