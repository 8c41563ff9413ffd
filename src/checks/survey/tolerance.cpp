// How likely it is that every joint closes, and which measurement to take most care over.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "survey/scene.h"

namespace kw::surveying {
namespace {

constexpr std::string_view spreads =
    "spreads of marking, stops, kerf, saw angle and stock: common practice, no published source";

class Chain {
 public:
  explicit Chain(const Scene& scene, bool is_measured) : scene_(scene), is_measured_(is_measured) {
    for (std::size_t j = 0; j < scene.piece.joints.size(); ++j) add(static_cast<int>(j));
  }
  std::vector<ErrorSource> sources = {};
  std::vector<Gap> gaps = {};
  std::vector<int> joints = {};  // by gap

 private:
  int source(const std::string& name, double spread) {
    const auto [place, is_new] = known_.emplace(name, static_cast<int>(sources.size()));
    if (is_new) sources.push_back({name, 0, spread, 3 * spread});
    return place->second;
  }
  [[nodiscard]] const std::string& part(int board) const { return scene_.board(board).made_from; }
  [[nodiscard]] double width(int board) const { return scene_.board(board).section.width.in_mm(); }

  int thickness_of(int board) {
    const ShopErrors& e = scene_.options.errors;
    return source("thickness of stock " + scene_.piece.stocks[at(scene_.board(board).stock)].name,
                  is_measured_ ? 0.05 : e.thickness);
  }
  int width_of(int board) {
    const ShopErrors& e = scene_.options.errors;
    return source("width of stock " + scene_.piece.stocks[at(scene_.board(board).stock)].name,
                  is_measured_ ? 0.05 : e.width);
  }

  void add(int index) {
    const ResolvedJoint& j = scene_.piece.joints[at(index)];
    if (j.b < 0) return;
    const ShopErrors& e = scene_.options.errors;
    const double half_rule = scene_.piece.rule.in_mm() / 2;
    Gap gap{.name = j.id, .exact = j.ease, .least = -0.3, .most = half_rule + j.ease};
    const double per_degree = std::numbers::pi / 180;
    switch (j.kind) {
      case JointKind::mitre:
        gap.effects = {
            {source("saw angle for " + part(j.a), e.saw_degrees), width(j.a) * per_degree},
            {source("saw angle for " + part(j.b), e.saw_degrees), -width(j.b) * per_degree}};
        break;
      case JointKind::half_lap:
      case JointKind::notch:
      case JointKind::bridle:
        gap.effects = {
            {source("marks of `" + j.id + "` on " + part(j.a), e.marking), std::numbers::sqrt2},
            {source("saw angle for " + part(j.a), e.saw_degrees), width(j.b) / 2 * per_degree},
            {width_of(j.b), -1}};
        break;
      case JointKind::housing:
      case JointKind::groove:
      case JointKind::rabbet:
        gap.effects = {{source("width of the cut for `" + j.id + "` in " + part(j.a), e.kerf), 1},
                       {thickness_of(j.b), -1}};
        break;
      case JointKind::tenon:
        gap.effects = {{source("mortise in " + part(j.a), e.kerf), 1},
                       {source("tenon on " + part(j.b), e.kerf), -1}};
        break;
      default:
        gap.effects = {
            {source("length of " + part(j.b), e.stop), -1},
            {source("saw angle for " + part(j.b), e.saw_degrees), width(j.b) / 2 * per_degree}};
        gap.least = -half_rule;
        break;
    }
    gaps.push_back(std::move(gap));
    joints.push_back(index);
  }

  const Scene& scene_;
  bool is_measured_ = false;
  std::map<std::string, int> known_ = {};
};

std::string care_words(const ToleranceAnswer& answer, const Chain& chain) {
  std::string words;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, answer.care.size()); ++i)
    words += fmt::format("{}{} ({:.0f} %)", i > 0 ? ", then " : "",
                         chain.sources[at(answer.care[i].source)].name, 100 * answer.care[i].share);
  return words;
}

}  // namespace

void survey_tolerance(Scene& scene) {
  const Chain chain(scene, false);
  if (chain.gaps.empty()) return;
  const ToleranceAnswer answer = draw_gaps(chain.sources, chain.gaps, scene.options.draws);
  const Chain measured(scene, true);
  Draws few = scene.options.draws;
  few.count = std::min(few.count, 2000);
  few.progress = nullptr;
  const double after = draw_gaps(measured.sources, measured.gaps, few).chance_of_all;
  std::size_t worst = 0;
  for (std::size_t g = 1; g < answer.gaps.size(); ++g)
    if (answer.gaps[g].chance < answer.gaps[worst].chance) worst = g;
  const GapAnswer& gap = answer.gaps[worst];
  constexpr double wanted = 0.9;
  const double ease = ease_for(gap, chain.gaps[worst], wanted);
  Finding f{.area = CheckArea::tolerance,
            .verdict = answer.chance_of_all < 0.5 ? Verdict::look : Verdict::passes,
            .check = "joints-close"};
  f.message = fmt::format(
      "all {} joints close in {:.0f} of 100 makings, the least likely, `{}`, in {:.0f}; take most "
      "care over {}; "
      "with the real boards measured, all close in {:.0f} of 100",
      chain.gaps.size(), 100 * answer.chance_of_all, chain.gaps[worst].name, 100 * gap.chance,
      care_words(answer, chain), 100 * after);
  f.number = fmt::format("{:.0f} %; worst case {} to {}", 100 * answer.chance_of_all,
                         scene.length(gap.worst_low), scene.length(gap.worst_high));
  f.limit = "50 %";
  f.source = fmt::format("{} draws, seed {}; {}", answer.draws, scene.options.draws.seed, spreads);
  f.assumption =
      "errors are independent and normal, cut off at three spreads; a joint closes when its gap is "
      "under half the rule's smallest mark and it goes together by hand";
  if (ease > 0)
    f.change = fmt::format("give joint `{}` an ease of about {}, and measure the boards (`actual`)",
                           chain.gaps[worst].name, scene.length(ease, Rounding::up));
  f.joint = chain.joints[worst];
  f.ratio = 1 - answer.chance_of_all;
  scene.add(std::move(f));
}

}  // namespace kw::surveying
