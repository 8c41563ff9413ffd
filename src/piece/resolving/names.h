// Which declaration a name means. Of two of one name (the reader has told that) the first counts.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/piece/document.h"

namespace kw::resolving {

using NameTable = std::map<std::string_view, int>;

[[nodiscard]] inline std::optional<int> find(const NameTable& table, std::string_view name) {
  const auto found = table.find(name);
  return found == table.end() ? std::nullopt : std::optional(found->second);
}

[[nodiscard]] std::vector<std::string> names_in(const NameTable& table);

template <class Decl>
NameTable table_of(const std::vector<Decl>& declarations) {
  NameTable table;
  for (std::size_t i = 0; i < declarations.size(); ++i)
    table.emplace(declarations[i].name.text, static_cast<int>(i));
  return table;
}

struct ScopeNames {
  NameTable derived = {}, points = {}, planes = {}, boards = {}, panels = {}, copies = {},
            uses = {};
  // Names given to copies, and which board or copy each is one of, where that is said by name.
  std::map<std::string_view, std::string_view> sources = {};
};

// What a name is a copy of in the end, or the name itself.
[[nodiscard]] std::string_view original_of(const ScopeNames& names, std::string_view name);

// The scopes of a document by number: 0 is the piece, 1 the first assembly, and so on.
struct DocumentNames {
  NameTable sizes = {}, stocks = {}, assemblies = {};
  std::vector<ScopeNames> scopes = {};
};

[[nodiscard]] DocumentNames names_of(const Document& document);
[[nodiscard]] const Scope& scope_of(const Document& document, int number);

}  // namespace kw::resolving
