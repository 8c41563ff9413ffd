// Text that stands in XML or HTML.
#pragma once

#include <string>
#include <string_view>

namespace kw {

// For an element's text or an attribute between double quotes: & < > and " are written as entities.
[[nodiscard]] inline std::string in_markup(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

}  // namespace kw
