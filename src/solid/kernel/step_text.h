// Private to the kernel's side of solid: words as STEP files hold them. The kernel doubles every
// backslash and breaks long strings, so it is handed a plain token for each word, and the words are
// put in at the end.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace kw::kernel {

// What stands between the quotes: quotes and backslashes doubled, characters past ASCII as X2
// directives (ISO 10303-21, 6.4.3.3), control characters as spaces, what is no UTF-8 as question
// marks.
[[nodiscard]] std::string to_step_text(std::string_view text);

class StepWords {
 public:
  // A short ASCII token that stands for the word.
  [[nodiscard]] std::string token_for(std::string_view word);
  // `text` with each quoted token replaced by its word.
  [[nodiscard]] std::string put_into(const std::string& text) const;

 private:
  std::vector<std::string> words_ = {};
};

}  // namespace kw::kernel
