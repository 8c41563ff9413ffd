#include "read_request.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace kw::wire {
namespace {

constexpr std::size_t deepest = 64;
const RequestJson nothing = nullptr;

// nlohmann's reader keeps the last of doubled keys and sets no bound to nesting: this looks for
// both while it reads. The tree is made by the parser itself.
struct Watch {
  Refusals& refusals;
  std::vector<std::set<std::string>> keys = {};

  bool operator()(int depth, RequestJson::parse_event_t event, RequestJson& parsed) {
    using Event = RequestJson::parse_event_t;
    if (static_cast<std::size_t>(depth) > deepest) {
      refusals.say("", fmt::format("is nested more than {} deep", deepest));
      return false;
    }
    if (event == Event::object_start) keys.emplace_back();
    if (event == Event::object_end && !keys.empty()) keys.pop_back();
    if (event == Event::key && !keys.empty() &&
        !keys.back().insert(parsed.get<std::string>()).second)
      refusals.say("", fmt::format("has the key `{}` twice", parsed.get<std::string>()));
    return true;
  }
};

// Nesting is measured before parsing, since the parser would build all of it.
bool is_too_deep(std::string_view text) {
  std::size_t depth = 0;
  bool is_in_text = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (is_in_text) {
      if (c == '\\') ++i;
      if (c == '"') is_in_text = false;
    } else if (c == '"') {
      is_in_text = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest) return true;
    } else if ((c == ']' || c == '}') && depth > 0) {
      --depth;
    }
  }
  return false;
}

std::size_t characters_in(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

}  // namespace

void Refusals::say(const std::string& pointer, const std::string& what) {
  if (any()) return;
  faults.push_back(
      {.code = code,
       .message = fmt::format("{} {}", pointer.empty() ? whole : std::string_view(pointer), what),
       .hint = std::string(hint)});
}

std::optional<RequestJson> parse(std::string_view text, Refusals& refusals) {
  if (is_too_deep(text)) {
    refusals.say("", fmt::format("is nested more than {} deep", deepest));
    return std::nullopt;
  }
  Watch watch{refusals};
  RequestJson json = RequestJson::parse(text.begin(), text.end(), std::ref(watch), false);
  if (json.is_discarded()) refusals.say("", "is no JSON (RFC 8259)");
  if (refusals.any()) return std::nullopt;
  return json;
}

void Asked::only(std::initializer_list<std::string_view> needed,
                 std::initializer_list<std::string_view> others) const {
  if (!json_->is_object()) {
    refuse("must be an object");
    return;
  }
  const auto is_in = [](std::string_view key, std::initializer_list<std::string_view> list) {
    return std::find(list.begin(), list.end(), key) != list.end();
  };
  for (const auto& [key, value] : json_->items())
    if (!is_in(key, needed) && !is_in(key, others))
      refuse(fmt::format("has an unknown key `{}`", key));
  for (const std::string_view key : needed)
    if (!has(key)) refuse(fmt::format("lacks `{}`", key));
}

bool Asked::has(std::string_view key) const {
  return json_->is_object() && json_->contains(std::string(key));
}

Asked Asked::at(std::string_view key) const {
  const std::string pointer = fmt::format("{}/{}", pointer_, key);
  if (!has(key)) {
    refuse(fmt::format("lacks `{}`", key));
    return {nothing, pointer, *refusals_};
  }
  return {(*json_)[std::string(key)], pointer, *refusals_};
}

std::vector<Asked> Asked::items(std::size_t least, std::size_t most) const {
  std::vector<Asked> all;
  if (!json_->is_array() || json_->size() < least || json_->size() > most) {
    refuse(fmt::format("must be a list of {} to {}", least, most));
    return all;
  }
  for (std::size_t i = 0; i < json_->size(); ++i)
    all.emplace_back((*json_)[i], fmt::format("{}/{}", pointer_, i), *refusals_);
  return all;
}

std::vector<std::pair<std::string, Asked>> Asked::members(std::size_t most) const {
  std::vector<std::pair<std::string, Asked>> all;
  if (!json_->is_object() || json_->size() > most) {
    refuse(fmt::format("must be an object of at most {} keys", most));
    return all;
  }
  for (const auto& [key, value] : json_->items())
    all.emplace_back(key, Asked(value, fmt::format("{}/{}", pointer_, key), *refusals_));
  return all;
}

std::string Asked::text(std::size_t most, std::size_t least) const {
  if (!json_->is_string()) {
    refuse("must be text");
    return {};
  }
  auto value = json_->get<std::string>();
  const std::size_t length = characters_in(value);
  if (length >= least && length <= most) return value;
  refuse(fmt::format("must have {} to {} characters", least, most));
  return {};
}

std::string Asked::one_of(std::initializer_list<std::string_view> words) const {
  std::string value = json_->is_string() ? json_->get<std::string>() : "";
  if (std::find(words.begin(), words.end(), value) != words.end()) return value;
  refuse(fmt::format("must be one of: {}", fmt::join(words, ", ")));
  return std::string(*words.begin());
}

std::int64_t Asked::whole(std::int64_t least, std::int64_t most) const {
  const bool fits = !json_->is_number_unsigned() ||
                    json_->get<std::uint64_t>() <= static_cast<std::uint64_t>(INT64_MAX);
  if (json_->is_number_integer() && fits) {
    const auto value = json_->get<std::int64_t>();
    if (value >= least && value <= most) return value;
  }
  refuse(fmt::format("must be a whole number from {} to {}", least, most));
  return least;
}

double Asked::number(double least, double most) const {
  if (json_->is_number()) {
    const auto value = json_->get<double>();
    if (std::isfinite(value) && value >= least && value <= most) return value;
  }
  refuse("must be a number in range");
  return 0;
}

bool Asked::truth() const {
  if (json_->is_boolean()) return json_->get<bool>();
  refuse("must be true or false");
  return false;
}

}  // namespace kw::wire
