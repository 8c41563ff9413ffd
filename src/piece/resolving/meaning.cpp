#include "meaning.h"

#include <array>
#include <fmt/format.h>

#include "kerfwright/measure/expression.h"

#include "faults.h"

namespace kw::resolving {
namespace {

constexpr std::array<std::string_view, 3> axes = {"x", "y", "z"};

std::optional<int> axis_of(std::string_view word) {
  for (std::size_t i = 0; i < axes.size(); ++i)
    if (axes[i] == word) return static_cast<int>(i);
  return std::nullopt;
}

// What a stock is asked for by a board or panel made of it.
std::optional<Node> of_stock(const Sites& sites, std::string_view stock, Of of) {
  const auto found = find(sites.given().names.stocks, stock);
  return found ? std::optional(Node{0, of, *found}) : std::nullopt;
}

std::optional<Node> of_board(const Sites& sites, std::string_view head, std::string_view tail,
                             int site) {
  const ScopeNames& names = sites.names(site);
  const auto board = find(names.boards, original_of(names, head));
  if (!board) return std::nullopt;
  const std::string& stock = sites.scope(site).boards[static_cast<std::size_t>(*board)].stock.text;
  if (tail == "length") return Node{site, Of::board_length, *board};
  if (tail == "width") return of_stock(sites, stock, Of::width);
  return tail == "thickness" ? of_stock(sites, stock, Of::thickness) : std::nullopt;
}

std::optional<Node> of_panel(const Sites& sites, std::string_view head, std::string_view tail,
                             int site) {
  const ScopeNames& names = sites.names(site);
  const auto panel = find(names.panels, original_of(names, head));
  if (!panel) return std::nullopt;
  const std::string& stock = sites.scope(site).panels[static_cast<std::size_t>(*panel)].stock.text;
  if (tail == "length") return Node{site, Of::panel_length, *panel};
  if (tail == "width") return Node{site, Of::panel_width, *panel};
  return tail == "thickness" ? of_stock(sites, stock, Of::thickness) : std::nullopt;
}

Meaning dotted_meaning(const Sites& sites, std::string_view head, std::string_view tail, int site) {
  if (const auto axis = axis_of(tail)) {
    const auto point = find(sites.names(site).points, head);
    if (!point) return {};
    return {.node = Node{site, Of::coordinate, 3 * *point + *axis}};
  }
  std::optional<Node> stock;
  if (tail == "thickness") stock = of_stock(sites, head, Of::thickness);
  if (tail == "width") stock = of_stock(sites, head, Of::width);
  auto board = of_board(sites, head, tail, site);
  if (!board) board = of_panel(sites, head, tail, site);
  if (!board || !stock || *board == *stock) return {.node = board ? board : stock};
  return {.node = board, .other = stock};
}

// The names that may stand alone in a formula.
std::vector<std::string> plain_names(const Sites& sites, int site) {
  std::vector<std::string> names = names_in(sites.names(site).derived);
  for (auto& name : names_in(sites.given().names.sizes)) names.push_back(std::move(name));
  if (site != 0)
    for (auto& name : names_in(sites.names(0).derived)) names.push_back(std::move(name));
  return names;
}

std::vector<std::string> dotted_names(const Sites& sites, int site) {
  std::vector<std::string> names;
  const auto add = [&](const NameTable& table, std::initializer_list<std::string_view> tails) {
    for (const auto& [head, index] : table)
      for (const std::string_view tail : tails) names.push_back(fmt::format("{}.{}", head, tail));
  };
  add(sites.given().names.stocks, {"thickness", "width"});
  add(sites.names(site).boards, {"length", "width", "thickness"});
  add(sites.names(site).panels, {"length", "width", "thickness"});
  add(sites.names(site).points, {"x", "y", "z"});
  return names;
}

// What a thing other than a value is, and what may be asked of it.
struct Thing {
  std::string_view kind = {};
  std::string_view tails = {};
};

std::optional<Thing> thing_called(const Sites& sites, std::string_view name, int site) {
  const ScopeNames& names = sites.names(site);
  constexpr std::string_view of_boards = "length, width and thickness";
  if (find(names.points, name)) return Thing{"point", "x, y and z"};
  if (find(names.boards, original_of(names, name))) return Thing{"board", of_boards};
  if (find(names.panels, original_of(names, name))) return Thing{"panel", of_boards};
  if (find(sites.given().names.stocks, name)) return Thing{"stock", "thickness and width"};
  if (find(names.planes, name)) return Thing{"plane", ""};
  if (find(names.copies, name)) return Thing{"copy", ""};
  if (find(names.uses, name)) return Thing{"use of an assembly", ""};
  return std::nullopt;
}

bool is_copy(const Scope& scope, std::string_view name) {
  for (const CopyDecl& copy : scope.copies)
    for (const Name& given : copy.names)
      if (given.text == name) return true;
  return false;
}

Diagnostic of_thing(const Thing& thing, std::string_view head, std::string_view tail, Span at) {
  Diagnostic fault{.code = "piece.unknown-name", .at = at};
  fault.message = tail.empty() ? fmt::format("`{}` is a {}, not a value", head, thing.kind)
                               : fmt::format("a {} has no `{}`", thing.kind, tail);
  if (!thing.tails.empty())
    fault.hint = fmt::format("of a {} formulas may use {}: `{}.{}`", thing.kind, thing.tails, head,
                             thing.tails.substr(0, thing.tails.find_first_of(", ")));
  return fault;
}

// Why a name of the piece is not seen from within an assembly.
bool is_seen_only_by_the_piece(const Sites& sites, std::string_view head, int site) {
  const ScopeNames& top = sites.names(0);
  return site != 0 && (find(top.points, head) || find(top.boards, head) || find(top.panels, head));
}

std::string hint_on(const Sites& sites, std::string_view name, int site) {
  const bool is_dotted = name.find('.') != std::string_view::npos;
  std::vector<std::string> known = plain_names(sites, site);
  std::vector<std::string> dotted = dotted_names(sites, site);
  std::vector<std::string> all = known;
  all.insert(all.end(), dotted.begin(), dotted.end());
  const std::string difference = as_difference(name, all);
  if (!difference.empty()) return fmt::format("write spaces around the minus: {}", difference);
  if (!is_dotted) return hint_for(name, known, "sizes and derived values");
  const std::string nearest = nearest_name(name, dotted);
  return nearest.empty() ? "" : fmt::format("did you mean `{}`?", nearest);
}

}  // namespace

Meaning meaning_of(const Sites& sites, std::string_view name, int site) {
  const std::size_t dot = name.find('.');
  if (dot != std::string_view::npos)
    return dotted_meaning(sites, name.substr(0, dot), name.substr(dot + 1), site);
  if (const auto own = find(sites.names(site).derived, name))
    return {.node = Node{site, Of::derived, *own}};
  if (const auto size = find(sites.given().names.sizes, name))
    return {.node = Node{0, Of::size, *size}};
  if (const auto top = find(sites.names(0).derived, name))
    return {.node = Node{0, Of::derived, *top}};
  return {};
}

Diagnostic unknown_name(const Sites& sites, std::string_view name, Span at, int site) {
  const std::size_t dot = name.find('.');
  const std::string_view head = name.substr(0, dot);
  const std::string_view tail = dot == std::string_view::npos ? "" : name.substr(dot + 1);
  Diagnostic fault{.code = "piece.unknown-name", .at = at};
  if (is_copy(sites.scope(site), head)) {
    fault.message = fmt::format("`{}` is a copy: formulas cannot use it", head);
    fault.hint = "use the board that it is a copy of";
    return fault;
  }
  if (const auto thing = thing_called(sites, head, site)) return of_thing(*thing, head, tail, at);
  if (is_seen_only_by_the_piece(sites, head, site)) {
    fault.message = fmt::format("`{}` belongs to the piece: an assembly does not see it", head);
    fault.hint = "hand its figure in by `with` where the assembly is used";
    return fault;
  }
  fault.message = fmt::format("nothing is called `{}`", tail.empty() ? name : head);
  fault.hint = hint_on(sites, name, site);
  return fault;
}

std::string called(const Sites& sites, const Node& node) {
  const auto i = static_cast<std::size_t>(node.index);
  const Scope& scope = sites.scope(node.site);
  const Document& document = sites.given().document;
  switch (node.of) {
    case Of::size:
      return document.sizes[i].name.text;
    case Of::derived:
      return scope.derived[i].name.text;
    case Of::thickness:
      return document.stocks[i].name.text + ".thickness";
    case Of::bought_width:
    case Of::width:
      return document.stocks[i].name.text + ".width";
    case Of::coordinate:
      return fmt::format("{}.{}", scope.points[i / 3].name.text, axes[i % 3]);
    case Of::board_length:
      return scope.boards[i].name.text + ".length";
    case Of::panel_length:
      return scope.panels[i].name.text + ".length";
    case Of::panel_width:
      return scope.panels[i].name.text + ".width";
  }
  return {};
}

}  // namespace kw::resolving
