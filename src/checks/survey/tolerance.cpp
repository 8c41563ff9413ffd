// How likely it is that every joint closes, and which measurement to take most care over.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "survey/scene.h"

namespace kw::surveying {
namespace {

constexpr double by_calliper = 0.05;  // mm: what is left of a stock's spread when it is measured
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
    const ResolvedStock& stock = scene_.stock_of(board);
    return source("thickness of stock " + stock.name,
                  is_measured_ || stock.is_measured ? by_calliper : e.thickness);
  }
  int width_of(int board) {
    const ShopErrors& e = scene_.options.errors;
    const ResolvedStock& stock = scene_.stock_of(board);
    const bool is_ripped = stock.used.width != stock.bought.width;  // then the saw makes it
    if (is_ripped) return source("ripping stock " + stock.name, e.rip);
    return source("width of stock " + stock.name,
                  is_measured_ || stock.is_measured ? by_calliper : e.width);
  }

  // Neither board's end lies in the joint.
  [[nodiscard]] bool are_faces(const ResolvedJoint& j) const {
    for (const Contact& c : scene_.contacts) {
      const Wood &a = scene_.woods[at(c.a)], &b = scene_.woods[at(c.b)];
      if (!((a.board == j.a && b.board == j.b) || (a.board == j.b && b.board == j.a))) continue;
      const Vec3 n = a.frame.direction_to_world(a.shape->faces[at(c.face_a)].plane.normal);
      return std::abs(dot(n, a.frame.x)) < 0.7 && std::abs(dot(n, b.frame.x)) < 0.7;
    }
    return false;
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
      case JointKind::screw:
      case JointKind::glue:
        if (are_faces(j)) {  // drawn or clamped together over what they are cupped by
          gap.effects = {{source("cup of stock " + scene_.stock_of(j.a).name, e.cup), 0.5},
                         {source("cup of stock " + scene_.stock_of(j.b).name, e.cup), 0.5}};
          gap.least = -e.cup * 10;
          break;
        }
        [[fallthrough]];
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

// Parts alike that lie beside one another hold the rest square when they are of one length: each
// pair's difference over its distance.
struct Squares {
  std::vector<ErrorSource> sources = {};
  std::vector<Gap> gaps = {};
};
Squares squares_of(const Scene& scene) {
  Squares squares;
  std::map<std::string, int> first;
  const double allowed = scene.piece.rule.in_mm();
  for (std::size_t b = 0; b < scene.woods.size() && squares.gaps.size() < 200; ++b) {
    const Wood& wood = scene.woods[b];
    const auto [known, is_new] =
        first.emplace(scene.board(wood.board).made_from, static_cast<int>(b));
    if (is_new) continue;
    const Wood& other = scene.woods[at(known->second)];
    const double apart = norm(wood.frame.origin - other.frame.origin);
    if (std::abs(dot(wood.frame.x, other.frame.x)) < 0.99 || apart < 100) continue;
    const int n = static_cast<int>(squares.sources.size());
    const double spread = scene.options.errors.stop;
    for (const int board : {wood.board, other.board})
      squares.sources.push_back(
          {fmt::format("length of {}", scene.id(board)), 0, spread, 3 * spread});
    squares.gaps.push_back({.name = scene.board(wood.board).made_from,
                            .effects = {{n, 1}, {n + 1, -1}},
                            .least = -allowed,
                            .most = allowed});
  }
  return squares;
}

void tell_square(Scene& scene) {
  const Squares squares = squares_of(scene);
  if (squares.gaps.empty()) return;
  Draws draws = scene.options.draws;
  draws.progress = nullptr;
  draws.count = std::min(draws.count, 2000);
  const ToleranceAnswer answer = draw_gaps(squares.sources, squares.gaps, draws);
  Finding f{.area = CheckArea::tolerance,
            .verdict = answer.chance_of_all < 0.9 ? Verdict::look : Verdict::passes,
            .check = "stays-square"};
  f.message = fmt::format(
      "{} pairs of parts alike are each within {} of one length in {:.0f} of 100 makings, and so "
      "hold the whole square",
      squares.gaps.size(), scene.length(scene.piece.rule.in_mm()), 100 * answer.chance_of_all);
  f.number = fmt::format("{:.0f} %", 100 * answer.chance_of_all);
  f.limit = "90 %";
  f.source = fmt::format("{} draws, seed {}; {}", answer.draws, scene.options.draws.seed, spreads);
  f.assumption = "each length is cut to a stop by itself; joints give nothing away";
  if (answer.chance_of_all < 0.9)
    f.change =
        "cut parts that are alike together, against one stop, or measure the diagonals "
        "before the glue sets";
  f.ratio = 1 - answer.chance_of_all;
  scene.add(std::move(f));
}

void tell_joints_close(Scene& scene) {
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

}  // namespace

void survey_tolerance(Scene& scene) {
  tell_joints_close(scene);
  tell_square(scene);
}

}  // namespace kw::surveying
