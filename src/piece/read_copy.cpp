// Copies: mirror, repeat, turn, fill; and uses of an assembly.
#include "read_declaration.h"

namespace kw::reading {
namespace {

// The part of a copy that is its own kind's; each reader below makes it that kind first.
template <class How>
How& how_of(CopyDecl& copy) {
  return std::get<How>(copy.how);
}

void take_names(Reader& reader, const TomlNode& node, CopyDecl& into) {
  take(reader, node, into.names);
  for (const Name& name : into.names) check_name(reader, name.text, name.at);
}

constexpr std::array all_keys = {
    key<CopyDecl, &CopyDecl::of>("of", Need::must),
    Key<CopyDecl>{"names", "names", take_names},
    key<CopyDecl, &CopyDecl::with_joints>("joints"),
};

constexpr auto mirror_keys = joined(
    all_keys, std::array{
                  key<CopyDecl, &how_of<MirrorDecl>, &MirrorDecl::across>("across", Need::must),
              });

constexpr auto repeat_keys = joined(
    all_keys, std::array{
                  key<CopyDecl, &how_of<RepeatDecl>, &RepeatDecl::count>("count", Need::must),
                  key<CopyDecl, &how_of<RepeatDecl>, &RepeatDecl::step>("step", Need::must),
              });

constexpr auto turn_keys =
    joined(all_keys, std::array{
                         key<CopyDecl, &how_of<TurnDecl>, &TurnDecl::count>("count", Need::must),
                         key<CopyDecl, &how_of<TurnDecl>, &TurnDecl::about>("about", Need::must),
                         key<CopyDecl, &how_of<TurnDecl>, &TurnDecl::at>("at"),
                         key<CopyDecl, &how_of<TurnDecl>, &TurnDecl::angle>("angle"),
                     });

constexpr std::array gap_keys = {
    key<FillDecl, &FillDecl::gap_from>("from", Need::must),
    key<FillDecl, &FillDecl::gap_to>("to", Need::must),
};

void take_gap(Reader& reader, const TomlNode& node, CopyDecl& into) {
  if (node.kind != NodeKind::table) {
    return reader.wrong_type(node, "the least and the most, { from = ..., to = ... }");
  }
  const OwnerScope owner(reader, fmt::format("`gap` of {}", reader.owner));
  read_keys<FillDecl>(reader, node, gap_keys, how_of<FillDecl>(into));
}

constexpr auto fill_keys =
    joined(all_keys, std::array{
                         key<CopyDecl, &how_of<FillDecl>, &FillDecl::along>("along", Need::must),
                         key<CopyDecl, &how_of<FillDecl>, &FillDecl::from>("from", Need::must),
                         key<CopyDecl, &how_of<FillDecl>, &FillDecl::to>("to", Need::must),
                         Key<CopyDecl>{"gap", "gap", take_gap},
                         key<CopyDecl, &how_of<FillDecl>, &FillDecl::count>("count"),
                     });

constexpr std::array use_keys = {
    key<UseDecl, &UseDecl::assembly>("assembly", Need::must),
    key<UseDecl, &UseDecl::at>("at"),
    key<UseDecl, &UseDecl::turn>("turn"),
    key<UseDecl, &UseDecl::about>("about"),
    key<UseDecl, &UseDecl::mirror>("mirror"),
    Key<UseDecl>{"with", "formulas",
                 [](Reader& reader, const TomlNode& node, UseDecl& into) {
                   read_formulas(reader, node, into.with);
                 }},
};

template <class How>
bool read_copy(Reader& reader, const TomlNode& table, std::span<const Key<CopyDecl>> keys,
               CopyDecl& into) {
  into.how.emplace<How>();
  read_keys(reader, table, keys, into);
  return true;
}

}  // namespace

bool read_mirror(Reader& reader, const TomlNode& table, CopyDecl& into) {
  return read_copy<MirrorDecl>(reader, table, mirror_keys, into);
}

bool read_repeat(Reader& reader, const TomlNode& table, CopyDecl& into) {
  return read_copy<RepeatDecl>(reader, table, repeat_keys, into);
}

bool read_turn(Reader& reader, const TomlNode& table, CopyDecl& into) {
  return read_copy<TurnDecl>(reader, table, turn_keys, into);
}

bool read_fill(Reader& reader, const TomlNode& table, CopyDecl& into) {
  pick_one(reader, table, {"gap", "count"}, Need::must);
  return read_copy<FillDecl>(reader, table, fill_keys, into);
}

bool read_use(Reader& reader, const TomlNode& table, UseDecl& into) {
  read_keys<UseDecl>(reader, table, use_keys, into);
  pick_one(reader, table, {"turn about?"}, Need::may);
  return true;
}

void add_copy_keys(std::vector<KeyTable>& into) {
  into.push_back(facts_of<CopyDecl>("mirror", mirror_keys));
  into.push_back(facts_of<CopyDecl>("repeat", repeat_keys));
  into.push_back(facts_of<CopyDecl>("turn", turn_keys));
  into.push_back(facts_of<CopyDecl>("fill", fill_keys));
  into.push_back(facts_of<FillDecl>("gap", gap_keys));
  into.push_back(facts_of<UseDecl>("use", use_keys));
}

}  // namespace kw::reading
