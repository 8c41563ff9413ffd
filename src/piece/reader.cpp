#include "reader.h"

#include <algorithm>

namespace kw::reading {
namespace {

constexpr std::size_t most_faults = 500;

// "at along length" without the marks of keys not needed.
std::vector<std::string> keys_in(std::string_view way, bool only_needed) {
  std::vector<std::string> keys;
  while (!way.empty()) {
    std::string_view word = way.substr(0, way.find(' '));
    way.remove_prefix(std::min(word.size() + 1, way.size()));
    const bool is_needed = !word.ends_with('?');
    if (!is_needed) word.remove_suffix(1);
    if (is_needed || !only_needed) keys.emplace_back(word);
  }
  return keys;
}

// "`at`, `along` and `length`"
std::string spoken(const std::vector<std::string>& keys) {
  std::string out;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (i > 0) out += i + 1 == keys.size() ? " and " : ", ";
    out += fmt::format("`{}`", keys[i]);
  }
  return out;
}

std::string spoken(std::initializer_list<std::string_view> ways) {
  std::string out;
  for (const std::string_view way : ways) {
    const auto needed = keys_in(way, true);
    out += (out.empty() ? "" : ", or ") + spoken(needed.empty() ? keys_in(way, false) : needed);
  }
  return out;
}

// The first key of a way that the table has.
const TomlNode* first_of(const TomlNode& table, std::string_view way) {
  const auto keys = keys_in(way, false);
  const auto found =
      std::find_if(table.items.begin(), table.items.end(), [&](const TomlNode& item) {
        return std::find(keys.begin(), keys.end(), item.key) != keys.end();
      });
  return found == table.items.end() ? nullptr : &*found;
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_name_part(char c) {
  return is_letter(c) || (c >= '0' && c <= '9');
}

// The name with what may not stand in one left out, or "" when nothing is left.
std::string mended(std::string_view name) {
  std::string out;
  for (const char c : name) {
    if (is_name_part(c) && (is_letter(c) || !out.empty()))
      out += c;
    else if (!out.empty() && out.back() != '-')
      out += '-';
  }
  while (out.ends_with('-')) out.pop_back();
  return out;
}

}  // namespace

void Reader::report(Diagnostic fault) {
  if (faults_.size() < most_faults) {
    faults_.push_back(std::move(fault));
  } else if (faults_.size() == most_faults) {
    faults_.push_back(
        {.code = "piece.too-many-faults",
         .at = fault.at,
         .message = fmt::format("more than {} faults: what follows is not told", most_faults),
         .hint = "mend those above and read the file again"});
  }
}

bool Reader::may_declare(Span at) {
  if (++declared_ == most_declarations + 1) {
    report({.code = "piece.too-many",
            .at = at,
            .message = fmt::format("the file declares more than {} things", most_declarations),
            .hint = "make copies with [repeat] and [use] in place of writing them out"});
  }
  return declared_ <= most_declarations;
}

std::string Reader::label_of(const TomlNode& node) const {
  return node.key.empty() ? fmt::format("an item of `{}`", key) : fmt::format("`{}`", node.key);
}

void Reader::wrong_type(const TomlNode& node, std::string_view expected) {
  report({.code = "piece.wrong-type",
          .at = node.at,
          .message = fmt::format("{} takes {}; this is {}", label_of(node), expected,
                                 name_of(node.kind))});
}

void Reader::empty_value(const TomlNode& node) {
  report({.code = "piece.empty",
          .at = node.at,
          .message = fmt::format("{} is empty", label_of(node)),
          .hint = "leave the key out, or say something"});
}

void Reader::missing_key(const TomlNode& table, std::string message, std::string hint) {
  report({.code = "piece.missing-key",
          .at = table.at,
          .message = std::move(message),
          .hint = std::move(hint)});
}

Diagnostics Reader::take_faults() && {
  std::stable_sort(faults_.begin(), faults_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return a.at.begin < b.at.begin;
  });
  return std::move(faults_);
}

void unknown_key(Reader& reader, const TomlNode& item, const std::vector<std::string>& known) {
  const std::string nearest = nearest_name(item.key, known);
  const std::string hint = nearest.empty() ? fmt::format("it knows {}", spoken(known))
                                           : fmt::format("did you mean `{}`?", nearest);
  reader.report({.code = "piece.unknown-key",
                 .at = item.key_at,
                 .message = fmt::format("{} has no key `{}`", reader.owner, item.key),
                 .hint = hint});
}

void pick_one(Reader& reader, const TomlNode& table, std::initializer_list<std::string_view> ways,
              Need need) {
  const TomlNode* gone = nullptr;
  std::string_view way_gone;
  for (const std::string_view way : ways) {
    const TomlNode* first = first_of(table, way);
    if (first == nullptr) continue;
    if (gone != nullptr) {
      reader.report({.code = "piece.not-together",
                     .at = first->key_at,
                     .message = fmt::format("`{}` does not go with `{}`", first->key, gone->key),
                     .notes = {{gone->key_at, fmt::format("`{}` stands here", gone->key)}},
                     .hint = fmt::format("say one of: {}", spoken(ways))});
      return;
    }
    gone = first;
    way_gone = way;
  }
  if (gone == nullptr) {
    if (need == Need::may) return;
    return reader.missing_key(table, fmt::format("{} must say {}", reader.owner, spoken(ways)));
  }
  for (const std::string& wanted : keys_in(way_gone, true)) {
    if (table.find(wanted) != nullptr) continue;
    reader.missing_key(
        table, fmt::format("{} says `{}` and so must say `{}`", reader.owner, gone->key, wanted));
  }
}

bool is_name(std::string_view name) {
  if (name.empty() || !is_letter(name.front()) || name.back() == '-') return false;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if (!is_name_part(name[i]) && (name[i] != '-' || name[i - 1] == '-')) return false;
  }
  return true;
}

bool check_name(Reader& reader, std::string_view name, Span at) {
  if (is_name(name)) return true;
  const std::string better = mended(name);
  reader.report(
      {.code = "piece.bad-name",
       .at = at,
       .message = fmt::format("`{}` is no name: a name has letters, digits and _, hyphens "
                              "between them, and no digit first",
                              name),
       .hint = better.empty() ? std::string() : fmt::format("call it `{}`", better)});
  return false;
}

}  // namespace kw::reading
