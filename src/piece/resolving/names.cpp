#include "names.h"

namespace kw::resolving {
namespace {

// A copy names its boards in the order of `of`, once for each laying; that can be told beforehand
// where each word of `of` is the name of one board or copy.
void add_sources(const CopyDecl& copy, ScopeNames& into) {
  for (const Name& word : copy.of) {
    const bool is_many = word.text.find('*') != std::string::npos || find(into.copies, word.text) ||
                         find(into.uses, word.text);
    if (is_many) return;
  }
  for (std::size_t i = 0; i < copy.names.size() && !copy.of.empty(); ++i)
    into.sources.emplace(copy.names[i].text, copy.of[i % copy.of.size()].text);
}

ScopeNames names_of(const Scope& scope) {
  ScopeNames names{.derived = table_of(scope.derived),
                   .points = table_of(scope.points),
                   .planes = table_of(scope.planes),
                   .boards = table_of(scope.boards),
                   .panels = table_of(scope.panels),
                   .copies = table_of(scope.copies),
                   .uses = table_of(scope.uses)};
  for (const CopyDecl& copy : scope.copies) add_sources(copy, names);
  return names;
}

}  // namespace

std::vector<std::string> names_in(const NameTable& table) {
  std::vector<std::string> names;
  for (const auto& [name, index] : table) names.emplace_back(name);
  return names;
}

DocumentNames names_of(const Document& document) {
  DocumentNames names{.sizes = table_of(document.sizes),
                      .stocks = table_of(document.stocks),
                      .assemblies = table_of(document.assemblies)};
  names.scopes.push_back(names_of(document.top));
  for (const AssemblyDecl& assembly : document.assemblies)
    names.scopes.push_back(names_of(assembly.scope));
  return names;
}

std::string_view original_of(const ScopeNames& names, std::string_view name) {
  constexpr int longest_chain = 100;  // copies of copies; a ring of them ends here too
  for (int i = 0; i < longest_chain; ++i) {
    const auto source = names.sources.find(name);
    if (source == names.sources.end()) return name;
    name = source->second;
  }
  return name;
}

const Scope& scope_of(const Document& document, int number) {
  return number == 0 ? document.top
                     : document.assemblies[static_cast<std::size_t>(number - 1)].scope;
}

}  // namespace kw::resolving
