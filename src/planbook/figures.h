// Private to planbook: figures as they stand in a line of text.
#pragma once

#include <string>

namespace kw {

// Whether the space at `at` stands within one figure: 31 1/2, 12.7 mm. A line is not broken there:
// 31 at the end of one and 1/2 on the next misleads.
[[nodiscard]] bool is_within_figure(const std::string& text, std::size_t at);

}  // namespace kw
