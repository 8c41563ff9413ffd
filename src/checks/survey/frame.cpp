// Does it bear its loads? Stress, sag and joints, of the worst load case.
#include <algorithm>
#include <cmath>
#include <set>

#include "survey/holding.h"

namespace kw::surveying {
namespace {

constexpr std::string_view frame_source =
    "3D frame of beams and springs, linear; NDS 2018 for strengths and fasteners";
constexpr std::string_view frame_assumption =
    "boards are beams along their grain, panels and sheets strips of their whole width; contacts "
    "are springs (wood pressed across the grain E/20, screws EN 1995-1-1 Table 7.1, from memory); "
    "feet do not slide; cuts lessen the section, holes do not; computed, not tested: follow local "
    "codes, and ask someone licensed where people could be hurt";
constexpr double near_limit = 0.9;
constexpr int most_told = 6;  // of one kind of finding

Verdict verdict_of(double ratio) {
  if (ratio > 1) return Verdict::fails;
  return ratio > near_limit ? Verdict::look : Verdict::passes;
}

// Those worth telling, worst first: what is near its limit, each declaration once; else the worst.
std::vector<int> worth_telling(const std::vector<double>& ratios,
                               const std::vector<std::string>& kinds) {
  std::vector<int> order;
  for (std::size_t i = 0; i < ratios.size(); ++i)
    if (ratios[i] > 0) order.push_back(static_cast<int>(i));
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return ratios[at(a)] > ratios[at(b)]; });
  std::vector<int> told;
  std::set<std::string> seen;
  for (const int i : order) {
    const bool is_near = ratios[at(i)] > near_limit;
    if (!told.empty() && (!is_near || static_cast<int>(told.size()) == most_told)) break;
    if (seen.insert(kinds[at(i)]).second) told.push_back(i);
  }
  return told;
}

std::vector<std::string> kinds_of_boards(const Scene& scene) {
  std::vector<std::string> kinds;
  for (const Wood& wood : scene.woods) kinds.push_back(scene.board(wood.board).made_from);
  return kinds;
}

std::string factors_of(const BoardUse& use) {
  std::string words;
  if (use.beam_factor < 0.995) words += fmt::format("; beam stability C_L {:.2f}", use.beam_factor);
  if (use.column_factor < 0.995)
    words += fmt::format("; column stability C_P {:.2f}", use.column_factor);
  return words;
}

std::string grade_words(const Scene& scene, int board) {
  if (!scene.grade_of(board).empty()) return scene.grade_of(board);
  const bool is_plywood = scene.species_of(board) == nullptr && scene.stock_of(board).is_sheet;
  return is_plywood ? "not said, the sheet counted as plywood" : "not said, counted as No. 2";
}

void tell_stress(Scene& scene, const std::vector<BoardUse>& uses,
                 const std::vector<Timber>& timbers) {
  std::vector<double> ratios;
  for (const BoardUse& use : uses) ratios.push_back(use.stress_most());
  for (const int b : worth_telling(ratios, kinds_of_boards(scene))) {
    const BoardUse& use = uses[at(b)];
    const int board = scene.woods[at(b)].board;
    Finding f{
        .area = CheckArea::frame, .verdict = verdict_of(ratios[at(b)]), .check = "board-stress"};
    f.message = fmt::format("`{}` bears {:.0f} % of the {} it may be counted on for, under {}",
                            scene.id(board), 100 * ratios[at(b)],
                            use.shear > use.stress ? "shear" : "stress", use.load);
    f.number = fmt::format("{:.2f}", ratios[at(b)]);
    f.limit = "1.00";
    f.source = fmt::format("{}; {}; NDS 3.3, 3.7, 3.9; {}", frame_source,
                           timbers[at(b)].values.basis, combination_source);
    f.assumption = fmt::format(
        "{}; braced where other boards touch it, at most {} apart{}; grade {}; {} service",
        frame_assumption, scene.length(timbers[at(b)].unbraced), factors_of(use),
        grade_words(scene, board), scene.is_outdoors ? "wet" : "dry");
    if (ratios[at(b)] > near_limit)
      f.change = "use a thicker or wider board, a shorter span, or one more bearer";
    f.boards = {board};
    f.ratio = ratios[at(b)];
    scene.add(std::move(f));
  }
}

// Each board with its share, so that it can be coloured.
void tell_shares(Scene& scene, const std::vector<BoardUse>& uses) {
  Finding f{.area = CheckArea::frame, .check = "board-use"};
  double most = 0;
  for (std::size_t b = 0; b < uses.size(); ++b) {
    if (uses[b].load.empty()) continue;
    f.boards.push_back(scene.woods[b].board);
    f.shares.push_back(uses[b].stress_most());
    most = std::max(most, uses[b].stress_most());
  }
  if (f.boards.empty()) return;
  f.message = fmt::format("each of {} boards with its share of the stress it may be counted on for",
                          f.boards.size());
  f.number = fmt::format("{:.2f} at most", most);
  f.limit = "1.00";
  f.source = std::string(frame_source);
  f.assumption = std::string(frame_assumption);
  f.ratio = most;
  scene.add(std::move(f));
}

