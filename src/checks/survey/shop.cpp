// Can it be sawn without hands too near the blade? Dust and what else the wood asks for.
#include "kerfwright/checks/shop.h"

#include <algorithm>
#include <set>

#include "survey/scene.h"

namespace kw::surveying {
namespace {

constexpr std::string_view size_source =
    "machine manuals and common practice, no published source; 29 CFR 1910.213 gives no least size";
constexpr std::string_view follow = "one board at a time; follow the machine's manual";

void check_short(Scene& scene, const Wood& wood) {
  const double length = wood.shape->high.x - wood.shape->low.x;
  constexpr double too_short = 101.6;  // 4 in: no hand holds it 6 in from the blade
  if (length >= shortest_at_mitre_saw) return;
  const bool fails = length < too_short;
  scene.add({.area = CheckArea::shop,
             .verdict = fails ? Verdict::fails : Verdict::look,
             .check = "part-too-small",
             .message = fmt::format("`{}` is {} long: too small to hold by hand at the mitre saw",
                                    scene.id(wood.board), scene.length(length)),
             .number = scene.length(length),
             .limit = scene.length(shortest_at_mitre_saw),
             .source = std::string(size_source),
             .assumption = std::string(follow),
             .change = "saw its angles on the end of a long board and cut it off last, with a stop "
                       "and a clamp, never a hand, on the short side; or saw it by hand",
             .boards = {wood.board},
             .ratio = shortest_at_mitre_saw / std::max(1.0, length)});
}

void check_rip(Scene& scene, const Wood& wood) {
  const ResolvedStock& stock = scene.stock_of(wood.board);
  const double used = stock.used.width.in_mm(), bought = stock.bought.width.in_mm();
  if (used >= bought - 0.1 || stock.is_sheet) return;
  const double left = bought - used - scene.piece.kerf.in_mm();
  if (used < narrowest_at_rip)
    scene.add(
        {.area = CheckArea::shop,
         .verdict = Verdict::look,
         .check = "rip-too-narrow",
         .message =
             fmt::format("stock `{}` is ripped to {}: too narrow for a hand beside the blade",
                         stock.name, scene.length(used)),
         .number = scene.length(used),
         .limit = scene.length(narrowest_at_rip),
         .source = std::string(size_source),
         .assumption = std::string(follow),
         .change = "use a push block and a featherboard, and rip full boards before crosscutting",
         .boards = {wood.board}});
  if (left > 0.1 && left < thinnest_leftover)
    scene.add(
        {.area = CheckArea::shop,
         .verdict = Verdict::look,
         .check = "thin-leftover",
         .message =
             fmt::format("ripping stock `{}` leaves a strip of {}, which the blade can throw back",
                         stock.name, scene.length(left)),
         .number = scene.length(left),
         .limit = scene.length(thinnest_leftover),
         .source = std::string(size_source),
         .assumption = std::string(follow),
         .change = "let the strip fall on the side away from the fence, or plane the edge instead",
         .boards = {wood.board}});
}

void check_reach(Scene& scene, const Wood& wood) {
  const ResolvedBoard& board = scene.board(wood.board);
  if (scene.stock_of(wood.board).is_sheet || board.strips > 1) return;
  if (board.section.width.in_mm() <= widest_at_mitre_saw &&
      board.section.thickness.in_mm() <= thickest_at_mitre_saw)
    return;
  scene.add({.area = CheckArea::shop,
             .verdict = Verdict::look,
             .check = "cut-out-of-reach",
             .message =
                 fmt::format("`{}` is {} x {}: a 12 in sliding mitre saw does not reach through it",
                             scene.id(wood.board), scene.length(board.section.thickness.in_mm()),
                             scene.length(board.section.width.in_mm())),
             .number = scene.length(board.section.width.in_mm()),
             .limit = scene.length(widest_at_mitre_saw),
             .source = std::string(size_source),
             .assumption = std::string(follow),
             .change = "use a circular saw against a square, or a table saw with a sled",
             .boards = {wood.board}});
}

// Glue that its maker keeps indoors, in a piece that stands in the wet.
void tell_glue(Scene& scene) {
  if (!scene.is_outdoors) return;
  std::set<std::string> told;
  for (std::size_t j = 0; j < scene.piece.joints.size(); ++j) {
    const ResolvedJoint& joint = scene.piece.joints[j];
    const Adhesive* glue =
        joint.glue.empty() ? nullptr : find_adhesive(scene.catalogue, joint.glue);
    if (glue == nullptr || glue->use.rfind("indoors", 0) != 0) continue;
    if (!told.insert(glue->name).second) continue;
    scene.add({.area = CheckArea::hold,
               .verdict = Verdict::fails,
               .check = "glue-lets-go-in-the-wet",
               .message = fmt::format("joint `{}` is glued with {}, which is for {}", joint.id,
                                      glue->name, glue->use),
               .number = glue->name,
               .limit = "a glue for outdoors",
               .source = glue->source,
               .assumption = fmt::format("climate `{}`: wet service", scene.climate.name),
               .change = "take a waterproof glue: `kerfwright lumber find glue` tells which",
               .joint = static_cast<int>(j)});
  }
}

void tell_cautions(Scene& scene) {
  std::set<std::string> told;
  for (const Species* wood : scene.species) {
    if (wood == nullptr) continue;
    for (const std::string& caution : wood->cautions)
      if (told.insert(caution).second)
        scene.add(
            {.area = CheckArea::shop,
             .verdict = Verdict::look,
             .check = "wood-caution",
             .message = caution,
             .source = "as said",
             .assumption = fmt::format("{} is what is sawn", wood->name),
             .change =
                 "collect dust at the tool and wear a mask; eye and ear protection at every saw"});
  }
  constexpr double saw = 100;  // dBA at the ear: common practice, no published source
  scene.add(
      {.area = CheckArea::shop,
       .verdict = Verdict::look,
       .check = "noise",
       .message = fmt::format(
           "a saw of {:.0f} dBA is borne without protection for {:.0f} minutes a day (NIOSH), "
           "{:.0f} (OSHA)",
           saw, 60 * hours_allowed_niosh(saw), 60 * hours_allowed_osha(saw)),
       .number = fmt::format("{:.0f} dBA", saw),
       .limit = "85 dBA for eight hours",
       .source = "NIOSH 98-126, 29 CFR 1910.95 (from memory)",
       .assumption = "100 dBA at the ear: common practice, no published source",
       .change = "wear ear protection at every saw, router and planer"});
  if (scene.is_outdoors)
    scene.add(
        {.area = CheckArea::shop,
         .verdict = Verdict::look,
         .check = "outdoor-hardware",
         .message =
             "outdoors: screws of stainless or hot-dip galvanized steel; treated wood is "
             "never burnt, nor used for food or bedding; what was treated before 2004 may hold "
             "arsenic (CCA)",
         .source =
             "IRC R317.3, ASTM A153 and consumer information sheets (from memory); EPA "
             "cancellation order, March 2003: no CCA in lumber for homes after the end of 2003 "
             "(notices say the 30th and the 31st of December)",
         .assumption = "the piece stands outdoors",
         .change = "buy fasteners for outdoor use; wear gloves and a mask with treated wood"});
}

}  // namespace

void survey_shop(Scene& scene) {
  std::set<std::string> kinds;
  std::set<int> stocks;
  for (const Wood& wood : scene.woods) {
    const ResolvedBoard& board = scene.board(wood.board);
    if (!kinds.insert(board.made_from).second) continue;
    check_short(scene, wood);
    check_reach(scene, wood);
    if (stocks.insert(board.stock).second) check_rip(scene, wood);
  }
  tell_glue(scene);
  tell_cautions(scene);
}

}  // namespace kw::surveying
