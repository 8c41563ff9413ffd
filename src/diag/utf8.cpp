#include "kerfwright/diag/utf8.h"

namespace kw {
namespace {

// The length of the well-formed UTF-8 sequence at `i`, or 0 (RFC 3629, section 4).
std::size_t sequence_at(std::string_view s, std::size_t i) {
  const auto byte = [&](std::size_t k) {
    return i + k < s.size() ? static_cast<unsigned char>(s[i + k]) : 0U;
  };
  const auto is_tail = [&](std::size_t k) { return (byte(k) & 0xC0U) == 0x80U; };
  const unsigned lead = byte(0);
  if (lead < 0x80U) return 1;
  if (lead >= 0xC2U && lead <= 0xDFU) return is_tail(1) ? 2 : 0;
  if (lead >= 0xE0U && lead <= 0xEFU) {
    const bool is_overlong = lead == 0xE0U && byte(1) < 0xA0U;
    const bool is_surrogate = lead == 0xEDU && byte(1) > 0x9FU;
    return is_tail(1) && is_tail(2) && !is_overlong && !is_surrogate ? 3 : 0;
  }
  if (lead >= 0xF0U && lead <= 0xF4U) {
    const bool is_overlong = lead == 0xF0U && byte(1) < 0x90U;
    const bool is_beyond = lead == 0xF4U && byte(1) > 0x8FU;
    return is_tail(1) && is_tail(2) && is_tail(3) && !is_overlong && !is_beyond ? 4 : 0;
  }
  return 0;
}

}  // namespace

std::size_t first_not_utf8(std::string_view s) {
  for (std::size_t i = 0; i < s.size();) {
    const std::size_t length = sequence_at(s, i);
    if (length == 0) return i;
    i += length;
  }
  return std::string_view::npos;
}

}  // namespace kw