void tell_sag_of(Scene& scene, int body, const BoardUse& use) {
  const int board = scene.woods[at(body)].board;
  const double seen = use.span / (use.is_passing ? seen_passing : seen_always);
  const double much = use.span / (use.is_passing ? much_passing : much_always);
  const bool is_seen = use.sag_ratio > 1;
  Finding f{.area = CheckArea::frame,
            .verdict = use.sag > much ? Verdict::fails
                       : is_seen      ? Verdict::look
                                      : Verdict::passes,
            .check = "board-sags"};
  f.message = fmt::format("`{}` sags {} in {}{}", scene.id(board), scene.length(use.sag),
                          scene.length(use.span), is_seen ? ": more than the eye forgives" : "");
  f.number = scene.length(use.sag);
  f.limit = scene.length(seen);
  f.source = use.is_passing
                 ? "L/180 under what passes, L/90 at most: common practice, no published source"
                 : "0.02 in a foot (L/600) is seen: common practice, no published source; L/144 at "
                   "most: Architectural Woodwork Standards section 10 (from memory)";
  f.assumption = fmt::format("{}; what stays creeps to {} times (NDS 3.5.2, from memory)",
                             frame_assumption, creep_of(scene, body));
  if (is_seen)
    f.change =
        "use a thicker board, a shorter span, a bearer in the middle, or a strip glued under its "
        "front edge";
  f.boards = {board};
  f.ratio = use.sag_ratio;
  scene.add(std::move(f));
}

void tell_sag(Scene& scene, const std::vector<BoardUse>& uses) {
  constexpr double least = 0.2;  // mm: no eye sees less
  std::vector<double> ratios;
  for (const BoardUse& use : uses) ratios.push_back(use.sag < least ? 0 : use.sag_ratio);
  for (const int b : worth_telling(ratios, kinds_of_boards(scene)))
    tell_sag_of(scene, b, uses[at(b)]);
}

std::string joint_words(const Scene& scene, const ResolvedJoint& joint, const JointUse& use,
                        std::size_t fixings) {
  const std::string_view fixing = use.by_dowel ? "dowel" : "screw";
  const std::string what = use.by_glue    ? "the glue of its worst patch"
                           : fixings == 1 ? fmt::format("its one {}", fixing)
                                          : fmt::format("the worst of its {} {}s", fixings, fixing);
  return fmt::format(
      "joint `{}` of `{}` and `{}`: {} takes {} across and {} pulling off, and may be counted on "
      "for {} and {}, under {}",
      joint.id, scene.id(joint.a), scene.id(joint.b), what, scene.force(use.across),
      scene.force(use.pull), scene.force(use.across_limit), scene.force(use.pull_limit), use.load);
}

std::string_view source_of(const JointUse& use) {
  if (use.by_glue)
    return "glue along the grain as strong as the wood's shear (Wood Handbook ch. 10, from "
           "memory), "
           "a fifth of that across it, a third pulled off; end grain not counted";
  if (use.by_dowel)
    return "NDS 2018 12.3 yield modes, the dowel's bending by TFEC 1 (from memory); drawn out: "
           "glue at half the wood's shear, common practice, no published source";
  return "NDS 2018 12.2 withdrawal and head pull-through, 12.3 yield modes, 12.4 both at once, "
         "11.3 "
         "factors; bites of 3 to 6 diameters counted in proportion, which NDS does not";
}

std::string assumption_of(const Scene& scene, const ResolvedJoint& joint, const JointUse& use) {
  std::string words =
      fmt::format("{}; {} service", frame_assumption, scene.is_outdoors ? "wet" : "dry");
  if (!use.by_glue && !use.by_dowel) words += fmt::format("; yield mode {}", name_of(use.mode));
  if (joint.kind == JointKind::pocket_screw)
    words += "; no design value is published for pocket screws: counted as plain screws";
  if (use.by_toe_nail)
    words += "; toe-nails at 30 degrees: 0.83 of it across, 0.67 drawn out (NDS 2018 12.5.4)";
  if (use.pulled_from_end_grain)
    words +=
        "; it is drawn out of end grain, where NDS counts nothing and the Wood Handbook three "
        "quarters of side grain (ch. 8, from memory), which is counted here";
  return words;
}

void tell_joints(Scene& scene, const JointJudge& judge) {
  std::vector<double> ratios;
  std::vector<std::string> kinds;
  for (std::size_t j = 0; j < judge.uses().size(); ++j) {
    ratios.push_back(judge.uses()[j].ratio);
    kinds.push_back(declared_name(scene.piece.joints[j].id));
  }
  for (const int j : worth_telling(ratios, kinds)) {
    const JointUse& use = judge.uses()[at(j)];
    const ResolvedJoint& joint = scene.piece.joints[at(j)];
    Finding f{.area = CheckArea::hold, .verdict = verdict_of(use.ratio), .check = "joint-strength"};
    f.message = joint_words(scene, joint, use, judge.fixings()[at(j)].size());
    f.number = fmt::format("{:.2f}", use.ratio);
    f.limit = "1.00";
    f.source = std::string(source_of(use));
    f.assumption = assumption_of(scene, joint, use);
    if (use.ratio > near_limit)
      f.change =
          use.by_glue
              ? "make the glued faces larger, or let the board bear on a notch or cleat"
              : "use more or longer screws, glue the joint, or let the board bear on a notch "
                "or cleat";
    f.boards = {joint.a, joint.b};
    f.joint = j;
    f.ratio = use.ratio;
    scene.add(std::move(f));
  }
}

