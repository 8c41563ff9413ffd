// JSON written straight into a string, in the order it is told: for what is written with every
// edit, where building a tree first would take longer than the edit. Private to wire.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/measure/vector.h"

namespace kw::wire {

class JsonWriter {
 public:
  JsonWriter& object() { return open('{'); }
  JsonWriter& array() { return open('['); }
  JsonWriter& end();  // of the innermost object or array
  JsonWriter& key(std::string_view name);
  JsonWriter& text(std::string_view value);  // what is no UTF-8 becomes U+FFFD
  JsonWriter& number(double value);          // rounded to a millionth; no number: 0
  JsonWriter& number(std::int64_t value);
  JsonWriter& number(int value) { return number(static_cast<std::int64_t>(value)); }
  JsonWriter& number(std::size_t value) { return number(static_cast<std::int64_t>(value)); }
  JsonWriter& truth(bool value);
  JsonWriter& null();
  JsonWriter& raw(std::string_view json);
  JsonWriter& point(Vec3 p);
  JsonWriter& texts(const std::vector<std::string>& all);
  JsonWriter& text_or_null(const std::optional<std::string>& value);

  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  JsonWriter& open(char bracket);
  void separate();

  std::string out_ = {};
  std::vector<char> open_ = {};
  bool needs_comma_ = false;
};

// Base64 (RFC 4648, 4) of bytes.
[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace kw::wire
