// The figures and words of a [joint].
#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/lumber/choose.h"

#include "joint.h"

namespace kw::resolving {
namespace {

constexpr int most_fasteners = 100, latest_step = 10'000;

void unknown_word(Scene& scene, const Name& word, std::string_view what, std::string hint) {
  scene.work.faults.report({.code = "piece.unknown-word",
                            .at = word.at,
                            .message = fmt::format("`{}` is no {}", word.text, what),
                            .hint = std::move(hint)});
}

// "a" or "b", or the name of the board itself; "" when none is said, nothing when it is neither.
std::optional<std::string> which_of(Scene& scene, const JointDecl& decl,
                                    const std::optional<Name>& word) {
  if (!word) return "";
  if (word->text == "a" || word->text == "b") return word->text;
  for (std::size_t i = 0; i < std::min<std::size_t>(2, decl.of.size()); ++i)
    if (decl.of[i].text == word->text) return i == 0 ? "a" : "b";
  if (!word->text.empty())
    unknown_word(scene, *word, "board of this joint",
                 "say \"a\", the first of `of`, or \"b\", the second");
  return std::nullopt;
}

std::optional<std::string> side_of(Scene& scene, const std::optional<Name>& word) {
  if (!word) return "";
  const std::vector<std::string> known = {"+y", "-y", "+z", "-z", "start", "end"};
  if (std::find(known.begin(), known.end(), word->text) != known.end()) return word->text;
  if (!word->text.empty())
    unknown_word(scene, *word, "side of a board", hint_for(word->text, known, "sides"));
  return std::nullopt;
}

bool is_right_kind(JointKind joint, FastenerKind fastener) {
  if (joint == JointKind::pocket_screw) return fastener == FastenerKind::pocket_screw;
  if (joint == JointKind::dowel) return fastener == FastenerKind::dowel;
  return true;
}

std::optional<std::string> fastener_of(Scene& scene, const JointDecl& decl) {
  if (!decl.fasten) return "";
  const Name& word = *decl.fasten;
  if (word.text.empty()) return std::nullopt;
  const Catalogue& catalogue = scene.work.given.catalogue;
  if (const auto kind = kind_by_rule(word.text); kind && is_right_kind(decl.kind, *kind))
    return word.text;  // chosen when the boards' wood is known
  const Fastener* fastener = find_fastener(catalogue, word.text);
  if (!fastener) {
    scene.work.faults.report(
        {.code = "piece.unknown-fastener",
         .at = word.at,
         .message = fmt::format("no fastener is called `{}`", word.text),
         .hint = hint_from_tables(catalogue, word.text, all_names(catalogue.fasteners))});
    return std::nullopt;
  }
  if (is_right_kind(decl.kind, fastener->kind)) return fastener->name;
  scene.work.faults.report({.code = "piece.wrong-fastener",
                            .at = word.at,
                            .message = fmt::format("`{}` is a {}: this joint does not take it",
                                                   word.text, name_of(fastener->kind)),
                            .hint = decl.kind == JointKind::dowel
                                        ? "name a dowel, or say `diameter` and `long`"
                                        : "name a pocket screw, or make it a screw joint"});
  return std::nullopt;
}

std::optional<std::string> glue_of(Scene& scene, const JointDecl& decl) {
  if (!decl.glue) return "";
  if (decl.glue->text.empty()) return std::nullopt;
  const Catalogue& catalogue = scene.work.given.catalogue;
  if (const Adhesive* glue = find_adhesive(catalogue, decl.glue->text)) return glue->name;
  scene.work.faults.report(
      {.code = "piece.unknown-glue",
       .at = decl.glue->at,
       .message = fmt::format("no adhesive is called `{}`", decl.glue->text),
       .hint = hint_from_tables(catalogue, decl.glue->text, all_names(catalogue.adhesives))});
  return std::nullopt;
}

// Each takes one figure; false when it was said and cannot be had.
class Taking {
 public:
  explicit Taking(Scene& scene) : values_(scene.work.values), site_(scene.site) {}

  void above_zero(const std::optional<Formula>& formula, std::optional<double>& into) {
    if (formula) keep(values_.positive_mm(*formula, site_), into);
  }
  void from_zero(const std::optional<Formula>& formula, std::optional<double>& into) {
    if (formula) keep(values_.mm_from_zero(*formula, site_), into);
  }
  void any(const std::optional<Formula>& formula, std::optional<double>& into) {
    if (formula) keep(values_.mm(*formula, site_), into);
  }
  void whole(const std::optional<Formula>& formula, int least, int most, std::optional<int>& into) {
    if (formula) keep(values_.count(*formula, site_, least, most), into);
  }
  [[nodiscard]] bool is_sound() const { return is_sound_; }

 private:
  template <class T>
  void keep(std::optional<T> value, std::optional<T>& into) {
    is_sound_ = is_sound_ && value;
    into = value;
  }

  Values& values_;
  int site_;
  bool is_sound_ = true;
};

bool take_figures(Scene& scene, const JointDecl& decl, ResolvedJoint& joint) {
  Taking take(scene);
  std::optional<double> ease;
  std::optional<int> step;
  take.from_zero(decl.ease, ease);
  take.above_zero(decl.depth, joint.depth);
  take.from_zero(decl.stop, joint.stop);
  take.above_zero(decl.wide, joint.wide);
  take.above_zero(decl.thick, joint.thick);
  take.above_zero(decl.length, joint.length);
  take.above_zero(decl.diameter, joint.diameter);
  take.from_zero(decl.inset, joint.inset);
  take.any(decl.starts, joint.starts);
  take.any(decl.ends, joint.ends);
  take.any(decl.across, joint.across);
  take.whole(decl.count, 1, most_fasteners, joint.count);
  take.whole(decl.step, 0, latest_step, step);
  if (decl.offset) {
    std::array<std::optional<double>, 2> offset = {};
    for (std::size_t i = 0; i < 2; ++i) take.any((*decl.offset)[i], offset[i]);
    if (offset[0] && offset[1]) joint.offset = {*offset[0], *offset[1]};
  }
  joint.ease = ease.value_or(0);
  joint.step = step.value_or(0);
  return take.is_sound();
}

}  // namespace

std::optional<ResolvedJoint> joint_of(Scene& scene, const JointDecl& decl) {
  ResolvedJoint joint{.kind = decl.kind, .note = decl.note, .at = decl.name.at};
  const bool has_figures = take_figures(scene, decl, joint);
  const auto over = which_of(scene, decl, decl.over), from = which_of(scene, decl, decl.from);
  const auto edge = side_of(scene, decl.edge), face = side_of(scene, decl.face);
  const auto fastener = fastener_of(scene, decl), glue = glue_of(scene, decl);
  if (!has_figures || !over || !from || !edge || !face || !fastener || !glue) return std::nullopt;
  joint.a_is_over = *over != "b";
  joint.from = *from;
  joint.edge = *edge;
  joint.face = *face;
  joint.fastener = *fastener;
  joint.glue = *glue;
  return joint;
}

}  // namespace kw::resolving
