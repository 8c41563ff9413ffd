// Panels: how many strips, how wide, and their outline.
#include <algorithm>
#include <fmt/format.h>

#include "outline.h"
#include "place.h"
#include "steps.h"

namespace kw::resolving {
namespace {

constexpr std::int64_t most_strips = 200;
constexpr double slack = 1e-6;  // mm

// How wide the glued-up panel is, and of how many strips. Sheets are not glued edge to edge.
std::optional<int> strips_of(Scene& scene, const PanelDecl& decl, Length width,
                             const ResolvedStock& stock) {
  const Length strip = stock.used.width;
  const auto ticks = strip.in_ticks();
  const auto strips = ticks > 0 ? (width.in_ticks() + ticks - 1) / ticks : 1;
  const Span at = decl.width ? decl.width->at : decl.strips ? decl.strips->at : decl.name.at;
  if (strips > 1 && stock.is_sheet) {
    scene.work.faults.report(
        {.code = "piece.wider-than-sheet",
         .at = at,
         .message = fmt::format(
             "the panel is {} wide and the sheet {}: sheets are not glued edge to edge",
             scene.work.faults.length(width.in_mm()), scene.work.faults.length(strip.in_mm())),
         .hint = "make it of two panels, or of boards"});
    return std::nullopt;
  }
  if (strips <= most_strips) return static_cast<int>(strips);
  scene.work.faults.report(
      {.code = "piece.bad-count",
       .at = at,
       .message =
           fmt::format("this would take {} strips; a panel has {} at most", strips, most_strips),
       .hint = "check the width, or choose wider stock"});
  return std::nullopt;
}

// The step that goes furthest out of the panel, or nothing when none does.
const Corner* furthest_out(const Outline& outline, const Rectangle& room) {
  const Corner* worst = nullptr;
  double most = slack;
  for (const Corner& corner : outline.corners) {
    const double out = std::max(std::max(room.low.x - corner.at.x, corner.at.x - room.high.x),
                                std::max(room.low.y - corner.at.y, corner.at.y - room.high.y));
    if (out <= most) continue;
    most = out;
    worst = &corner;
  }
  return worst;
}

bool fits(Scene& scene, const Outline& outline, const Rectangle& room) {
  const Corner* corner = furthest_out(outline, room);
  if (!corner) return true;
  const Faults& faults = scene.work.faults;
  const bool is_long = corner->at.x < room.low.x - slack || corner->at.x > room.high.x + slack;
  scene.work.faults.report(
      {.code = "piece.outline-too-big",
       .at = corner->named_at,
       .message =
           is_long
               ? fmt::format("the outline comes to {} along the panel, which goes from {} to {}",
                             faults.length(corner->at.x), faults.length(room.low.x),
                             faults.length(room.high.x))
               : fmt::format("the outline comes to {} across the panel, which goes from {} to {}",
                             faults.length(corner->at.y), faults.length(room.low.y),
                             faults.length(room.high.y)),
       .hint = is_long ? "make the panel longer: x is measured from its start"
                       : "add a strip: y is measured from the middle"});
  return false;
}

// Square ends where the outline, or else the panel, starts and ends; and what the outline takes
// away.
void cut_out(Scene& scene, const PanelDecl& decl, Part& part) {
  const double half = part.board.section.width.in_mm() / 2;
  Rectangle room{{0, -half}, {part.length, half}};
  if (!decl.outline.empty()) {
    const auto outline = outline_of(scene.work, scene.site, decl.outline);
    if (outline && fits(scene, *outline, room)) {
      room.low.x = std::max(0.0, outline->low.x);
      room.high.x = std::min(part.length, outline->high.x);
      Features features = cut_to(*outline, room);
      if (spend(scene.work, scene.work.budget.features, size_of(features), decl.name.at,
                "cuts and holes"))
        part.features = std::move(features);
      part.has_outline = true;
    }
  }
  part.ends[at_start] = {EndState::done, nullptr, {{-1, 0, 0}, -room.low.x + 0.0}};
  part.starts_at = room.low.x;
  part.ends[at_end] = {EndState::done, nullptr, {{1, 0, 0}, room.high.x}};
}

void lay_panel(Scene& scene, const PanelDecl& decl, int index) {
  Work& work = scene.work;
  Part part;
  ResolvedBoard& board = part.board;
  board.id = decl.name.text;
  board.made_from = declared_id(scene, decl.name.text);
  board.stock = stock_called(work, decl.stock);
  board.show = show_of(work, decl.show);
  board.note = decl.note;
  board.at = decl.name.at;
  const auto width = work.values.length(Node{scene.site, Of::panel_width, index});
  if (board.stock >= 0 && width) {
    const ResolvedStock& stock = work.stocks[at_index(board.stock)];
    const auto strips = strips_of(scene, decl, *width, stock);
    board.section = {stock.used.thickness, *width};
    board.strips = strips.value_or(0);
  }
  const auto lie = lie_of(work, scene.site, decl.placement, board.section, decl.name.at);
  part.is_broken = board.section.width <= Length() || board.strips < 1 || !lie;
  if (!part.is_broken) {
    board.frame = lie->frame;
    part.length = lie->length;
    cut_out(scene, decl, part);
  }
  if (spend(scene.work, scene.work.budget.boards, 1, decl.name.at, "boards"))
    add_part(scene, std::move(part));
}

}  // namespace

void lay_panels(Scene& scene) {
  const auto& panels = scene.scope().panels;
  for (std::size_t i = 0; i < panels.size(); ++i) lay_panel(scene, panels[i], static_cast<int>(i));
}

}  // namespace kw::resolving
