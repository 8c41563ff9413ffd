// What may stand in the file and in an assembly, and the names it shares.
#include <map>

#include "read_declaration.h"

namespace kw::reading {
namespace {

void read_points(Reader& reader, const TomlNode& node, std::vector<PointDecl>& into) {
  if (node.kind != NodeKind::table) {
    return reader.wrong_type(node, "points, each NAME = [x, y, z]");
  }
  const OwnerScope owner(reader, "[point]");
  for (const TomlNode& item : node.items) {
    if (!reader.may_declare(item.key_at)) return;
    check_name(reader, item.key, item.key_at);
    reader.key = item.key;
    PointDecl& point = into.emplace_back(PointDecl{.name = key_name_of(item)});
    take(reader, item, point.at);
  }
}

template <class Decl, std::vector<Decl> Scope::*Where,
          bool (*Read)(Reader&, const TomlNode&, Decl&)>
constexpr Key<Scope> declarations(std::string_view word) {
  return {word, "declarations", [](Reader& reader, const TomlNode& node, Scope& into) {
            read_named<Decl>(reader, node, node.key, Read, into.*Where);
          }};
}

constexpr std::array scope_keys = {
    Key<Scope>{"derived", "formulas",
               [](Reader& reader, const TomlNode& node, Scope& into) {
                 read_formulas(reader, node, into.derived);
               }},
    Key<Scope>{"point", "points",
               [](Reader& reader, const TomlNode& node, Scope& into) {
                 read_points(reader, node, into.points);
               }},
    declarations<PlaneDecl, &Scope::planes, read_plane>("plane"),
    declarations<BoardDecl, &Scope::boards, read_board>("board"),
    declarations<PanelDecl, &Scope::panels, read_panel>("panel"),
    declarations<CutDecl, &Scope::cuts, read_cut>("cut"),
    declarations<HoleDecl, &Scope::holes, read_hole>("hole"),
    declarations<CornerDecl, &Scope::corners, read_corner>("corner"),
    declarations<CopyDecl, &Scope::copies, read_mirror>("mirror"),
    declarations<CopyDecl, &Scope::copies, read_repeat>("repeat"),
    declarations<CopyDecl, &Scope::copies, read_turn>("turn"),
    declarations<CopyDecl, &Scope::copies, read_fill>("fill"),
    declarations<JointDecl, &Scope::joints, read_joint>("joint"),
    declarations<UseDecl, &Scope::uses, read_use>("use"),
};

// Everything that `of` may name, in the order of the text.
std::vector<Name> shared_names(const Scope& scope) {
  std::vector<Name> names;
  for (const BoardDecl& board : scope.boards) names.push_back(board.name);
  for (const PanelDecl& panel : scope.panels) names.push_back(panel.name);
  for (const UseDecl& use : scope.uses) names.push_back(use.name);
  for (const CopyDecl& copy : scope.copies) {
    names.push_back(copy.name);
    names.insert(names.end(), copy.names.begin(), copy.names.end());
  }
  std::stable_sort(names.begin(), names.end(),
                   [](const Name& a, const Name& b) { return a.at.begin < b.at.begin; });
  return names;
}

}  // namespace

void check_distinct(Reader& reader, const std::vector<Name>& names, std::string_view who) {
  std::map<std::string_view, Span> first;
  for (const Name& name : names) {
    const auto [place, is_new] = first.emplace(name.text, name.at);
    if (is_new) continue;
    reader.report({.code = "piece.duplicate-name",
                   .at = name.at,
                   .message = fmt::format("`{}` is already the name of something else: {} share "
                                          "their names",
                                          name.text, who),
                   .notes = {{place->second, "the first stands here"}},
                   .hint = "give one of them another name"});
  }
}

void read_formulas(Reader& reader, const TomlNode& node, std::vector<DerivedDecl>& into) {
  if (node.kind != NodeKind::table) {
    return reader.wrong_type(node, "formulas, each NAME = \"formula\"");
  }
  for (const TomlNode& item : node.items) {
    if (!reader.may_declare(item.key_at)) return;
    DerivedDecl& derived = into.emplace_back(DerivedDecl{.name = key_name_of(item)});
    if (check_name(reader, item.key, item.key_at)) check_formula_name(reader, derived.name);
    reader.key = item.key;
    take(reader, item, derived.is);
  }
}

bool read_scope_key(Reader& reader, const TomlNode& item, Scope& into) {
  const Key<Scope>* found = find_key<Scope>(scope_keys, item.key);
  if (found != nullptr) read_key(reader, item, *found, into);
  return found != nullptr;
}

std::vector<std::string> scope_key_names() {
  return names_of<Scope>(scope_keys);
}

void finish_scope(Reader& reader, Scope& scope) {
  std::stable_sort(
      scope.copies.begin(), scope.copies.end(),
      [](const CopyDecl& a, const CopyDecl& b) { return a.name.at.begin < b.name.at.begin; });
  check_distinct(reader, shared_names(scope), "boards, panels, copies and uses");
}

bool read_assembly(Reader& reader, const TomlNode& table, AssemblyDecl& into) {
  for (const TomlNode& item : table.items) {
    if (!read_scope_key(reader, item, into.scope)) unknown_key(reader, item, scope_key_names());
  }
  finish_scope(reader, into.scope);
  return true;
}

void add_scope_keys(std::vector<KeyTable>& into) {
  into.push_back(facts_of<Scope>("assembly", scope_keys));
}

}  // namespace kw::reading
