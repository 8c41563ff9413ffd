// Private to wire: what all documents share.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "kerfwright/measure/text.h"

namespace kw {

using Json = nlohmann::ordered_json;

[[nodiscard]] inline Json to_json(Length length, const LengthStyle& style) {
  return {{"text", format_length(length, style)}, {"ticks", length.in_ticks()}};
}

[[nodiscard]] inline std::string dump(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace kw
