#include "naming.h"

#include <fmt/format.h>

#include "resolving/names.h"

namespace kw::changing {
namespace {

using resolving::scope_of;

bool is_one_of(const std::string& word, std::initializer_list<const char*> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

std::optional<Kind> kind_of(const std::string& table) {
  if (is_one_of(table, {"size", "derived"})) return Kind::value;
  if (table == "stock") return Kind::stock;
  if (table == "point") return Kind::point;
  if (table == "plane") return Kind::plane;
  if (table == "assembly") return Kind::assembly;
  if (is_one_of(table, {"board", "panel", "mirror", "repeat", "turn", "fill", "use"}))
    return Kind::board;
  return std::nullopt;
}

// The words of a name such as "row/leg-a/2" between its slashes.
std::vector<std::string> parts_of(const std::string& word) {
  std::vector<std::string> parts = {""};
  for (const char c : word) {
    if (c == '/')
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

bool has_board(const Scope& scope, const std::string& name) {
  return declares(scope.boards, name) || declares(scope.panels, name);
}

// The assembly that a use of this name places, or -1.
int placed_by(const Document& document, int scope, const std::string& use) {
  for (const UseDecl& decl : scope_of(document, scope).uses)
    if (decl.name.text == use) return scope_called(document, decl.assembly.text);
  return -1;
}

// The part of a board's word that is the target's name, or -1: of "other-side/low/leg-a" the part
// behind the names of copies and uses.
int part_named(const Document& document, const Reference& reference, const Target& target) {
  const auto parts = parts_of(reference.word);
  int scope = reference.scope;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (scope == target.scope && parts[i] == target.name) return static_cast<int>(i);
    if (declares(scope_of(document, scope).copies, parts[i])) continue;
    scope = placed_by(document, scope, parts[i]);
    if (scope < 0) return -1;
  }
  return -1;
}

// A value of an assembly hides one of the piece.
bool is_value_named(const Document& document, const Reference& reference, const Target& target) {
  if (reference.kind != Kind::value || reference.word != target.name) return false;
  if (reference.given_to != 0) return reference.given_to == target.scope;
  const bool is_own = declares(scope_of(document, reference.scope).derived, target.name);
  return (is_own ? reference.scope : 0) == target.scope;
}

// In an assembly its boards hide stocks; in the piece a dotted name is a stock's where there is
// one.
bool is_stock_named(const Document& document, const Reference& reference, const Target& target) {
  if (reference.kind != Kind::stock || reference.word != target.name) return false;
  if (!reference.is_dotted) return true;
  const bool is_hidden =
      reference.scope != 0 && has_board(scope_of(document, reference.scope), target.name);
  return !is_hidden && is_one_of(reference.tail, {"thickness", "width"});
}

bool is_point_named(const Reference& reference, const Target& target) {
  const bool is_coordinate = reference.is_dotted && is_one_of(reference.tail, {"x", "y", "z"});
  return (reference.kind == Kind::point || is_coordinate) && reference.scope == target.scope &&
         reference.word == target.name;
}

bool is_board_named(const Document& document, const Reference& reference, const Target& target) {
  if (reference.kind == Kind::board) return part_named(document, reference, target) >= 0;
  if (!reference.is_dotted || reference.scope != target.scope || reference.word != target.name)
    return false;
  const bool is_stocks = target.scope == 0 && declares(document.stocks, target.name);
  return !is_stocks && is_one_of(reference.tail, {"length", "width", "thickness"});
}

}  // namespace

std::optional<Target> target_of(const Document& document, const KeyPath& path) {
  Target target;
  const bool is_inside = path.size() == 4 && path[0] == "assembly";
  if (!is_inside && path.size() != 2) return std::nullopt;
  if (is_inside) target.scope = scope_called(document, path[1]);
  if (target.scope < 0) return std::nullopt;
  target.table = path[path.size() - 2];
  target.name = path.back();
  target.kind = kind_of(target.table);
  const bool is_named_by_nothing =
      is_one_of(target.table, {"joint", "cut", "hole", "corner", "load"});
  if (!target.kind && !is_named_by_nothing) return std::nullopt;
  return target;
}

KeyPath path_of_scope(const Document& document, int scope) {
  if (scope == 0) return {};
  return {"assembly", document.assemblies[static_cast<std::size_t>(scope - 1)].name.text};
}

KeyPath owner_of(const Document& document, const Reference& reference) {
  KeyPath path = path_of_scope(document, reference.scope);
  path.insert(path.end(), reference.owner.begin(), reference.owner.end());
  return path;
}

bool is_named(const Document& document, const Reference& reference, const Target& target) {
  if (!target.kind) return false;
  switch (*target.kind) {
    case Kind::value:
      return is_value_named(document, reference, target);
    case Kind::stock:
      return is_stock_named(document, reference, target);
    case Kind::point:
      return is_point_named(reference, target);
    case Kind::plane:
      return reference.kind == Kind::plane && reference.scope == target.scope &&
             reference.word == target.name;
    case Kind::assembly:
      return reference.kind == Kind::assembly && reference.word == target.name;
    case Kind::board:
      return is_board_named(document, reference, target);
  }
  return false;
}

std::string renamed_word(const Document& document, const Reference& reference, const Target& target,
                         const std::string& to) {
  auto parts = parts_of(reference.word);
  parts[static_cast<std::size_t>(part_named(document, reference, target))] = to;
  return fmt::format("{}", fmt::join(parts, "/"));
}

bool is_taken(const Document& document, const Resolved& piece, const Target& target,
              const std::string& name) {
  const Scope& scope = scope_of(document, target.scope);
  const auto has_value = [&](const AssemblyDecl& assembly) {
    return declares(assembly.scope.derived, name);
  };
  switch (*target.kind) {
    case Kind::value:  // one of the piece and one of an assembly would hide one another
      return declares(document.sizes, name) || declares(document.top.derived, name) ||
             (target.scope == 0
                  ? std::any_of(document.assemblies.begin(), document.assemblies.end(), has_value)
                  : declares(scope.derived, name));
    case Kind::stock:
      return declares(document.stocks, name);
    case Kind::point:
      return declares(scope.points, name);
    case Kind::plane:
      return declares(scope.planes, name) || name == "floor";
    case Kind::assembly:
      return declares(document.assemblies, name);
    case Kind::board: {
      const auto names = target.scope == 0 ? board_names(document, piece) : board_names_in(scope);
      return std::find(names.begin(), names.end(), name) != names.end();
    }
  }
  return false;
}

}  // namespace kw::changing
