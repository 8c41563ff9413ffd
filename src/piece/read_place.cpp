// Points, directions, ends and outlines: values that may be a word, a list or a table.
#include "reader.h"

namespace kw::reading {
namespace {

constexpr std::string_view a_point = "the name of a point, or [x, y, z]";
constexpr std::string_view a_direction =
    "a direction: a word such as \"up\" or \"+x\", [x, y, z], or a table";
constexpr std::string_view an_end = "\"square\", the name of a plane, or a table";
constexpr std::string_view a_step = "a list of steps, each [x, y] or a table with `to`";

// A word or three formulas, into a variant that can hold both.
template <class Variant>
void take_word_or_three(Reader& reader, const TomlNode& node, std::string_view expected,
                        Variant& into) {
  if (node.kind == NodeKind::text) return take(reader, node, into.template emplace<Name>());
  if (node.kind != NodeKind::list) return reader.wrong_type(node, expected);
  take(reader, node, into.template emplace<Formula3>());
}

// The keys of a direction in a table.
struct DirectionTable {
  std::optional<std::variant<Name, Formula3>> is = {};
  PointRef from = {}, to = {};
  std::optional<Formula> turn = {};
  std::optional<Name> about = {};
};

constexpr Key<DirectionTable> direction_keys[] = {
    {"is", "axis",
     [](Reader& reader, const TomlNode& node, DirectionTable& into) {
       take_word_or_three(reader, node, "a word such as \"up\" or \"+x\", or [x, y, z]",
                          into.is.emplace());
     }},
    key<DirectionTable, &DirectionTable::from>("from"),
    key<DirectionTable, &DirectionTable::to>("to"),
    key<DirectionTable, &DirectionTable::turn>("turn"),
    key<DirectionTable, &DirectionTable::about>("about"),
};

struct EndTable {
  std::optional<Name> against = {}, face = {}, mitre_with = {}, plane = {};
  std::optional<Formula> mitre = {}, bevel = {}, add = {};
};

constexpr Key<EndTable> end_keys[] = {
    key<EndTable, &EndTable::against>("against"),
    key<EndTable, &EndTable::face>("face"),
    key<EndTable, &EndTable::mitre_with>("mitre-with"),
    key<EndTable, &EndTable::mitre>("mitre"),
    key<EndTable, &EndTable::bevel>("bevel"),
    key<EndTable, &EndTable::plane>("plane"),
    key<EndTable, &EndTable::add>("add"),
};

void settle(const EndTable& table, EndDecl& into) {
  into.add = table.add;
  if (table.against)
    into.how = AgainstEnd{*table.against, table.face};
  else if (table.mitre_with)
    into.how = MitreEnd{*table.mitre_with};
  else if (table.plane)
    into.how = PlaneEnd{*table.plane};
  else if (table.mitre || table.bevel)
    into.how = AngleEnd{table.mitre, table.bevel};
}

constexpr Key<OutlineStep> step_keys[] = {
    key<OutlineStep, &OutlineStep::to>("to", Need::must),
    key<OutlineStep, &OutlineStep::through>("through"),
    key<OutlineStep, &OutlineStep::radius>("radius"),
    key<OutlineStep, &OutlineStep::turn>("turn"),
};

void take_step(Reader& reader, const TomlNode& node, OutlineStep& into) {
  into.at = node.at;
  if (node.kind == NodeKind::list) return take(reader, node, into.to);
  if (node.kind != NodeKind::table) return reader.wrong_type(node, "[x, y], or a table with `to`");
  const OwnerScope owner(reader, fmt::format("a step of the outline of {}", reader.owner));
  read_keys<OutlineStep>(reader, node, step_keys, into);
  pick_one(reader, node, {"through", "radius turn"}, Need::may);
}

}  // namespace

void take(Reader& reader, const TomlNode& node, PointRef& into) {
  take_word_or_three(reader, node, a_point, into);
}

void take(Reader& reader, const TomlNode& node, std::array<PointRef, 2>& into) {
  const TomlNode* list = list_of(reader, node, 2, "a list of two points");
  for (std::size_t i = 0; list != nullptr && i < 2; ++i) take(reader, list->items[i], into[i]);
}

void take(Reader& reader, const TomlNode& node, Direction& into) {
  into.at = node.at;
  if (node.kind != NodeKind::table) {
    return take_word_or_three(reader, node, a_direction, into.is);
  }
  const OwnerScope owner(reader, fmt::format("`{}` of {}", node.key, reader.owner));
  DirectionTable table;
  read_keys<DirectionTable>(reader, node, direction_keys, table);
  pick_one(reader, node, {"is", "from to"}, Need::must);
  pick_one(reader, node, {"turn about"}, Need::may);
  into.turn = table.turn;
  into.about = table.about;
  if (!table.is)
    into.is = std::array<PointRef, 2>{table.from, table.to};
  else
    std::visit([&](auto& is) { into.is = is; }, *table.is);
}

void take(Reader& reader, const TomlNode& node, EndDecl& into) {
  into.at = node.at;
  if (node.kind == NodeKind::text) {
    Name word;
    take(reader, node, word);
    if (word.text != "square") into.how = PlaneEnd{std::move(word)};
    return;
  }
  if (node.kind != NodeKind::table) return reader.wrong_type(node, an_end);
  const OwnerScope owner(reader, fmt::format("`{}` of {}", node.key, reader.owner));
  EndTable table;
  read_keys<EndTable>(reader, node, end_keys, table);
  pick_one(reader, node, {"against face?", "mitre-with", "plane", "mitre? bevel?"}, Need::may);
  settle(table, into);
}

void take(Reader& reader, const TomlNode& node, std::vector<OutlineStep>& into) {
  if (node.kind != NodeKind::list) return reader.wrong_type(node, a_step);
  for (const TomlNode& item : node.items) take_step(reader, item, into.emplace_back(OutlineStep{}));
}

void add_place_keys(std::vector<KeyTable>& into) {
  into.push_back(facts_of<DirectionTable>("direction-table", direction_keys));
  into.push_back(facts_of<EndTable>("end-table", end_keys));
  into.push_back(facts_of<OutlineStep>("outline-step", step_keys));
}

}  // namespace kw::reading
