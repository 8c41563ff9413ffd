// Named declarations: [board.leg-a], [size.height]. Each `read_...` reads the keys of one; false
// means that too little is known to keep it.
#pragma once

#include "reader.h"

namespace kw::reading {

bool read_size(Reader& reader, const TomlNode& table, SizeDecl& into);
bool read_stock(Reader& reader, const TomlNode& table, StockDecl& into);
bool read_load(Reader& reader, const TomlNode& table, LoadDecl& into);
bool read_step(Reader& reader, const TomlNode& table, StepDecl& into);
bool read_plane(Reader& reader, const TomlNode& table, PlaneDecl& into);
bool read_board(Reader& reader, const TomlNode& table, BoardDecl& into);
bool read_panel(Reader& reader, const TomlNode& table, PanelDecl& into);
bool read_cut(Reader& reader, const TomlNode& table, CutDecl& into);
bool read_hole(Reader& reader, const TomlNode& table, HoleDecl& into);
bool read_corner(Reader& reader, const TomlNode& table, CornerDecl& into);
bool read_mirror(Reader& reader, const TomlNode& table, CopyDecl& into);
bool read_repeat(Reader& reader, const TomlNode& table, CopyDecl& into);
bool read_turn(Reader& reader, const TomlNode& table, CopyDecl& into);
bool read_fill(Reader& reader, const TomlNode& table, CopyDecl& into);
bool read_joint(Reader& reader, const TomlNode& table, JointDecl& into);
bool read_use(Reader& reader, const TomlNode& table, UseDecl& into);
bool read_assembly(Reader& reader, const TomlNode& table, AssemblyDecl& into);

// One key of what may stand in the file and in an assembly; false: `item` is no such key.
bool read_scope_key(Reader& reader, const TomlNode& item, Scope& into);
[[nodiscard]] std::vector<std::string> scope_key_names();
// What the order of reading and the sharing of names ask for, once all keys of a scope are read.
void finish_scope(Reader& reader, Scope& scope);

// NAME = "formula", of [derived] and `with`.
void read_formulas(Reader& reader, const TomlNode& node, std::vector<DerivedDecl>& into);
// Files piece.duplicate-name for each name that stood before; `who` shares them.
void check_distinct(Reader& reader, const std::vector<Name>& names, std::string_view who);
// The name of something that formulas call by it: not a unit, not pi (piece.reserved-name).
void check_formula_name(Reader& reader, const Name& name);

// Every [word.NAME] of a table, in the order of the text.
template <class Decl>
void read_named(Reader& reader, const TomlNode& node, std::string_view word,
                bool (*read)(Reader&, const TomlNode&, Decl&), std::vector<Decl>& into) {
  if (node.kind != NodeKind::table) {
    return reader.wrong_type(node, fmt::format("a table for each, [{}.NAME]", word));
  }
  for (const TomlNode& item : node.items) {
    if (!reader.may_declare(item.key_at)) return;
    check_name(reader, item.key, item.key_at);
    if (item.kind != NodeKind::table) {
      reader.wrong_type(item, fmt::format("a table of its own, [{}.{}]", word, item.key));
      continue;
    }
    const OwnerScope owner(reader, fmt::format("{} `{}`", word, item.key));
    Decl decl;
    decl.name = key_name_of(item);
    if (read(reader, item, decl)) into.push_back(std::move(decl));
  }
}

void add_stock_keys(std::vector<KeyTable>& into);
void add_board_keys(std::vector<KeyTable>& into);
void add_copy_keys(std::vector<KeyTable>& into);
void add_joint_keys(std::vector<KeyTable>& into);
void add_scope_keys(std::vector<KeyTable>& into);

}  // namespace kw::reading
