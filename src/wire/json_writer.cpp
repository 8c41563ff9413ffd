#include "json_writer.h"

#include <cmath>
#include <fmt/format.h>
#include <iterator>

namespace kw::wire {
namespace {

// Bytes of the UTF-8 character at `at` (RFC 3629, 4); 0 when it is none.
std::size_t character_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0U;
  };
  const auto follows = [&](std::size_t i, unsigned low = 0x80U, unsigned high = 0xBFU) {
    return byte(i) >= low && byte(i) <= high;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80U) return 1;
  if (lead >= 0xC2U && lead < 0xE0U) return follows(1) ? 2 : 0;
  if (lead >= 0xE0U && lead < 0xF0U) {
    const unsigned low = lead == 0xE0U ? 0xA0U : 0x80U, high = lead == 0xEDU ? 0x9FU : 0xBFU;
    return follows(1, low, high) && follows(2) ? 3 : 0;
  }
  if (lead >= 0xF0U && lead < 0xF5U) {
    const unsigned low = lead == 0xF0U ? 0x90U : 0x80U, high = lead == 0xF4U ? 0x8FU : 0xBFU;
    return follows(1, low, high) && follows(2) && follows(3) ? 4 : 0;
  }
  return 0;
}

void escape(std::string& out, unsigned char c) {
  switch (c) {
    case '"':
      out += "\\\"";
      break;
    case '\\':
      out += "\\\\";
      break;
    case '\n':
      out += "\\n";
      break;
    default:
      fmt::format_to(std::back_inserter(out), "\\u{:04x}", c);
  }
}

}  // namespace

void JsonWriter::separate() {
  if (needs_comma_) out_ += ',';
  needs_comma_ = true;
}

JsonWriter& JsonWriter::open(char bracket) {
  separate();
  out_ += bracket;
  open_.push_back(bracket == '{' ? '}' : ']');
  needs_comma_ = false;
  return *this;
}

JsonWriter& JsonWriter::end() {
  out_ += open_.back();
  open_.pop_back();
  needs_comma_ = true;
  return *this;
}

JsonWriter& JsonWriter::key(std::string_view name) {
  text(name);
  out_ += ':';
  needs_comma_ = false;
  return *this;
}

JsonWriter& JsonWriter::text(std::string_view value) {
  separate();
  out_ += '"';
  for (std::size_t at = 0; at < value.size();) {
    const auto c = static_cast<unsigned char>(value[at]);
    const std::size_t length = character_at(value, at);
    if (length == 0) {
      out_ += "\xEF\xBF\xBD";
      ++at;
    } else if (length == 1 && (c < 0x20U || c == '"' || c == '\\' || c == 0x7FU)) {
      escape(out_, c);
      ++at;
    } else {
      out_.append(value, at, length);
      at += length;
    }
  }
  out_ += '"';
  return *this;
}

JsonWriter& JsonWriter::number(double value) {
  separate();
  const double rounded = std::isfinite(value) ? std::round(value * 1e6) / 1e6 : 0.0;
  fmt::format_to(std::back_inserter(out_), "{}", rounded == 0.0 ? 0.0 : rounded);
  return *this;
}

JsonWriter& JsonWriter::number(std::int64_t value) {
  separate();
  fmt::format_to(std::back_inserter(out_), "{}", value);
  return *this;
}

JsonWriter& JsonWriter::truth(bool value) {
  return raw(value ? "true" : "false");
}

JsonWriter& JsonWriter::null() {
  return raw("null");
}

JsonWriter& JsonWriter::raw(std::string_view json) {
  separate();
  out_ += json;
  return *this;
}

JsonWriter& JsonWriter::point(Vec3 p) {
  return array().number(p.x).number(p.y).number(p.z).end();
}

JsonWriter& JsonWriter::texts(const std::vector<std::string>& all) {
  array();
  for (const std::string& one : all) text(one);
  return end();
}

JsonWriter& JsonWriter::text_or_null(const std::optional<std::string>& value) {
  return value ? text(*value) : null();
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view letters =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    std::uint32_t word = 0;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t byte =
          i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U;
      word = (word << 8U) | byte;
    }
    for (std::size_t k = 0; k < 4; ++k) {
      const bool is_past = i + k > bytes.size();
      out += is_past ? '=' : letters[(word >> (18 - 6 * k)) & 63U];
    }
  }
  return out;
}

}  // namespace kw::wire
