// A strict reader over JSON. Private to wire.
#pragma once

#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "kerfwright/wire/requests.h"

namespace kw::wire {

using RequestJson = nlohmann::json;

// One fault stops the reading of a request: the first is kept, values asked for after it are empty.
struct Refusals {
  std::string_view code = "wire.bad-request";
  std::string_view whole = "the request";  // what messages call all of it
  std::string_view hint = "web/contract/openapi.yaml tells what may be asked";
  Diagnostics faults = {};
  void say(const std::string& pointer, const std::string& what);
  [[nodiscard]] bool any() const { return !faults.empty(); }
};

// A value of the request and where it stands.
class Asked {
 public:
  Asked(const RequestJson& json, std::string pointer, Refusals& refusals)
      : json_(&json), pointer_(std::move(pointer)), refusals_(&refusals) {}

  // Of an object: refuses keys that are not in `keys`, and the lack of those in `needed`.
  void only(std::initializer_list<std::string_view> needed,
            std::initializer_list<std::string_view> others = {}) const;
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] Asked at(std::string_view key) const;
  [[nodiscard]] std::vector<Asked> items(std::size_t least, std::size_t most) const;
  [[nodiscard]] std::vector<std::pair<std::string, Asked>> members(std::size_t most) const;

  [[nodiscard]] std::string text(std::size_t most, std::size_t least = 0) const;
  [[nodiscard]] std::string one_of(std::initializer_list<std::string_view> words) const;
  [[nodiscard]] std::int64_t whole(std::int64_t least, std::int64_t most) const;
  [[nodiscard]] double number(double least = std::numeric_limits<double>::lowest(),
                              double most = std::numeric_limits<double>::max()) const;
  [[nodiscard]] bool truth() const;
  [[nodiscard]] bool is_text() const { return json_->is_string(); }
  [[nodiscard]] bool is_list() const { return json_->is_array(); }
  [[nodiscard]] bool is_truth() const { return json_->is_boolean(); }
  [[nodiscard]] bool is_object() const { return json_->is_object(); }
  void refuse(const std::string& what) const { refusals_->say(pointer_, what); }

 private:
  const RequestJson* json_;
  std::string pointer_;
  Refusals* refusals_;
};

// Parses, or says why not: broken JSON, doubled keys, nesting, bytes that are no UTF-8.
[[nodiscard]] std::optional<RequestJson> parse(std::string_view text, Refusals& refusals);

// Reads with `read(Asked)`; the value when nothing was refused.
template <class Read>
auto read_request(std::string_view text, Read read)
    -> Outcome<decltype(read(std::declval<Asked>()))> {
  Refusals refusals;
  const auto json = parse(text, refusals);
  if (!json) return std::move(refusals.faults);
  auto value = read(Asked(*json, "", refusals));
  if (refusals.any()) return std::move(refusals.faults);
  return value;
}

}  // namespace kw::wire
