#include "names.h"

namespace kw::resolving {
namespace {

ScopeNames names_of(const Scope& scope) {
  return {.derived = table_of(scope.derived),
          .points = table_of(scope.points),
          .planes = table_of(scope.planes),
          .boards = table_of(scope.boards),
          .panels = table_of(scope.panels),
          .copies = table_of(scope.copies),
          .uses = table_of(scope.uses)};
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

const Scope& scope_of(const Document& document, int number) {
  return number == 0 ? document.top
                     : document.assemblies[static_cast<std::size_t>(number - 1)].scope;
}

}  // namespace kw::resolving
