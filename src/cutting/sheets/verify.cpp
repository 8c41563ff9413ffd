// The judge of sheet plans. Saws each sheet again, cut by cut, in whole ticks: nothing here comes
// from the optimiser.
#include <fmt/format.h>

#include "kerfwright/cutting/sheets.h"

namespace kw {
namespace {

struct Rectangle {
  Length x = {}, y = {}, length = {}, width = {};
  friend bool operator==(const Rectangle&, const Rectangle&) = default;
};

// What is known of a piece before it is looked at: where it must lie, and the cuts that led to it.
struct Expected {
  int piece = 0;
  Rectangle lies = {};
  int stages = 0;  // so far
  SheetCut last = SheetCut::rip;
};

class SheetVerification {
 public:
  SheetVerification(const SheetProblem& problem, const SheetPlan& plan)
      : problem_(problem), plan_(plan), made_(problem.parts.size()) {}

  Diagnostics run() {
    std::vector<std::int64_t> sawn(problem_.sheets.size());
    for (number_ = 1; number_ <= plan_.sheets.size(); ++number_) {
      const SawnSheet& sheet = plan_.sheets[number_ - 1];
      const auto kind = static_cast<std::size_t>(sheet.sheet);
      if (sheet.sheet < 0 || kind >= problem_.sheets.size()) {
        fault("cutting.sheet-stock", fmt::format("sheet {} is of no kind that there is", number_));
        continue;
      }
      ++sawn[kind];
      saw(sheet, problem_.sheets[kind]);
    }
    check_stock(sawn);
    check_count();
    check_figures();
    return std::move(faults_);
  }

 private:
  void fault(std::string_view code, std::string message) {
    faults_.push_back({.code = code,
                       .message = std::move(message),
                       .hint = "this plan must not be sawn; plan again"});
  }

  void saw(const SawnSheet& sheet, const SheetStock& kind) {
    const SheetTrim& t = problem_.trim;
    const Rectangle whole{t.left, t.lower, kind.length - t.left - t.right,
                          kind.width - t.lower - t.upper};
    std::vector<Expected> open{{.piece = 0, .lies = whole}};
    std::size_t seen = 0;
    parts_here_ = 0;
    while (!open.empty()) {
      const Expected e = open.back();
      open.pop_back();
      if (e.piece < 0 || static_cast<std::size_t>(e.piece) >= sheet.pieces.size() ||
          ++seen > sheet.pieces.size()) {
        fault("cutting.sheet-tree",
              fmt::format("sheet {}: its pieces do not follow one from another", number_));
        return;
      }
      look_at(sheet, e, open);
    }
    if (seen != sheet.pieces.size()) {
      fault("cutting.sheet-tree", fmt::format("sheet {}: a piece comes from nowhere", number_));
    }
    if (parts_here_ == 0) {
      fault("cutting.sheet-stock",
            fmt::format("sheet {} is paid for but has no part on it", number_));
    }
  }

  void look_at(const SawnSheet& sheet, const Expected& e, std::vector<Expected>& open) {
    const SheetPiece& piece = sheet.pieces[static_cast<std::size_t>(e.piece)];
    if (Rectangle{piece.x, piece.y, piece.length, piece.width} != e.lies) {
      fault("cutting.sheet-cut",
            fmt::format("sheet {}: piece {} is not what the cut leaves", number_, e.piece));
      return;
    }
    if (piece.use == SheetPiece::Use::part) check_part(piece, e.piece);
    if (piece.use == SheetPiece::Use::cut) cut(sheet, piece, e, open);
  }

  void check_part(const SheetPiece& piece, int index) {
    const auto part = static_cast<std::size_t>(piece.part);
    if (piece.part < 0 || part >= problem_.parts.size()) {
      fault("cutting.sheet-count",
            fmt::format("sheet {}: piece {} is a part that nobody asked for", number_, index));
      return;
    }
    const SheetPart& asked = problem_.parts[part];
    ++made_[part];
    ++parts_here_;
    if (piece.turned && !asked.may_turn && asked.length != asked.width) {
      fault("cutting.sheet-part",
            fmt::format("sheet {}: part `{}` lies across the grain", number_, asked.name));
    }
    const Length along = piece.turned ? asked.width : asked.length;
    const Length across = piece.turned ? asked.length : asked.width;
    if (piece.length != along || piece.width != across) {
      fault("cutting.sheet-part",
            fmt::format("sheet {}: part `{}` comes out in a wrong size", number_, asked.name));
    }
  }

