#include "kerfwright/wire/entry_json.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

#include "kerfwright/measure/text.h"

#include "entry_fields.h"
#include "json.h"
#include "read_request.h"

namespace kw {
namespace {

using wire::Asked;
using wire::fields;

constexpr std::size_t longest_text = 4'000, longest_list = 10'000;
constexpr std::int64_t most_coins = 1'000'000'000'000;

// In the order of the enumerations.
constexpr std::array<std::string_view, 5> on_words = {"supplies", "batch", "running", "fees",
                                                      "tax"};

// ---- Writing

Json json_of(const std::string& text) {
  return text;
}
Json json_of(int value) {
  return value;
}
Json json_of(double value) {
  return value;
}
Json json_of(Length length) {
  return length.in_ticks();
}
Json json_of(Money money) {
  return money.coins;
}
Json json_of(trade::Day day) {
  return trade::format_day(day);
}
Json json_of(trade::PricePer per) {
  return trade::price_per_words[static_cast<std::size_t>(per)];
}
Json json_of(trade::SpentOn on) {
  return on_words[static_cast<std::size_t>(on)];
}
Json json_of(const trade::Work& work) {
  Json json = Json::object();
  for (std::size_t a = 0; a < trade::activities; ++a)
    if (work.amount[a] != 0)
      json[std::string(name_of(static_cast<trade::Activity>(a)))] = work.amount[a];
  return json;
}
template <class T>
Json json_of(const std::optional<T>& value) {
  return value ? json_of(*value) : Json();
}
template <class T>
Json json_of(const std::pair<T, T>& pair) {
  return Json::array({json_of(pair.first), json_of(pair.second)});
}
template <class T>
Json json_of(const std::vector<T>& list);
template <class Struct>
Json json_of(const Struct& value);

struct FieldWriter {
  Json json = Json::object();
  template <class T>
  void must(const char* key, const T& value) {
    json[key] = json_of(value);
  }
  template <class T>
  void may(const char* key, const T& value) {
    if (!(value == T{})) must(key, value);
  }
};
template <class Struct>
Json json_of(const Struct& value) {
  FieldWriter writer;
  fields(writer, value);
  return std::move(writer.json);
}
template <class T>
Json json_of(const std::vector<T>& list) {
  Json json = Json::array();
  for (const T& value : list) json.push_back(json_of(value));
  return json;
}

// ---- Reading

void read(const Asked& at, std::string& text) {
  text = at.text(longest_text);
}
void read(const Asked& at, int& value) {
  value = static_cast<int>(
      at.whole(std::numeric_limits<int>::min() + 1, std::numeric_limits<int>::max()));
}
void read(const Asked& at, double& value) {
  value = at.number();
}
void read(const Asked& at, Money& money) {
  money.coins = at.whole(-most_coins, most_coins);
}
void read(const Asked& at, Length& length) {
  if (!at.is_text()) {
    const std::int64_t most = Length::mm(10'000'000).in_ticks();
    length = Length::ticks(at.whole(-most, most));
    return;
  }
  const std::string words = at.text(100);
  const auto in_inches = parse_length(words, LengthUnit::inch);
  const auto in_mm = parse_length(words, LengthUnit::mm);
  if (!in_inches) return at.refuse("is no length: " + in_inches.diagnostics().front().message);
  if (!in_mm || *in_mm != *in_inches) return at.refuse("needs its unit behind it");
  length = *in_inches;
}
void read(const Asked& at, trade::Day& day) {
  const auto parsed = trade::parse_day(at.text(40));
  if (parsed) day = *parsed;
  if (!parsed) at.refuse("must be a day like 2026-03-01");
}
template <class Enum, std::size_t count>
void read_word(const Asked& at, const std::array<std::string_view, count>& words, Enum& value) {
  const std::string word = at.text(40);
  const auto found = std::find(words.begin(), words.end(), word);
  if (found == words.end()) return at.refuse(fmt::format("must be {}", fmt::join(words, ", ")));
  value = static_cast<Enum>(found - words.begin());
}
void read(const Asked& at, trade::PricePer& per) {
  read_word(at, trade::price_per_words, per);
}
void read(const Asked& at, trade::SpentOn& on) {
  read_word(at, on_words, on);
}
void read(const Asked& at, trade::Work& work) {
  for (const auto& [name, amount] : at.members(trade::activities)) {
    const auto activity = trade::activity_named(name);
    if (!activity) return at.refuse(fmt::format("has an unknown key `{}`", name));
    work.of(*activity) = amount.number();
  }
}
template <class T>
void read(const Asked& at, std::optional<T>& value) {
  read(at, value.emplace());
}
template <class T>
void read(const Asked& at, std::pair<T, T>& pair) {
  const auto items = at.items(2, 2);
  if (items.size() != 2) return;
  read(items[0], pair.first);
  read(items[1], pair.second);
}
template <class T>
void read(const Asked& at, std::vector<T>& list);
template <class Struct>
void read(const Asked& at, Struct& value);

struct FieldReader {
  const Asked& at;
  std::set<std::string, std::less<>> known = {};
  template <class T>
  void must(const char* key, T& value) {
    known.insert(key);
    const Asked field = at.at(key);
    if (at.has(key)) read(field, value);
  }
  template <class T>
  void may(const char* key, T& value) {
    known.insert(key);
    if (at.has(key)) read(at.at(key), value);
  }
  void nothing_else() {
    for (const auto& [key, value] : at.members(longest_list))
      if (!known.contains(key)) at.refuse(fmt::format("has an unknown key `{}`", key));
  }
};
template <class Struct>
void read(const Asked& at, Struct& value) {
  FieldReader reader{at};
  fields(reader, value);
  reader.nothing_else();
}
template <class T>
void read(const Asked& at, std::vector<T>& list) {
  for (const Asked& item : at.items(0, longest_list)) read(item, list.emplace_back());
}

// Calls `use` with a fresh event of the name; false when no event has it.
template <std::size_t index = 0>
bool with_event(std::string_view name, auto use) {
  if constexpr (index < std::variant_size_v<trade::Event>) {
    std::variant_alternative_t<index, trade::Event> event;
    if (name_of(trade::Event(event)) != name) return with_event<index + 1>(name, use);
    use(event);
    return true;
  }
  return false;
}

trade::Entry read_form_1(const Asked& at) {
  trade::Entry entry;
  FieldReader reader{at, {"form", "event"}};
  reader.must("day", entry.day);
  const bool is_known = with_event(at.at("event").text(40), [&](auto& event) {
    fields(reader, event);
    entry.event = std::move(event);
  });
  if (!is_known) at.at("event").refuse("is no event that the books know");
  if (is_known) reader.nothing_else();
  return entry;
}

}  // namespace

std::string entry_json(const trade::Entry& entry) {
  FieldWriter writer;
  writer.must("form", entry_form);
  writer.must("day", entry.day);
  writer.must("event", std::string(name_of(entry.event)));
  std::visit([&](const auto& event) { fields(writer, event); }, entry.event);
  return writer.json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Outcome<trade::Entry> read_entry(std::string_view text) {
  wire::Refusals refusals{.code = "wire.bad-entry",
                          .whole = "the entry",
                          .hint = "docs/trade.md tells what an entry holds"};
  const auto json = wire::parse(text, refusals);
  if (!json) return std::move(refusals.faults);
  const Asked at(*json, "", refusals);
  const std::int64_t form = at.at("form").whole(1, std::numeric_limits<int>::max());
  if (!refusals.any() && form > entry_form)
    return Diagnostic{
        .code = "wire.newer-entry",
        .message = fmt::format("this entry has form {}, which a newer version wrote", form),
        .hint = "open the books with that version"};
  trade::Entry entry = read_form_1(at);
  if (refusals.any()) return std::move(refusals.faults);
  return entry;
}

}  // namespace kw
