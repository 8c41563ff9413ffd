// Resolve, as one walk: values, stocks, the scene of the piece, then the plain value of what was
// understood.
#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/piece/resolved.h"

#include "resolving/climate.h"
#include "resolving/place.h"
#include "resolving/scene.h"
#include "resolving/stock.h"

namespace kw {
namespace resolving {
namespace {

bool has_wood(Work& work, const Part& part) {
  const Box box = box_of(part);
  if (box.to_x - box.from_x > 1e-6 && !body_of(part).sides.empty()) return true;
  work.faults.report(
      {.code = "piece.no-length",
       .at = part.board.at,
       .message = fmt::format("nothing of `{}` lies between its two ends", part.board.id),
       .hint = "the end comes before the start: check how they are cut"});
  return false;
}

void add_setting_out(Work& work, Resolved& into) {
  const Scope& top = work.sites.scope(0);
  for (const PointDecl& point : top.points)
    into.points.push_back({point.name.text, point_of(work, 0, point.name)});
  for (const PlaneDecl& plane : top.planes)
    into.planes.push_back({plane.name.text, plane_of(work, 0, plane)});
}

// The board with all that is cut into it: its two ends first.
ResolvedBoard finished(Part& part) {
  const Box box = box_of(part);
  ResolvedBoard board = std::move(part.board);
  part.board.id = board.id;  // loads still ask for it
  board.from_x = box.from_x;
  board.to_x = box.to_x;
  for (const Which which : {at_start, at_end})
    board.cuts.push_back({.plane = part.ends[which].plane,
                          .source = which == at_start ? CutSource::start : CutSource::end,
                          .at = part.ends[which].decl ? part.ends[which].decl->at : board.at});
  board.cuts.insert(board.cuts.end(), part.features.cuts.begin(), part.features.cuts.end());
  board.hollows = std::move(part.features.hollows);
  board.curves = std::move(part.features.curves);
  board.holes = std::move(part.features.holes);
  return board;
}

// Adds the boards that are whole; for each part of the scene its index among them, or -1.
std::vector<int> add_boards(Scene& scene, Resolved& into) {
  std::vector<int> index_of;
  for (Part& part : scene.parts) {
    const bool is_whole = !part.is_broken && has_wood(scene.work, part);
    index_of.push_back(is_whole ? static_cast<int>(into.boards.size()) : -1);
    if (is_whole) into.boards.push_back(finished(part));
  }
  return index_of;
}

// What the file measures from the start as it cuts it, the solid measures from the start as it is.
void measure_from_end(const Part& part, ResolvedJoint& joint) {
  const double moved = part.is_broken ? 0 : part.starts_at - end_on_line(part, at_start);
  if (joint.starts) *joint.starts += moved;
  if (joint.ends) *joint.ends += moved;
}

void add_joints(Scene& scene, const std::vector<int>& index_of, Resolved& into) {
  for (Joined& joined : scene.joints) {
    ResolvedJoint joint = std::move(joined.joint);
    measure_from_end(scene.part(joint.a), joint);
    joint.a = index_of[at_index(joint.a)];
    const bool is_alone = joint.b < 0;
    if (!is_alone) joint.b = index_of[at_index(joint.b)];
    if (joint.a >= 0 && (is_alone || joint.b >= 0)) into.joints.push_back(std::move(joint));
  }
}

// A load is a mass or a force, or that to a length, an area or a volume; and nothing needs its size
// said.
bool is_load(const Dimension& d) {
  const bool is_force = d.mass == 1 && d.time == -2 && d.length <= 1 && d.length >= -2;
  const bool is_mass = d.mass == 1 && d.time == 0 && d.length <= 0 && d.length >= -3;
  return d.angle == 0 && (is_force || is_mass);
}

std::optional<Value> each_of(Work& work, const LoadDecl& decl) {
  if (!decl.each) return Value{};
  const auto value = work.values.of(*decl.each, 0);
  if (!value || is_load(value->dimension)) return value;
  work.faults.report(
      {.code = "piece.bad-load",
       .at = decl.each->at,
       .message = fmt::format("a load is a mass or a force, or that on an area; this is {}",
                              name_of(value->dimension)),
       .hint = "write the unit, such as 180 lb, 80 kg or 500 N"});
  return std::nullopt;
}

bool is_load_kind(Work& work, const Name& kind) {
  const std::vector<std::string> known = {"people", "soil", "point", "pull",
                                          "snow",   "wind", "even"};
  if (std::find(known.begin(), known.end(), kind.text) != known.end()) return true;
  if (!kind.text.empty())
    work.faults.report({.code = "piece.unknown-word",
                        .at = kind.at,
                        .message = fmt::format("`{}` is no kind of load", kind.text),
                        .hint = hint_for(kind.text, known, "kinds")});
  return false;
}

void add_loads(Scene& scene, const std::vector<int>& index_of, Resolved& into) {
  for (const LoadDecl& decl : scene.work.given.document.loads) {
    const bool is_known = is_load_kind(scene.work, decl.kind);
    const auto each = each_of(scene.work, decl);
    ResolvedLoad load{.name = decl.name.text, .kind = decl.kind.text, .note = decl.note};
    for (const int part : select(scene, decl.on))
      if (index_of[at_index(part)] >= 0) load.on.push_back(index_of[at_index(part)]);
    if (!is_known || !each || load.on.empty()) continue;
    load.each = *each;
    into.loads.push_back(std::move(load));
  }
}

// Whether a step of that name exists is known when the piece is put together.
void add_words(Work& work, Resolved& into) {
  for (const StepDecl& decl : work.given.document.steps)
    into.steps.push_back({decl.name.text, decl.title, decl.text, decl.note, decl.name.at});
  const BookDecl& book = work.given.document.book;
  into.care = book.care;
  if (!book.finish || book.finish->text.empty()) return;
  const Catalogue& catalogue = work.given.catalogue;
  if (const Finish* finish = find_finish(catalogue, book.finish->text)) {
    into.finish = finish->name;
    return;
  }
  work.faults.report(
      {.code = "piece.unknown-finish",
       .at = book.finish->at,
       .message = fmt::format("no finish is called `{}`", book.finish->text),
       .hint = hint_from_tables(catalogue, book.finish->text, all_names(catalogue.finishes))});
}

// Assemblies that nothing uses are worked out by themselves, for their faults alone.
void look_through_unused(Work& work) {
  for (std::size_t i = 0; i < work.given.document.assemblies.size(); ++i) {
    const int scope = static_cast<int>(i) + 1;
    if (work.seen_scopes.count(scope) > 0) continue;
    (void)work_out(work, work.sites.open({.scope = scope, .parent = 0, .depth = 1}));
  }
}

}  // namespace
}  // namespace resolving

Reading<Resolved> resolve(const Document& document, const Catalogue& catalogue,
                          const std::vector<Override>& overrides) {
  using namespace resolving;
  const DocumentNames names = names_of(document);
  const Given given{document, catalogue, overrides, names};
  const Counts counts = counts_in(given);
  Faults faults(document.unit);
  Sites sites(given);
  Values values(sites, counts, faults);
  Resolved piece;
  std::vector<int> stock_index;
  piece.stocks = stocks_of(values, faults, stock_index);
  Work work{given, sites, values, faults, piece.stocks, stock_index};
  add_heading(work, piece);
  add_values(work, piece);
  Scene scene = work_out(work, 0);
  const std::vector<int> index_of = add_boards(scene, piece);
  add_joints(scene, index_of, piece);
  add_loads(scene, index_of, piece);
  add_words(work, piece);
  add_climate(work, piece);
  add_setting_out(work, piece);
  look_through_unused(work);
  return {std::move(piece), std::move(faults).take()};
}

}  // namespace kw