  void cut(const SawnSheet& sheet, const SheetPiece& piece, const Expected& e,
           std::vector<Expected>& open) {
    const bool is_crosscut = piece.way == SheetCut::crosscut;
    const Length size = is_crosscut ? piece.length : piece.width;
    if (piece.at <= Length() || piece.at >= size) {
      fault("cutting.sheet-cut",
            fmt::format("sheet {}: the cut of piece {} lies outside of it", number_, e.piece));
      return;
    }
    Expected below = e, beyond = e;
    below.piece = piece.below;
    beyond.piece = piece.beyond;
    if (e.stages == 0 || e.last != piece.way) ++below.stages;
    beyond.stages = below.stages;
    below.last = beyond.last = piece.way;
    check_stages(sheet, piece, e, below.stages);
    const Length start = piece.at + problem_.kerf;
    (is_crosscut ? below.lies.length : below.lies.width) = piece.at;
    (is_crosscut ? beyond.lies.x : beyond.lies.y) += start;
    (is_crosscut ? beyond.lies.length : beyond.lies.width) = size - start;
    open.push_back(below);
    if (piece.beyond != -1) {
      open.push_back(beyond);
      if (size - start <= Length()) {
        fault("cutting.sheet-cut",
              fmt::format("sheet {}: the kerf of piece {} leaves nothing", number_, e.piece));
      }
    } else if (size - start > Length()) {
      fault(
          "cutting.sheet-tree",
          fmt::format("sheet {}: what lies beyond the cut of piece {} is lost", number_, e.piece));
    }
  }

  void check_stages(const SawnSheet& sheet, const SheetPiece& piece, const Expected& e,
                    int stages) {
    if (problem_.stages == SheetStages::any) return;
    const bool is_rip = piece.way == SheetCut::rip;
    if (e.stages == 0 && problem_.first != FirstCut::either &&
        is_rip != (problem_.first == FirstCut::rip)) {
      fault("cutting.sheet-stages",
            fmt::format("sheet {}: its first cut is of the other way", number_));
    }
    const int most = problem_.stages == SheetStages::three ? 3 : 2;
    if (stages <= most) return;
    const bool may_trim = problem_.stages == SheetStages::two_and_trim && stages == 3;
    if (may_trim && is_trimming(sheet, piece)) return;
    fault("cutting.sheet-stages",
          fmt::format("sheet {}: the cut of piece {} is one stage too many", number_, e.piece));
  }

  // One side is a part, the other is not cut again and no part.
  static bool is_trimming(const SawnSheet& sheet, const SheetPiece& piece) {
    const auto is = [&](int index, SheetPiece::Use use) {
      return index >= 0 && static_cast<std::size_t>(index) < sheet.pieces.size() &&
             sheet.pieces[static_cast<std::size_t>(index)].use == use;
    };
    const auto is_rest = [&](int index) {
      return index == -1 || is(index, SheetPiece::Use::offcut);
    };
    return (is(piece.below, SheetPiece::Use::part) && is_rest(piece.beyond)) ||
           (is(piece.beyond, SheetPiece::Use::part) && is_rest(piece.below));
  }

  void check_stock(const std::vector<std::int64_t>& sawn) {
    for (std::size_t i = 0; i < sawn.size(); ++i) {
      const SheetStock& s = problem_.sheets[i];
      if (!s.count || sawn[i] <= *s.count) continue;
      fault("cutting.sheet-stock",
            fmt::format("{} sheets of `{}` are sawn, there are {}", sawn[i], s.name, *s.count));
    }
    if (problem_.aim == SheetAim::most_worth && plan_.sheets.size() > 1) {
      fault("cutting.sheet-stock", "more than the one sheet is sawn");
    }
  }

  void check_count() {
    for (std::size_t i = 0; i < made_.size(); ++i) {
      const SheetPart& p = problem_.parts[i];
      const bool is_well =
          problem_.aim == SheetAim::most_worth ? made_[i] <= p.count : made_[i] == p.count;
      if (is_well) continue;
      fault("cutting.sheet-count",
            fmt::format("part `{}` is made {} times instead of {}", p.name, made_[i], p.count));
    }
  }

  void check_figures() {
    Money cost;
    std::int64_t worth = 0;
    for (const SawnSheet& s : plan_.sheets) {
      const auto kind = static_cast<std::size_t>(s.sheet);
      if (s.sheet >= 0 && kind < problem_.sheets.size()) cost = cost + problem_.sheets[kind].price;
    }
    for (std::size_t i = 0; i < made_.size(); ++i) worth += made_[i] * problem_.parts[i].worth;
    const bool for_worth = problem_.aim == SheetAim::most_worth;
    if (plan_.cost != cost || (for_worth && plan_.worth != worth)) {
      fault("cutting.sheet-cost",
            fmt::format("the plan comes to {} coins and a worth of {}, it says {} and {}",
                        cost.coins, worth, plan_.cost.coins, plan_.worth));
    }
    const std::int64_t gap =
        for_worth ? plan_.worth_bound - plan_.worth : plan_.cost.coins - plan_.bound.coins;
    if (gap < 0 || plan_.is_proved != (gap == 0)) {
      fault("cutting.sheet-bound",
            "what the plan says of its bound and its proof does not agree with its figures");
    }
  }

  const SheetProblem& problem_;
  const SheetPlan& plan_;
  std::vector<std::int64_t> made_ = {};
  std::int64_t parts_here_ = 0;
  std::size_t number_ = 0;
  Diagnostics faults_ = {};
};

}  // namespace

Diagnostics verify_sheets(const SheetProblem& problem, const SheetPlan& plan) {
  Diagnostics faults = validate_sheets(problem);
  if (has_errors(faults)) return faults;
  return SheetVerification(problem, plan).run();
}

}  // namespace kw