void tell_end_grain(Scene& scene, const JointJudge& judge) {
  int worst = -1, count = 0;
  for (std::size_t j = 0; j < judge.uses().size(); ++j) {
    if (!judge.uses()[j].pulled_from_end_grain) continue;
    ++count;
    if (worst < 0 || judge.uses()[j].pull > judge.uses()[at(worst)].pull)
      worst = static_cast<int>(j);
  }
  if (worst < 0) return;
  const ResolvedJoint& joint = scene.piece.joints[at(worst)];
  const JointUse& use = judge.uses()[at(worst)];
  scene.add({.area = CheckArea::hold,
             .verdict = Verdict::look,
             .check = "screw-in-end-grain",
             .message = fmt::format(
                 "joint `{}` draws its screws out of the end grain of a board, with {} each, under "
                 "{}{}",
                 joint.id, scene.force(use.pull), use.load,
                 count > 1 ? fmt::format(" ({} joints alike)", count) : ""),
             .number = scene.force(use.pull),
             .limit = "0",
             .source = "NDS 2018 12.2.1.3: screws are not counted on in withdrawal from end grain",
             .assumption = std::string(frame_assumption),
             .change =
                 "let a cleat or a notch carry it, cross it with a dowel that the screws bite "
                 "in, or glue a block behind it",
             .boards = {joint.a, joint.b},
             .joint = worst});
}

void tell_unknown(Scene& scene, const JointJudge& judge) {
  if (judge.unknown().empty()) return;
  const ResolvedJoint& joint = scene.piece.joints[at(judge.unknown().front())];
  scene.add({.area = CheckArea::hold,
             .verdict = Verdict::not_computed,
             .check = "joint-unknown",
             .message = fmt::format("the strength of {} joints was not computed, as `{}`: no "
                                    "figures are known of their wood",
                                    judge.unknown().size(), joint.id),
             .source = "NDS 2018 Table 12.3.3A, Wood Handbook Table 5-3a",
             .assumption = "none",
             .change = "name the species of their stock",
             .boards = {joint.a, joint.b},
             .joint = judge.unknown().front()});
}

void tell_unsolved(Scene& scene, std::string message, std::vector<int> boards, std::string change) {
  scene.add({.area = CheckArea::frame,
             .verdict = Verdict::not_computed,
             .check = "frame-is-loose",
             .message = std::move(message),
             .source = std::string(frame_source),
             .assumption = std::string(frame_assumption),
             .change = std::move(change),
             .boards = std::move(boards)});
}

void tell_no_load(Scene& scene) {
  scene.add({.area = CheckArea::frame,
             .verdict = Verdict::not_computed,
             .check = "no-load-named",
             .message = "the piece file names no load, so only its own weight was computed",
             .source = "docs/piece-file.md, Loads",
             .assumption = "none",
             .change = "say what it must carry: [load.NAME] on = [...], kind = \"people\""});
}

}  // namespace

void survey_frame(Scene& scene) {
  if (scene.woods.empty()) return;
  const Bearing bearing = bearing_of(scene);
  if (!bearing.loose.empty())
    tell_unsolved(
        scene,
        fmt::format("{} boards touch nothing that stands on the ground, as `{}`: what they "
                    "bear was not computed",
                    bearing.loose.size(), scene.id(bearing.loose.front())),
        bearing.loose, "bring them into contact, or join them");
  const std::vector<LoadCase> cases = load_cases(scene, bearing);
  std::vector<FrameLoads> loads;
  for (const LoadCase& one : cases) loads.push_back(one.loads);
  const auto answers = solve(bearing.model, loads);
  if (!answers.front().is_solved)
    return tell_unsolved(scene, "the frame moves freely somewhere, so nothing was computed of it",
                         {}, "look for boards that only touch in a point or that no joint holds");
  const std::vector<Timber> timbers = timbers_of(scene, bearing);
  BoardJudge boards(scene, bearing, timbers);
  JointJudge joints(scene, bearing, timbers);
  for (std::size_t i = 0; i < cases.size(); ++i) {
    boards.weigh(cases[i], answers[i], answers.front());
    joints.weigh(cases[i], answers[i]);
  }
  tell_joints(scene, joints);
  tell_end_grain(scene, joints);
  tell_unknown(scene, joints);
  tell_stress(scene, boards.uses(), timbers);
  tell_shares(scene, boards.uses());
  tell_sag(scene, boards.uses());
  if (scene.piece.loads.empty()) tell_no_load(scene);
}

}  // namespace kw::surveying
