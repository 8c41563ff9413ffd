// What may be said of a joint, in words for forms and cards. Private to wire.
#pragma once

#include <string_view>
#include <vector>

#include "json_writer.h"

namespace kw::wire {

struct JointKey {
  std::string_view key = {}, words = {}, kind = {};  // "depth", "depth", "length"
  bool is_needed = false;
};
// In the order of the piece file's keys. `kind`: "half-lap".
[[nodiscard]] std::vector<JointKey> keys_of_joint(std::string_view kind);
// The values that a key takes, when it takes only some; else an empty list.
void write_joint_choices(JsonWriter& json, std::string_view key);
void write_choice(JsonWriter& json, std::string_view value, std::string_view words);

}  // namespace kw::wire
