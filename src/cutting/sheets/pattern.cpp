#include "pattern.h"

namespace kw::cutting::sheets {
namespace {

int most_stages(const Model& model) {
  return model.stages == SheetStages::three ? 3 : 2;
}

// Hands out the merged parts of each kind one after another.
class Handing {
 public:
  explicit Handing(const SheetProblem& problem) {
    for (const SheetPart& p : problem.parts) left_.push_back(p.count);
  }

  int take(const Kind& kind) {  // -1: there are enough
    for (const int p : kind.parts) {
      int& left = left_[static_cast<std::size_t>(p)];
      if (left > 0) return --left, p;
    }
    return -1;
  }

 private:
  std::vector<int> left_ = {};
};

struct Rectangle {
  std::int64_t x = 0, y = 0;
  Size size = {};  // a kerf more than true
};

class Sawing {
 public:
  Sawing(const SheetProblem& problem, const Model& model, const Pattern& pattern, Handing& handing)
      : problem_(problem), model_(model), pattern_(pattern), handing_(handing) {}

  SawnSheet run() {
    const Board& board = model_.boards[static_cast<std::size_t>(pattern_.board)];
    sawn_.sheet = board.sheet;
    saw(0, {problem_.trim.left.in_ticks(), problem_.trim.lower.in_ticks(), board.size});
    return std::move(sawn_);
  }

 private:
  // The index of the piece, or -1 where the kerf takes all of it.
  int saw(int index, const Rectangle& r) {
    if (r.size.l <= model_.kerf || r.size.w <= model_.kerf) return -1;
    const Node* node = &pattern_.nodes[static_cast<std::size_t>(index)];
    while (node->way != Way::none && node->at >= (is_crosscut(*node) ? r.size.l : r.size.w))
      node = &pattern_.nodes[static_cast<std::size_t>(node->below)];  // nothing to cut away
    const std::size_t piece = sawn_.pieces.size();
    sawn_.pieces.push_back({.x = Length::ticks(r.x),
                            .y = Length::ticks(r.y),
                            .length = Length::ticks(r.size.l - model_.kerf),
                            .width = Length::ticks(r.size.w - model_.kerf)});
    if (node->way != Way::none) cut(*node, r, piece);
    if (node->kind >= 0) hand_out(*node, sawn_.pieces[piece]);
    return static_cast<int>(piece);
  }

  void cut(const Node& node, const Rectangle& r, std::size_t piece) {
    Rectangle below = r, beyond = r;
    if (is_crosscut(node)) {
      below.size.l = node.at;
      beyond.x += node.at;
      beyond.size.l -= node.at;
    } else {
      below.size.w = node.at;
      beyond.y += node.at;
      beyond.size.w -= node.at;
    }
    const int made = made_;
    const int first = saw(node.below, below), second = saw(node.beyond, beyond);
    if (made_ == made) {  // no part comes of it: left whole
      sawn_.pieces.resize(piece + 1);
      return;
    }
    SheetPiece& p = sawn_.pieces[piece];
    p.use = SheetPiece::Use::cut;
    p.way = is_crosscut(node) ? SheetCut::crosscut : SheetCut::rip;
    p.at = Length::ticks(node.at - model_.kerf);
    p.below = first;
    p.beyond = second;
  }

  void hand_out(const Node& node, SheetPiece& piece) {
    const int part = handing_.take(model_.kinds[static_cast<std::size_t>(node.kind)]);
    if (part < 0) return;
    ++made_;
    const SheetPart& asked = problem_.parts[static_cast<std::size_t>(part)];
    piece.use = SheetPiece::Use::part;
    piece.part = part;
    piece.turned = asked.length != piece.length || asked.width != piece.width;
  }

  static bool is_crosscut(const Node& node) { return node.way == Way::crosscut; }

  const SheetProblem& problem_;
  const Model& model_;
  const Pattern& pattern_;
  Handing& handing_;
  SawnSheet sawn_ = {};
  int made_ = 0;
};

}  // namespace

std::vector<int> counts_of(const Model& model, const Pattern& pattern) {
  std::vector<int> counts(model.kinds.size());
  for (const Node& n : pattern.nodes) {
    if (n.kind >= 0) ++counts[static_cast<std::size_t>(n.kind)];
  }
  return counts;
}

bool is_allowed(const Model& model, Stage before, Way way) {
  if (model.stages == SheetStages::any) return true;
  const Stage now = before.after(way);
  if (now.stages > most_stages(model)) return false;
  if (before.stages > 0 || model.first == FirstCut::either) return true;
  return (way == Way::rip) == (model.first == FirstCut::rip);
}

bool may_trim(const Model& model, Stage before, Way way) {
  if (is_allowed(model, before, way)) return true;
  return model.stages == SheetStages::two_and_trim && before.stages == 2;
}

SheetPlan plan_of(const SheetProblem& problem, const Model& model,
                  const std::vector<Pattern>& patterns) {
  SheetPlan plan;
  Handing handing(problem);
  for (const Pattern& pattern : patterns) {
    SawnSheet sawn = Sawing(problem, model, pattern, handing).run();
    bool has_part = false;
    for (const SheetPiece& p : sawn.pieces) {
      if (p.use != SheetPiece::Use::part) continue;
      has_part = true;
      plan.worth += problem.parts[static_cast<std::size_t>(p.part)].worth;
    }
    if (!has_part) continue;
    plan.cost = plan.cost + problem.sheets[static_cast<std::size_t>(sawn.sheet)].price;
    plan.sheets.push_back(std::move(sawn));
  }
  if (!model.for_worth) plan.worth = 0;
  return plan;
}

}  // namespace kw::cutting::sheets
