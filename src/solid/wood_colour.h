// Private to solid: plain colours of woods, for pictures.
#pragma once

#include <array>
#include <string_view>

namespace kw {

// Red, green and blue between 0 and 1, linear (not sRGB). Chosen by eye, no published source; a
// species that is not known looks like fresh softwood.
[[nodiscard]] std::array<double, 3> wood_colour_of(std::string_view species);

}  // namespace kw
