#include "joint_keys.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "kerfwright/piece/keys.h"

namespace kw::wire {
namespace {

struct FieldWords {
  std::string_view key, words, kind;
};
constexpr std::array<FieldWords, 21> field_words = {{
    {"depth", "depth", "length"},
    {"over", "which keeps its show face", "choice"},
    {"stop", "stops short of the front edge by", "length"},
    {"edge", "edge", "choice"},
    {"face", "face", "choice"},
    {"width", "width", "length"},
    {"wide", "width", "length"},
    {"thick", "thickness", "length"},
    {"long", "length", "length"},
    {"offset", "moved: across, through", "formula"},
    {"starts", "begins at", "length"},
    {"ends", "ends at", "length"},
    {"diameter", "diameter", "length"},
    {"fasten", "fastener", "choice"},
    {"count", "how many", "number"},
    {"inset", "from the edge", "length"},
    {"from", "goes in through", "choice"},
    {"glue", "glue", "choice"},
    {"ease", "slack", "length"},
    {"note", "note", "text"},
    {"step", "order of assembly", "number"},
}};

}  // namespace

void write_choice(JsonWriter& json, std::string_view value, std::string_view words) {
  json.object().key("value").text(value).key("words").text(words).end();
}

std::vector<JointKey> keys_of_joint(std::string_view kind) {
  std::vector<JointKey> keys;
  for (const KeyTable& table : piece_keys()) {
    if (table.name != fmt::format("joint.{}", kind)) continue;
    for (const KeyFact& fact : table.keys) {
      const auto* const found =
          std::find_if(field_words.begin(), field_words.end(),
                       [&](const FieldWords& field) { return field.key == fact.name; });
      if (found != field_words.end())
        keys.push_back({found->key, found->words, found->kind, fact.is_needed});
    }
  }
  return keys;
}

void write_joint_choices(JsonWriter& json, std::string_view key) {
  json.array();
  if (key == "over" || key == "from") {
    write_choice(json, "a", "the first");
    write_choice(json, "b", "the second");
  }
  if (key == "edge" || key == "face")
    for (const char* side : {"+y", "-y", "+z", "-z"}) write_choice(json, side, side);
  json.end();
}

}  // namespace kw::wire
