// What every part of the reader shares: where faults are filed, and how keys are read by tables of
// data.
#pragma once

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <functional>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/piece/document.h"
#include "kerfwright/piece/keys.h"

#include "toml_node.h"

namespace kw::reading {

// The faults of one reading, and what is known of the file while it goes on.
class Reader {
 public:
  explicit Reader(std::string_view content) : content_(content) {}

  LengthUnit unit = LengthUnit::inch;
  std::string key = {};    // the key being read: what an item of a list is an item of
  std::string owner = {};  // "board `leg-a`": whose keys are being read

  // Files a fault; past most_faults only one more, piece.too-many-faults.
  void report(Diagnostic fault);
  // False, with piece.too-many once, when the file has declared all it may.
  [[nodiscard]] bool may_declare(Span at);
  // How a node is called in messages: "`stock`", or "an item of `runs`".
  [[nodiscard]] std::string label_of(const TomlNode& node) const;
  void empty_value(const TomlNode& node);
  void wrong_type(const TomlNode& node, std::string_view expected);
  void missing_key(const TomlNode& table, std::string message, std::string hint = {});

  [[nodiscard]] std::string_view content() const { return content_; }
  // The faults so far, by their place in the text.
  [[nodiscard]] Diagnostics take_faults() &&;

 private:
  std::string_view content_;
  Diagnostics faults_ = {};
  std::size_t declared_ = 0;
};

// While it lives, `reader.owner` says whose keys are being read.
class OwnerScope {
 public:
  OwnerScope(Reader& reader, std::string owner) : reader_(reader), before_(std::move(owner)) {
    std::swap(reader_.owner, before_);
  }
  ~OwnerScope() { std::swap(reader_.owner, before_); }
  OwnerScope(const OwnerScope&) = delete;
  OwnerScope& operator=(const OwnerScope&) = delete;

