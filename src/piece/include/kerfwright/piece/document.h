// The piece file as it was written: every value still a formula, each with its place in the text.
// `read_piece` makes it from text; `resolve` (resolved.h) works it out. docs/piece-file.md is the
// grammar for people, docs/piece-file.schema.json for machines; the comments here name the keys.
//
// What the reader settles: the keys, the types, which keys go together, the form of names, the kind
// of a joint, the unit. What it leaves to `resolve`: every other word (faces, axes, species, names
// of other things) and every formula's meaning. A part that could not be read stays empty
// (Name::text, Formula::expression) after its fault has been told: `resolve` says nothing more
// about it. A word that was read is never empty.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/expression.h"
#include "kerfwright/measure/length.h"

namespace kw {

// A word of the file with its place (without the quotes).
struct Name {
  std::string text = {};
  Span at = {};
};

// A formula (or a bare TOML number) with its place: without the quotes where the text stands in the
// file as it is; the whole value where it holds escapes other than \" (places inside it are then
// near, not exact).
struct Formula {
  Expression expression = {};
  Span at = {};
};
using Formula2 = std::array<Formula, 2>;
using Formula3 = std::array<Formula, 3>;

// "foot" (a layout point), or ["0", "-reach / 2", "0"].
using PointRef = std::variant<Name, Formula3>;

// "+x" "-y" "x" "up" "down" "left" "right" "front" "back" (world axes: up +z, right +x, back +y),
// ["1", "0", "2"], or a table { from = "foot", to = "head" }; and, in a table beside `is` or
// `from`, turned by `turn = "15 deg"`, `about = "x"`.
struct Direction {
  std::variant<Name, Formula3, std::array<PointRef, 2>> is = {};
  std::optional<Formula> turn = {};
  std::optional<Name> about = {};  // an axis word
  Span at = {};
};

// [size.NAME] is, from, to, step, note. A length, an angle, or a plain number (a count).
struct SizeDecl {
  Name name = {};
  Formula is = {};
  std::optional<Formula> from = {}, to = {}, step = {};
  std::string note = {};
};

// [derived] NAME = "formula"
struct DerivedDecl {
  Name name = {};
  Formula is = {};
};

// { length = "8 ft", price = "4.50" }; on hand: { length, count }. `price` is in the file's
// `currency`.
struct OfferDecl {
  Formula length = {};
  std::optional<Formula> price = {};
  std::optional<Formula> count = {};
  Span at = {};
};

// [stock.NAME] section, species, grade, rip, actual, green, sheet (length of a sheet), buy, have,
// note
struct StockDecl {
  Name name = {};
  std::variant<std::monostate, Name, Formula2> section = {};  // "2x4" or [thickness, width]
  std::optional<Name> species = {};
  std::optional<Name> grade = {};  // of strength: "No. 1", "Select Structural", "clear"
  std::optional<Formula> rip = {};
  std::optional<Formula> sheet = {};    // the length of a sheet: the stock is sheet goods
  std::optional<Formula2> actual = {};  // [thickness, width] as measured
  bool is_green = false;                // `green = true`: the green dressed size
  std::vector<OfferDecl> buy = {};      // what the yard sells; none: the lengths commonly sold
  std::vector<OfferDecl> have = {};     // on hand, each `count` times (1)
  std::string note = {};
};

// [point] NAME = ["x", "y", "z"]
struct PointDecl {
  Name name = {};
  Formula3 at = {};
};

// [plane.NAME] at = point, faces = direction (the side that looks out of the wood kept)
struct PlaneDecl {
  Name name = {};
  PointRef at = {};
  Direction faces = {};
};

// How an end is cut. In the file: "square", "PLANE", or a table:
//   { against = "board", face = "+z" }     up to the face of another board that the line meets
//   first { mitre-with = "board" }               both meet in the plane that shares the corner
//   between them { mitre = "35 deg", bevel = "10 deg" } as a saw is set: swing in the broad face,
//   tilt through it { plane = "PLANE" }
// and in each table `add = "1/2"`: moved outward along the board (negative: shortened). A table of
// `add` alone is a square end.
struct SquareEnd {};
struct PlaneEnd {
  Name plane = {};
};
struct AgainstEnd {
  Name board = {};
  std::optional<Name> face = {};
};
struct MitreEnd {
  Name board = {};
};
struct AngleEnd {
  std::optional<Formula> mitre = {}, bevel = {};
};
struct EndDecl {
  std::variant<SquareEnd, PlaneEnd, AgainstEnd, MitreEnd, AngleEnd> how = {};
  std::optional<Formula> add = {};
  Span at = {};
};

// Where a board or panel lies. Either `runs = [point, point]` (its centre line from start to end),
// or `at = point`, `along = direction`, `length = "24"`. `face`: where the broad face (+z of the
// board) looks; the board's +y is then face x along. `hold`: which of the board's own points lies
// on the line or at `at`: across the width "low" "middle" "high" (-y, 0, +y), through the thickness
// likewise; default middle, middle. `shift = [across, through]` moves it on from there.
struct PlacementDecl {
  std::optional<std::array<PointRef, 2>> runs = {};
  std::optional<PointRef> from = {};  // the key `at`
  std::optional<Direction> along = {};
  std::optional<Formula> length = {};
  std::optional<Direction> face = {};
  std::optional<std::array<Name, 2>> hold = {};
  std::optional<Formula2> shift = {};
};

// [board.NAME] stock, the placement's keys, start, end, show ("face" "back" "edge" ...: the side
// that must show, so that copies may not be turned over), note
struct BoardDecl {
  Name name = {};
  Name stock = {};
  PlacementDecl placement = {};
  EndDecl start = {}, end = {};
  std::optional<Name> show = {};
  std::string note = {};
};

// One step of an outline, in the panel's own plane: x along the grain from the start, y across from
// the middle. ["24", "0"] is a line to that point; { to = [...], through = [...] } an arc;
// { to = [...], radius = "3", turn = "left" } an arc by radius (the shorter one).
struct OutlineStep {
  Formula2 to = {};
  std::optional<Formula2> through = {};
  std::optional<Formula> radius = {};
  std::optional<Name> turn = {};  // "left" or "right", seen with +z towards you
  Span at = {};
};

// [panel.NAME] stock, strips (how many boards edge to edge) or width (as many as it takes, the last
// ripped), the placement's keys, outline = [...] (closed by itself; none: a rectangle), show, note
struct PanelDecl {
  Name name = {};
  Name stock = {};
  std::optional<Formula> strips = {}, width = {};
  PlacementDecl placement = {};
  std::vector<OutlineStep> outline = {};
  std::optional<Name> show = {};
  std::string note = {};
};

// [cut.NAME] of = ["board-*"], plane = "PLANE" | at + faces: the wood on the side that the plane
// faces is sawn away. Or a taper: edge = "+y" | "-y" | "+z" | "-z", from = "2", to = "1 1/2" (what
// is left of the width or thickness at start and end), starts = "6" (the taper begins there), ends
// = "30".
struct CutDecl {
  Name name = {};
  std::vector<Name> of = {};
  std::optional<Name> plane = {};
  std::optional<PointRef> at = {};
  std::optional<Direction> faces = {};
  std::optional<Name> edge = {};
  std::optional<Formula> from = {}, to = {}, starts = {}, ends = {};
};

// [hole.NAME] of, face = "+z" (of the board), along = "3" (from the start along x), across = "0"
// (from the middle, which is what none means; on an end face: across, through), diameter, depth
// (none: right through), count, step, tilt = "15 deg" (towards the end)
struct HoleDecl {
  Name name = {};
  std::vector<Name> of = {};
  Name face = {};
  Formula along = {}, across = {}, diameter = {};
  std::optional<Formula> depth = {}, count = {}, step = {}, tilt = {};
};

// [corner.NAME] of, at = "start +y" | "end -y" | "both" ..., radius (rounded, in the broad face) or
// clip = "1" (cut off at 45 degrees)
struct CornerDecl {
  Name name = {};
  std::vector<Name> of = {};
  std::vector<Name> at = {};
  std::optional<Formula> radius = {}, clip = {};
};

// Copies. [mirror.N] of, across = "x" | "y" | "z" | "PLANE". [repeat.N] of, count, step = [x, y, z]
// (count includes the original). [turn.N] of, count, about = "z" (axis direction), at = point,
// angle (none: a full turn shared out). [fill.N] of (one board), along = direction, from, to
// (offsets along it, where the first and last board's outer faces come), gap = { from = "1/4", to =
// "1/2" } or count. Each: names = ["leg-b"] for the copies, in order (none: "N/leg-a", or
// "N/slat/2" where there are many), joints = false to leave joints uncopied.
struct MirrorDecl {
  Name across = {};
};
struct RepeatDecl {
  Formula count = {};
  Formula3 step = {};
};
struct TurnDecl {
  Formula count = {};
  Direction about = {};
  std::optional<PointRef> at = {};
  std::optional<Formula> angle = {};
};
struct FillDecl {
  Direction along = {};
  Formula from = {}, to = {};
  std::optional<Formula> gap_from = {}, gap_to = {}, count = {};
};
struct CopyDecl {
  Name name = {};
  std::vector<Name> of = {};  // boards, patterns with *, groups (another copy's name: all it made)
  std::variant<MirrorDecl, RepeatDecl, TurnDecl, FillDecl> how = {};
  std::vector<Name> names = {};
  bool with_joints = true;
};

enum class JointKind : std::uint8_t {
  butt,
  mitre,
  half_lap,
  notch,
  housing,
  rabbet,
  groove,
  bridle,
  tenon,
  dowel,
  pocket_screw,
  toe_nail,
  screw,
  glue
};

// [joint.NAME] kind, of = ["a", "b"] (patterns make one joint for each pair that meets), and by
// kind:
//   half-lap   depth (what a gives; none: half), over = "a" | "b" (which keeps its show face)
//   notch      a gives way to b; depth (none: all of b that lies in a)
//   housing    b's end sits in a: depth, stop = "1/2" (housing stops short of the front edge)
//   rabbet     a gives way to b along its edge or end; or of one board: edge, face, width, depth
//   groove     a gives way to b's edge; or of one board: face, offset (read into `across`), width,
//   depth,
//              starts, ends
//   bridle     thick (of the tongue; none: a third), a has the slot, b the tongue
//   tenon      b's end in a: long (read into `length`), wide, thick, offset = [across, through]
//   dowel      diameter, long, count, inset
//   screw, pocket-screw, toe-nail: must say `fasten`
// and on all: fasten = "screw-8x1-1/4", count, inset, from = "a" | "b" (the board that the fastener
// goes in through), ease (slack on each mating pair), glue = "pva", note, step (order of assembly)
// `width` is read into `wide`. `of` has two entries, or one for a rabbet or groove in one board.
struct JointDecl {
  Name name = {};
  JointKind kind = JointKind::butt;
  Span kind_at = {};
  std::vector<Name> of = {};
  std::optional<Formula> ease = {}, depth = {}, stop = {}, wide = {}, thick = {}, length = {},
                         diameter = {}, inset = {}, starts = {}, ends = {}, across = {}, count = {},
                         step = {};
  std::optional<Formula2> offset = {};
  std::optional<Name> over = {}, edge = {}, face = {}, fasten = {}, from = {}, glue = {};
  std::string note = {};
};

// [load.NAME] on = [...], kind = "people" | "soil" | "point" | "pull" | "snow" |
// "wind" | "even", each, note
struct LoadDecl {
  Name name = {};
  std::vector<Name> on = {};
  Name kind = {};
  std::optional<Formula> each = {};
  std::string note = {};
};

// [step.NAME] title, text, note: what the plan book says of a step of the assembly; NAME is the
// board or group that the step puts on first. `text` replaces the book's own words, `note` is said
// behind them.
struct StepDecl {
  Name name = {};
  std::string title = {}, text = {}, note = {};
};

// [book] finish (a finish of the catalogue), care: what the plan book says at its end.
struct BookDecl {
  std::optional<Name> finish = {};
  std::string care = {};
};

// [use.NAME] assembly, at = point, turn = "90 deg", about = "z" (which is what none means), mirror
// = "x", with = { NAME = "formula" }
struct UseDecl {
  Name name = {};
  Name assembly = {};
  std::optional<PointRef> at = {};
  std::optional<Formula> turn = {};
  std::optional<Name> about = {}, mirror = {};
  std::vector<DerivedDecl> with = {};
};

// [climate] named = "outdoors", or humidity = [dry season, damp season] in percent with celsius or
// fahrenheit; moisture of the wood when it is put together, percent.
struct ClimateDecl {
  std::optional<Name> named = {};
  std::optional<Formula2> humidity = {}, celsius = {}, fahrenheit = {};
  std::optional<Formula> moisture = {};
  Span at = {};
};

// What may stand in the file and, under [assembly.NAME...], in an assembly. Order as in the text.
struct Scope {
  std::vector<DerivedDecl> derived = {};
  std::vector<PointDecl> points = {};
  std::vector<PlaneDecl> planes = {};
  std::vector<BoardDecl> boards = {};
  std::vector<PanelDecl> panels = {};
  std::vector<CutDecl> cuts = {};
  std::vector<HoleDecl> holes = {};
  std::vector<CornerDecl> corners = {};
  std::vector<CopyDecl> copies = {};
  std::vector<JointDecl> joints = {};
  std::vector<UseDecl> uses = {};
};

struct AssemblyDecl {
  Name name = {};
  Scope scope = {};
};

struct Document {
  std::string title = {};  // `piece`
  LengthUnit unit = LengthUnit::inch;
  Formula rule = {};  // empty: 1/16 in or 1 mm
  std::string author = {}, licence = {}, note = {}, currency = {};
  std::vector<std::string> tags = {};
  std::optional<Formula> kerf = {}, trim = {},
                         offcut = {};  // [saw] kerf, trim, offcut (shortest kept)
  std::vector<SizeDecl> sizes = {};
  std::vector<StockDecl> stocks = {};
  std::vector<AssemblyDecl> assemblies = {};
  std::vector<LoadDecl> loads = {};
  std::vector<StepDecl> steps = {};
  BookDecl book = {};
  std::optional<ClimateDecl> climate = {};
  Scope top = {};
};

// Limits on a stranger's file; past one is piece.too-large, piece.too-many or piece.too-deep.
inline constexpr std::size_t most_bytes = 1'000'000;
inline constexpr std::size_t most_declarations = 5'000;  // tables of the file, all kinds together
inline constexpr std::size_t most_boards = 2'000;        // after copies and uses
inline constexpr std::size_t most_joints = 10'000;       // after copies and patterns
inline constexpr int deepest_assembly = 8;
inline constexpr int deepest_nesting =
    32;  // lists and tables inside one another; parts of a dotted key

// Reads a piece file. Never fails: gives what was understood and everything wrong with it. Syntax
// faults of TOML stop at the first (piece.syntax); faults of meaning are all gathered.
[[nodiscard]] Reading<Document> read_piece(const Text& text);

}  // namespace kw
