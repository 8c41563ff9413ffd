// The sawing plan of strips and sheets: rectangles out of rectangles, each cut from edge to edge.
//
// x runs along the sheet's length, which is the way of its grain, y across it. A crosscut runs
// across (x stays), a rip along (y stays). A cut at `at` from the lower end of a piece leaves what
// lies below and what lies beyond the kerf; no kerf is asked for where nothing is left beyond.
//
// Guarantees: `verify_sheets` accepts every plan of `optimise_sheets`; lengths, money and worth are
// whole numbers; the same problem and effort give the same plan unless the clock or the caller
// stops the work.
//
//   SheetProblem p{.parts = {{.name = "shelf", .length = Length::inches(30),
//                             .width = Length::inches(11), .count = 6}},
//                  .sheets = {{.name = "plywood", .length = Length::inches(96),
//                              .width = Length::inches(48), .price = {5400}}},
//                  .kerf = Length::inches(0.125)};
//   if (auto plan = optimise_sheets(p)) show(plan->sheets, plan->cost, plan->is_proved);
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw {

// One kind of rectangular part.
struct SheetPart {
  std::string name = {};
  Length length = {}, width = {};
  int count = 1;           // as many are made; for the most worth: at most as many
  bool may_turn = false;   // a quarter turn, so that its length lies across the sheet's grain
  std::int64_t worth = 0;  // of one; counts only for the most worth
};

// One kind of sheet, or of board that may be ripped.
struct SheetStock {
  std::string name = {};
  Length length = {}, width = {};
  Money price = {};               // of one; 0 for what is on hand
  std::optional<int> count = {};  // how many there are; none: as many as wanted
};

// Sawn away from each sheet before anything else; holds its own kerf.
struct SheetTrim {
  Length left = {}, right = {};   // of the two ends, low and high x
  Length lower = {}, upper = {};  // of the two edges, low and high y
};

// How often the way of the cuts may change from the whole sheet to a part. All the cuts of one way
// that follow one another are one stage.
enum class SheetStages : std::uint8_t {
  any,
  two,           // strips, each cut to parts: every part is as wide as its strip
  two_and_trim,  // the same, and then a part may be trimmed to its size by one cut more
  three,
};

// The way of a sheet's first cut; matters only where the stages are limited. Two stages with `rip`
// are boards ripped to strips, each then crosscut; with `crosscut`, blanks that are then ripped.
enum class FirstCut : std::uint8_t { either, rip, crosscut };

enum class SheetAim : std::uint8_t {
  least_money,  // all parts, from sheets that cost least
  most_worth,   // from one sheet of any kind, parts that are worth most
};

struct SheetProblem {
  std::vector<SheetPart> parts = {};
  std::vector<SheetStock> sheets = {};
  Length kerf = {};
  SheetTrim trim = {};
  SheetStages stages = SheetStages::any;
  FirstCut first = FirstCut::either;
  SheetAim aim = SheetAim::least_money;
  LengthUnit unit = LengthUnit::inch;  // in which the messages speak
};

enum class SheetCut : std::uint8_t { rip, crosscut };

// A rectangle on the way from the sheet to the parts: cut in two, or a part, or an offcut.
struct SheetPiece {
  enum class Use : std::uint8_t { cut, part, offcut };
  Length x = {}, y = {};  // its low corner, from that of the untrimmed sheet
  Length length = {}, width = {};
  Use use = Use::offcut;
  // Of a cut: its way, its place from the piece's low corner, and the indices of what lies below
  // and what lies beyond (-1: nothing is left there).
  SheetCut way = SheetCut::rip;
  Length at = {};
  int below = -1, beyond = -1;
  // Of a part.
  int part = -1;  // index into SheetProblem::parts
  bool turned = false;
};

struct SawnSheet {
  int sheet = 0;                        // index into SheetProblem::sheets
  std::vector<SheetPiece> pieces = {};  // [0] is the trimmed sheet; the others follow from it
};

struct SheetPlan {
  std::vector<SawnSheet> sheets = {};
  Money cost = {};               // of the sheets
  Money bound = {};              // for the least money: no plan can cost less
  std::int64_t worth = 0;        // for the most worth: of the parts made
  std::int64_t worth_bound = 0;  // and no plan can be worth more
  bool is_proved = false;        // the figure aimed at equals its bound
};

// Why a problem cannot be worked on. Errors: cutting.bad-number, cutting.no-stock,
// cutting.too-large (a part that no sheet can hold; only for the least money), cutting.too-many
// (over 10,000 parts, 1,000 kinds of part or 100 of sheet).
[[nodiscard]] Diagnostics validate_sheets(const SheetProblem& problem);

// For the least money a plan that makes every part; for the most worth one sheet, or none when no
// part is worth anything or fits. `Effort::on_progress` is told the worth as if it were money.
// Errors: those of `validate_sheets`, or cutting.cannot when the sheets do not suffice (proved) or
// no plan was found within the effort (the message says which).
[[nodiscard]] Outcome<SheetPlan> optimise_sheets(const SheetProblem& problem,
                                                 const Effort& effort = {});

// Everything that is wrong with a plan, judged afresh from the problem alone by sawing it again.
// Errors: those of `validate_sheets`, cutting.sheet-stock, cutting.sheet-tree, cutting.sheet-cut,
// cutting.sheet-part, cutting.sheet-stages, cutting.sheet-count, cutting.sheet-cost,
// cutting.sheet-bound. Shares no code with `optimise_sheets`.
[[nodiscard]] Diagnostics verify_sheets(const SheetProblem& problem, const SheetPlan& plan);

}  // namespace kw