 private:
  Reader& reader_;
  std::string before_;
};

// A list of exactly `count` items, or a fault and nothing. `expected` says what the items are.
[[nodiscard]] const TomlNode* list_of(Reader& reader, const TomlNode& node, std::size_t count,
                                      std::string_view expected);

// Each reads one type of value. Where it cannot, it files a fault and leaves `into` as it was.
void take(Reader& reader, const TomlNode& node, std::string& into);
void take(Reader& reader, const TomlNode& node, bool& into);
void take(Reader& reader, const TomlNode& node, Name& into);
void take(Reader& reader, const TomlNode& node, Formula& into);
void take(Reader& reader, const TomlNode& node, Formula2& into);
void take(Reader& reader, const TomlNode& node, Formula3& into);
void take(Reader& reader, const TomlNode& node, PointRef& into);
void take(Reader& reader, const TomlNode& node, std::array<PointRef, 2>& into);
void take(Reader& reader, const TomlNode& node, Direction& into);
void take(Reader& reader, const TomlNode& node, EndDecl& into);
void take(Reader& reader, const TomlNode& node, std::array<Name, 2>& into);
void take(Reader& reader, const TomlNode& node, std::vector<Name>& into);
void take(Reader& reader, const TomlNode& node, std::vector<std::string>& into);
void take(Reader& reader, const TomlNode& node, std::vector<OutlineStep>& into);
void take(Reader& reader, const TomlNode& node, std::variant<std::monostate, Name, Formula2>& into);

template <class T>
void take(Reader& reader, const TomlNode& node, std::optional<T>& into) {
  take(reader, node, into.emplace());
}

// What docs and schema call a type.
template <class T>
inline constexpr std::string_view word_for = "";
template <class T>
inline constexpr std::string_view word_for<std::optional<T>> = word_for<T>;
template <>
inline constexpr std::string_view word_for<std::string> = "text";
template <>
inline constexpr std::string_view word_for<bool> = "flag";
template <>
inline constexpr std::string_view word_for<Name> = "word";
template <>
inline constexpr std::string_view word_for<Formula> = "formula";
template <>
inline constexpr std::string_view word_for<Formula2> = "two-formulas";
template <>
inline constexpr std::string_view word_for<Formula3> = "three-formulas";
template <>
inline constexpr std::string_view word_for<PointRef> = "point";
template <>
inline constexpr std::string_view word_for<std::array<PointRef, 2>> = "two-points";
template <>
inline constexpr std::string_view word_for<Direction> = "direction";
template <>
inline constexpr std::string_view word_for<EndDecl> = "end";
template <>
inline constexpr std::string_view word_for<std::array<Name, 2>> = "two-words";
template <>
inline constexpr std::string_view word_for<std::vector<Name>> = "words";
template <>
inline constexpr std::string_view word_for<std::vector<std::string>> = "texts";
template <>
inline constexpr std::string_view word_for<std::vector<OutlineStep>> = "outline";
template <>
inline constexpr std::string_view word_for<std::variant<std::monostate, Name, Formula2>> =
    "section";

// One key of a table that describes a T.
template <class T>
struct Key {
  std::string_view name = {};
  std::string_view takes = {};
  void (*read)(Reader&, const TomlNode&, T&) = nullptr;
  bool is_needed = false;
};

enum class Need : bool { may, must };

// The member at the end of a path of members (or of functions from a value to a part of it).
template <auto First, auto... Rest, class T>
auto& part_of(T& whole) {
  if constexpr (sizeof...(Rest) == 0)
    return std::invoke(First, whole);
  else
    return part_of<Rest...>(std::invoke(First, whole));
}

// key<BoardDecl, &BoardDecl::stock>("stock", Need::must)
template <class T, auto... Path>
constexpr Key<T> key(std::string_view name, Need need = Need::may) {
  using Part = std::remove_reference_t<decltype(part_of<Path...>(std::declval<T&>()))>;
  static_assert(!word_for<Part>.empty());
  return {name, word_for<Part>,
          [](Reader& reader, const TomlNode& node, T& into) {
            take(reader, node, part_of<Path...>(into));
          },
          need == Need::must};
}

// Two tables of keys as one.
template <class T, std::size_t A, std::size_t B>
constexpr std::array<Key<T>, A + B> joined(const std::array<Key<T>, A>& a,
                                           const std::array<Key<T>, B>& b) {
  std::array<Key<T>, A + B> both = {};
  std::copy(a.begin(), a.end(), both.begin());
  std::copy(b.begin(), b.end(), both.begin() + A);
  return both;
}

// Files what is wrong with the set of keys of a table, the values apart.
void unknown_key(Reader& reader, const TomlNode& item, const std::vector<std::string>& known);

template <class T>
const Key<T>* find_key(std::span<const Key<T>> keys, std::string_view name) {
  for (const Key<T>& candidate : keys) {
    if (candidate.name == name) return &candidate;
  }
  return nullptr;
}

template <class T>
std::vector<std::string> names_of(std::span<const Key<T>> keys) {
  std::vector<std::string> names;
  for (const Key<T>& candidate : keys) names.emplace_back(candidate.name);
  return names;
}

template <class T>
void read_key(Reader& reader, const TomlNode& item, const Key<T>& found, T& into) {
  reader.key = item.key;
  found.read(reader, item, into);
}

// The needed keys that a table does not have.
template <class T>
void miss_keys(Reader& reader, const TomlNode& table, std::span<const Key<T>> keys) {
  for (const Key<T>& wanted : keys) {
    if (!wanted.is_needed || table.find(wanted.name) != nullptr) continue;
    reader.missing_key(table, fmt::format("{} does not say its `{}`", reader.owner, wanted.name));
  }
}

// Reads every key of a table by `keys`: unknown keys and missing needed ones are faults.
template <class T>
void read_keys(Reader& reader, const TomlNode& table, std::span<const Key<T>> keys, T& into) {
  for (const TomlNode& item : table.items) {
    const Key<T>* found = find_key(keys, item.key);
    if (found == nullptr)
      unknown_key(reader, item, names_of(keys));
    else
      read_key(reader, item, *found, into);
  }
  miss_keys(reader, table, keys);
}

// Which keys go together: each way is a list of keys, "at along length", those with ? not needed. A
// table goes one way, with all its keys (piece.not-together, piece.missing-key); none at all is a
// fault when `need` is must.
void pick_one(Reader& reader, const TomlNode& table, std::initializer_list<std::string_view> ways,
              Need need);

// [A-Za-z_][A-Za-z0-9_]*(-[A-Za-z0-9_]+)*
[[nodiscard]] bool is_name(std::string_view name);
// Whether a name has the form of one (piece.bad-name, filed, when not).
bool check_name(Reader& reader, std::string_view name, Span at);
[[nodiscard]] Name key_name_of(const TomlNode& node);

template <class T>
KeyTable facts_of(std::string name, std::span<const Key<T>> keys) {
  KeyTable table{.name = std::move(name)};
  for (const Key<T>& k : keys) {
    table.keys.push_back({std::string(k.name), std::string(k.takes), k.is_needed});
  }
  return table;
}

// The tables of keys, told by the parts of the reader that own them.
void add_place_keys(std::vector<KeyTable>& into);

}  // namespace kw::reading
