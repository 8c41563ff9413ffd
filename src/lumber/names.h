// When two names are the same name: letter case, separators and the order of words do not count.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace kw::lumber {

// The words of a name, in small letters. Blanks, hyphens, commas, brackets, `#` and `"` part words,
// but a size is one word however it is spaced: `8 x 1 1/4`, `8x1-1/4` and `8 × 1-1/4` are all
// `8x1-1/4`.
[[nodiscard]] std::vector<std::string> words_of(std::string_view name);

// The words in order of the alphabet, joined: equal for names that are the same.
[[nodiscard]] std::string key_of(std::string_view name);

// Whether a word of a query stands in a word of a name: anywhere in it, or, where the query's word
// has a figure, as the whole of it or of a side of its `x`, so that `8` finds `8x1-1/4` but not
// `18x1`.
[[nodiscard]] bool holds_word(std::string_view word_of_name, std::string_view word_of_query);

}  // namespace kw::lumber
