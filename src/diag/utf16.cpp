#include "kerfwright/diag/utf16.h"

#include <algorithm>

namespace kw {
namespace {

constexpr std::uint32_t bytes_between_marks = 256;

bool continues(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// Bytes of the character at `at`; 1 where it is none.
std::uint32_t length_at(std::string_view text, std::uint32_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const std::uint32_t wanted = lead < 0xC2U   ? 1U
                               : lead < 0xE0U ? 2U
                               : lead < 0xF0U ? 3U
                               : lead < 0xF5U ? 4U
                                              : 1U;
  for (std::uint32_t i = 1; i < wanted; ++i) {
    if (at + i >= text.size() || !continues(text[at + i])) return 1;
  }
  return wanted;
}

}  // namespace

Utf16Index::Utf16Index(std::string_view text) : text_(text) {
  std::uint32_t next = 0;
  for (std::uint32_t at = 0; at < text.size();) {
    if (at >= next) {
      marks_.push_back({at, size_});
      next = at + bytes_between_marks;
    }
    const std::uint32_t length = length_at(text, at);
    size_ += length == 4 ? 2 : 1;
    at += length;
  }
  if (marks_.empty()) marks_.push_back({});
}

std::uint32_t Utf16Index::units_at(std::uint32_t offset) const {
  const auto after =
      std::upper_bound(marks_.begin(), marks_.end(), offset,
                       [](std::uint32_t wanted, const Mark& mark) { return wanted < mark.byte; });
  Mark at = *std::prev(after);
  while (at.byte < text_.size()) {
    const std::uint32_t length = length_at(text_, at.byte);
    if (at.byte + length > offset) break;
    at.units += length == 4 ? 2 : 1;
    at.byte += length;
  }
  return at.units;
}

std::uint32_t Utf16Index::byte_at(std::uint32_t units) const {
  const auto after =
      std::upper_bound(marks_.begin(), marks_.end(), units,
                       [](std::uint32_t wanted, const Mark& mark) { return wanted < mark.units; });
  Mark at = *std::prev(after);
  while (at.byte < text_.size() && at.units < units) {
    const std::uint32_t length = length_at(text_, at.byte);
    const std::uint32_t next = at.units + (length == 4 ? 2U : 1U);
    if (next > units) break;
    at.units = next;
    at.byte += length;
  }
  return at.byte;
}

}  // namespace kw
