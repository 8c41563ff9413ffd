// Boards in their places, before anything is cut.
#include <cmath>
#include <fmt/format.h>

#include "place.h"
#include "steps.h"

namespace kw::resolving {
namespace {

void lay_board(Scene& scene, const BoardDecl& decl) {
  Part part;
  ResolvedBoard& board = part.board;
  board.id = decl.name.text;
  board.made_from = declared_id(scene, decl.name.text);
  board.stock = stock_called(scene.work, decl.stock);
  board.show = show_of(scene.work, decl.show);
  board.note = decl.note;
  board.at = decl.name.at;
  part.ends[at_start].decl = &decl.start;
  part.ends[at_end].decl = &decl.end;
  if (board.stock >= 0) board.section = scene.work.stocks[at_index(board.stock)].used;
  const auto lie = lie_of(scene.work, scene.site, decl.placement, board.section, decl.name.at);
  part.is_broken = board.stock < 0 || !lie;
  if (lie) {
    board.frame = lie->frame;
    part.length = lie->length;
  }
  if (spend(scene.work, scene.work.budget.boards, 1, decl.name.at, "boards"))
    add_part(scene, std::move(part));
}

}  // namespace

std::string declared_id(const Scene& scene, const std::string& name) {
  const int scope = scene.work.sites[scene.site].scope;
  if (scope == 0) return name;
  return fmt::format("{}/{}", scene.work.given.document.assemblies[at_index(scope - 1)].name.text,
                     name);
}

Plane tidied(const Plane& plane) {
  const auto snapped = [](double value) { return std::abs(value) < 1e-12 ? 0.0 : value; };
  return {{snapped(plane.normal.x), snapped(plane.normal.y), snapped(plane.normal.z)},
          std::round(plane.offset * 1e9) / 1e9 + 0.0};
}

std::optional<Plane> long_side(std::string_view word, const Section& section) {
  const double w = section.width.in_mm() / 2, t = section.thickness.in_mm() / 2;
  if (word == "+y") return Plane{{0, 1, 0}, w};
  if (word == "-y") return Plane{{0, -1, 0}, w};
  if (word == "+z") return Plane{{0, 0, 1}, t};
  if (word == "-z") return Plane{{0, 0, -1}, t};
  return std::nullopt;
}

std::string show_of(Work& work, const std::optional<Name>& word) {
  if (!word || word->text.empty()) return {};
  constexpr std::pair<std::string_view, std::string_view> words[] = {
      {"face", "+z"}, {"back", "-z"}, {"edge", "+y"}, {"other-edge", "-y"},
      {"+z", "+z"},   {"-z", "-z"},   {"+y", "+y"},   {"-y", "-y"}};
  std::vector<std::string> known;
  for (const auto& [name, side] : words) {
    if (name == word->text) return std::string(side);
    known.emplace_back(name);
  }
  work.faults.report({.code = "piece.unknown-word",
                      .at = word->at,
                      .message = fmt::format("`{}` is no side of a board to show", word->text),
                      .hint = hint_for(word->text, known, "sides")});
  return {};
}

int stock_called(Work& work, const Name& name) {
  if (const auto found = find(work.given.names.stocks, name.text))
    return work.stock_index[at_index(*found)];
  if (!name.text.empty())
    work.faults.report({.code = "piece.unknown-stock",
                        .at = name.at,
                        .message = fmt::format("no stock is called `{}`", name.text),
                        .hint = hint_for(name.text, names_in(work.given.names.stocks), "stocks")});
  return -1;
}

void lay_boards(Scene& scene) {
  for (const BoardDecl& decl : scene.scope().boards) lay_board(scene, decl);
}

}  // namespace kw::resolving
