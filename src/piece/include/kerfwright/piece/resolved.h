// A piece worked out: every board in its place with numbers, every joint with the boards it joins.
// Geometry is in millimetres; the frame of a board has x along the grain from start to end, y
// across the width, z through the thickness, its origin on the board's middle line.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/measure/money.h"
#include "kerfwright/measure/vector.h"
#include "kerfwright/piece/document.h"

namespace kw {

struct Offer {
  Length length = {};
  std::optional<Money> price = {};
  int count = 0;  // `have` only
};

struct ResolvedStock {
  std::string name = {};
  std::string sold_as = {};  // "2x4", or "38 mm x 89 mm" for a section of one's own
  Section bought = {};       // as it comes: dressed, or `actual`
  Section used = {};         // after ripping
  bool is_sheet = false;
  bool is_green = false;     // sold green: it dries after it is bought
  bool is_measured = false;  // `actual`: the section was measured, not looked up
  Length sheet_length = {};
  std::string species = {};  // the catalogue's name, "" when not said
  std::string grade = {};    // of strength, "" when not said
  std::optional<Density> density = {};
  std::vector<Offer> buy = {};
  bool has_common_lengths = false;  // `buy` was filled in from the catalogue
  std::vector<Offer> have = {};
  std::optional<NominalSize> nominal = {};
  Span at = {};
};

// Which cut a plane comes from.
enum class CutSource : std::uint8_t { start, end, free, taper, outline, corner };

// The wood is where plane.distance(p) <= 0, in the board's frame.
struct PlaneCut {
  Plane plane = {};
  CutSource source = CutSource::free;
  std::string name = {};  // of the [cut] or [corner], "" for ends
  int curve = -1;         // facets of one rounding share a number; -1 for a flat cut
  Span at = {};
};

// A curved edge of an outline or a rounded corner, through the full thickness: exact circle.
struct Curve {
  Vec2 centre = {};  // in the board's x, y
  double radius = 0;
  bool is_hollow = false;  // the wood lies outside the circle
};

// A convex polygon in the board's x, y, sawn away through the full thickness: the hollow parts of
// an outline. `curves[i]` is the curve of the side from point i to i+1, -1 when it is straight, -2
// when the side is not an edge of the outline (it borders on another polygon sawn away).
struct Hollow {
  std::vector<Vec2> points = {};  // counter-clockwise
  std::vector<int> curves = {};
};

struct ResolvedHole {
  std::string name = {};
  Vec3 mouth = {};      // centre where the bit enters, board's frame
  Vec3 direction = {};  // unit, into the wood
  double diameter = 0;
  double depth = 0;  // along the axis, to the end of the full diameter; large when right through
  bool is_through = false;
  int joint = -1;  // index of the joint that asked for it
};

struct ResolvedBoard {
  std::string id = {};
  std::string made_from = {};  // id of the declaration it is, or is a copy of
  int stock = 0;               // index into Resolved::stocks
  Section section = {};        // used.thickness; for a panel the glued-up width
  int strips = 1;              // boards glued edge to edge
  Frame frame = {};
  double from_x = 0, to_x = 0;      // the stick before its end cuts: long enough for every end cut
  std::vector<PlaneCut> cuts = {};  // first start, then end, then the others
  std::vector<Hollow> hollows = {};
  std::vector<Curve> curves = {};
  std::vector<ResolvedHole> holes = {};
  bool is_mirrored = false;  // an odd number of mirrors from the declaration
  std::string show = {};     // "", "+z", "-z", "+y", "-y"
  std::string group = {};    // name of the [use] path it stands in, "" at the top
  std::string note = {};
  Span at = {};  // of the declaration
};

// A joint between boards `a` and `b` (b == -1: in one board only). Numbers in mm; empty: by rule.
struct ResolvedJoint {
  std::string id = {};
  JointKind kind = JointKind::butt;
  int a = -1, b = -1;
  double ease = 0;
  std::optional<double> depth = {}, stop = {}, wide = {}, thick = {}, length = {}, diameter = {},
                        inset = {}, starts = {}, ends = {}, across = {};
  std::optional<std::array<double, 2>> offset = {};
  bool a_is_over = true;  // half-lap: a keeps its +z half
  std::string edge = {}, face = {};
  // The catalogue's name, "" when none; a kind ("deck screw") where it is chosen by rule
  // (settle_fasteners of solid).
  std::string fastener = {};
  std::string from = {};  // "a" or "b": the board that the fastener goes in through; "" by rule
  std::optional<int> count = {};
  std::string glue = {};
  int step = 0;  // order of assembly, 0 when not said
  std::string note = {};
  Span at = {};
};

struct NamedValue {
  std::string name = {};
  Value value = {};
  std::optional<Value> from = {}, to = {};
  std::string note = {};
  Span at = {};
};

struct ResolvedLoad {
  std::string name = {};
  std::string kind = {};
  std::vector<int> on = {};
  Value each = {};
  std::string note = {};
};

// Where the piece lives, as the file says it; what it does not say is empty.
struct ResolvedClimate {
  std::string named = {};  // "indoors", "heated", "outdoors", "damp"
  // In the dry season, in the damp one: percent, degrees.
  std::optional<std::array<double, 2>> humidity = {}, celsius = {};
  std::optional<double> moisture = {};  // of the wood when it is put together, percent
};

// Words of the file for a step of the assembly; empty: the book's own.
struct StepWords {
  std::string name = {}, title = {}, text = {}, note = {};
  Span at = {};
};

// A layout point or plane of the piece itself (not of its assemblies); empty where it could not be
// worked out.
struct ResolvedPoint {
  std::string name = {};
  std::optional<Vec3> at = {};
};
struct ResolvedPlane {
  std::string name = {};
  std::optional<Plane> plane = {};
};

struct Resolved {
  std::string title = {};
  std::string author = {}, licence = {}, note = {}, currency = {};
  std::vector<std::string> tags = {};
  LengthUnit unit = LengthUnit::inch;
  Length rule = {};
  Length kerf = {}, trim = {}, shortest_offcut = {};
  std::vector<NamedValue> sizes = {}, derived = {};
  std::vector<ResolvedPoint> points = {};
  std::vector<ResolvedPlane> planes = {};
  std::vector<ResolvedStock> stocks = {};
  std::vector<ResolvedBoard> boards = {};
  std::vector<ResolvedJoint> joints = {};
  std::vector<ResolvedLoad> loads = {};
  std::vector<StepWords> steps = {};
  ResolvedClimate climate = {};
  std::string finish = {}, care = {};  // of the catalogue's finish; what the file says of care
};

// A size given another value for this run: the name and a formula ("32 1/2", "810 mm").
struct Override {
  std::string name = {};
  std::string formula = {};
};

// Works a document out. Boards that could not be understood are left out, with their diagnostics; a
// fault is told once, where it stands, not again wherever it is used. Overrides out of range or of
// unknown name are errors with no place in the text (span {0, 0}).
[[nodiscard]] Reading<Resolved> resolve(const Document& document, const Catalogue& catalogue,
                                        const std::vector<Override>& overrides = {});

}  // namespace kw
