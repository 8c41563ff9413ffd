// Pieces drawn at random, good and bad: whatever the file says, what comes out is sound, and what
// is told has its place. Seeds are counted up and named when a case fails.
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <random>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;

class Draw {
 public:
  // Two of three are mild: most of what they say can be worked out.
  explicit Draw(unsigned seed) : random_(seed), is_wild_(seed % 3 == 0) {}

  int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
  bool one_in(int n) { return below(n) == 0; }
  bool is_bad() { return is_wild_ ? one_in(6) : one_in(200); }
  template <std::size_t N>
  std::string any(const char* const (&words)[N]) {
    return words[static_cast<std::size_t>(below(static_cast<int>(N)))];
  }

  std::string formula() {
    if (is_bad()) return any({"a-b", "b0.length", "1 / 0", "10 deg", "nothing", "-a * 2"});
    if (one_in(8)) return any({"a", "c - 1", "leg.width", "p.x + 3", "c / leg.thickness * 1 in"});
    return fmt::format("{} {}/8", 3 + below(24), below(8));
  }
  std::string point() {
    if (is_bad()) return "\"s\"";
    if (one_in(3)) return any({"\"p\"", "\"q\"", "\"r\""});
    return fmt::format("[\"{}\", \"{}\", \"{}\"]", formula(), formula(), formula());
  }
  std::string direction() {
    if (is_bad()) return any({"[\"0\", \"0\", \"0\"]", "\"sideways\""});
    return any({"\"x\"", "\"up\"", "\"front\"", "\"-y\"", "[\"1\", \"2\", \"3\"]",
                "{ from = \"p\", to = \"q\" }",
                "{ is = \"x\", turn = \"33 deg\", about = \"z\" }"});
  }
  std::string board() {
    if (is_bad()) return any({"m/b0", "r/b1/2", "b9", "r", "m", "u/b0", "u"});
    return any({"b0", "b1", "b2", "b3", "p0", "b*"});
  }
  std::string end() {
    switch (is_wild_ ? below(8) : one_in(2) ? 3 : 5) {
      case 0:
        return "\"floor\"";
      case 1:
        return "\"slope\"";
      case 2:
        return fmt::format("{{ mitre-with = \"{}\" }}", board());
      case 3:
        return fmt::format("{{ mitre = \"{} deg\", bevel = \"{} deg\" }}", below(60) - 30,
                           below(60) - 30);
      case 4:
        return fmt::format("{{ against = \"{}\", face = \"{}\" }}", any({"b0", "b3"}),
                           any({"+y", "-z", "end", "start"}));
      case 5:
        return "{ add = \"1/2\" }";
      default:
        return fmt::format("{{ against = \"{}\" }}", board());
    }
  }

  // Boards, panels, cuts and copies of one scope; `head` is "" or "assembly.g.".
  std::string scope(const std::string& head) {
    std::string text = fmt::format(
        "[{}point]\np = [\"0\", \"0\", \"0\"]\nq = [\"{}\", \"{}\", \"{}\"]\nr = [\"p.x + 12\", "
        "\"q.y\", \"{}\"]\n",
        head, formula(), formula(), formula(), formula());
    text += fmt::format("[{}plane.slope]\nat = {}\nfaces = {}\n", head, point(), direction());
    for (int i = 0; i < 4; ++i) text += board_decl(head, i);
    text += panel_decl(head);
    for (int i = below(4); i > 0; --i) text += taken_away(head, i);
    for (int i = below(4); i > 0; --i) text += copy(head, i);
    for (int i = below(4); i > 0; --i) text += joint(head, i);
    return text;
  }

  std::string piece() {
    std::string text =
        "[size.a]\nis = \"7 1/2\"\n[size.b]\nis = 3\nfrom = 2\nto = 5\n[derived]\nc = \"a * 2 + "
        "leg.thickness\"\n"
        "[stock.leg]\nsection = \"2x4\"\n[stock.slat]\nsection = \"1x6\"\nrip = \"5\"\n";
    text += scope("");
    if (one_in(2))
      text += scope("assembly.g.") +
              fmt::format("[use.u]\nassembly = \"g\"\nat = {}\nturn = \"{} deg\"\n{}", point(),
                          below(360), one_in(2) ? "mirror = \"y\"\n" : "");
    if (one_in(3))
      text += fmt::format("[load.l]\non = [\"{}\"]\nkind = \"people\"\neach = \"{}\"\n", board(),
                          is_bad() ? "3" : any({"100 lb", "80 kg"}));
    return text;
  }

 private:
  std::string board_decl(const std::string& head, int i) {
    std::string text = fmt::format("[{}board.b{}]\nstock = \"{}\"\n", head, i,
                                   is_bad() ? "oak" : any({"leg", "slat"}));
    text += one_in(2) ? fmt::format("runs = [{}, {}]\n", point(), point())
                      : fmt::format("at = {}\nalong = {}\nlength = \"{}\"\n", point(), direction(),
                                    formula());
    if (one_in(2))
      text += fmt::format("face = {}\n", is_wild_ ? direction() : "[\"0.3\", \"0.5\", \"0.9\"]");
    if (one_in(2)) text += fmt::format("start = {}\n", end());
    if (one_in(2)) text += fmt::format("end = {}\n", end());
    if (one_in(4)) text += "hold = [\"low\", \"high\"]\n";
    return text;
  }
  std::string panel_decl(const std::string& head) {
    std::string text = fmt::format(
        "[{}panel.p0]\nstock = \"slat\"\nat = {}\nalong = {}\nlength = 24\nstrips = {}\n", head,
        point(), direction(), 1 + below(3));
    if (one_in(2)) return text;
    text += "outline = [";
    // Once round a middle, now nearer and now further; wild ones go anywhere.
    for (int i = 0, n = 3 + below(6); i < n; ++i) {
      const double turn = 2 * std::numbers::pi * i / n, r = 1 + below(15) / 10.0;
      const std::string to = is_wild_
                                 ? fmt::format("[\"{}\", \"{}\"]", below(25), below(11) - 5)
                                 : fmt::format("[\"{:.3f}\", \"{:.3f}\"]",
                                               12 + 4 * r * std::cos(turn), r * std::sin(turn));
      const std::string radius = fmt::format("{}", (is_wild_ ? 1 : 20) + below(30));
      text += i > 0 && one_in(4)
                  ? fmt::format("{{ to = {}, radius = {}, turn = \"left\" }}, ", to, radius)
                  : to + ", ";
    }
    return text + "]\n";
  }
  std::string taken_away(const std::string& head, int i) {
    switch (below(4)) {
      case 0:
        return fmt::format("[{}cut.k{}]\nof = \"{}\"\nplane = \"slope\"\n", head, i, board());
      case 1:
        return fmt::format("[{}cut.k{}]\nof = \"{}\"\nedge = \"+y\"\nfrom = \"3\"\nto = \"{}\"\n",
                           head, i, board(), is_wild_ ? formula() : "2");
      case 2:
        return fmt::format(
            "[{}hole.k{}]\nof = \"{}\"\nface = \"{}\"\nalong = \"{}\"\ndiameter = \"1/2\"\n", head,
            i, board(), any({"+z", "-y", "end"}), is_wild_ ? formula() : "0.4");
      default:
        return fmt::format("[{}corner.k{}]\nof = \"{}\"\nat = \"{}\"\nradius = \"{}\"\n", head, i,
                           board(), any({"both", "start", "end +y"}), any({"1/2", "1", "3"}));
    }
  }
  std::string copy(const std::string& head, int i) {
    switch (below(4)) {
      case 0:
        return fmt::format("[{}mirror.{}]\nof = \"{}\"\nacross = \"{}\"\n", head,
                           i == 1 ? "m" : fmt::format("m{}", i), board(), any({"x", "slope", "y"}));
      case 1:
        return fmt::format("[{}repeat.{}]\nof = \"{}\"\ncount = {}\nstep = {}\n", head,
                           i == 1 ? "r" : fmt::format("r{}", i), board(), 1 + below(4),
                           "[\"6\", \"1\", \"0\"]");
      case 2:
        return fmt::format("[{}turn.t{}]\nof = \"{}\"\ncount = 3\nabout = {}\n", head, i, board(),
                           direction());
      default:
        return fmt::format(
            "[{}fill.f{}]\nof = \"{}\"\nalong = {}\nfrom = 0\nto = \"{}\"\ngap = {{ from = 0, "
            "to = \"20\" }}\n",
            head, i, board(), direction(), is_wild_ ? formula() : "100");
    }
  }
  std::string joint(const std::string& head, int i) {
    const std::string kind =
        any({"butt", "half-lap", "tenon", "housing", "bridle", "notch", "dowel", "mitre"});
    return fmt::format("[{}joint.j{}]\nkind = \"{}\"\nof = [\"{}\", \"{}\"]\n", head, i, kind,
                       is_wild_ ? board() : "*", is_wild_ ? board() : "*");
  }

  std::mt19937 random_;
  bool is_wild_;
};

void expect_unit(Vec3 v) {
  EXPECT_NEAR(norm(v), 1, 1e-9);
}

void expect_finite(std::initializer_list<double> values) {
  for (const double value : values) EXPECT_TRUE(std::isfinite(value)) << value;
}

void expect_sound(const ResolvedBoard& board) {
  SCOPED_TRACE(board.id);
  EXPECT_GT(board.section.width, Length());
  EXPECT_GT(board.section.thickness, Length());
  EXPECT_LT(board.from_x, board.to_x);
  expect_unit(board.frame.x);
  expect_near(cross(board.frame.x, board.frame.y), board.frame.z, 1e-9);
  expect_finite(
      {board.from_x, board.to_x, board.frame.origin.x, board.frame.origin.y, board.frame.origin.z});
  ASSERT_GE(board.cuts.size(), 2U);
  EXPECT_LT(board.cuts[0].plane.normal.x, 0);
  EXPECT_GT(board.cuts[1].plane.normal.x, 0);
  for (const PlaneCut& cut : board.cuts) {
    expect_unit(cut.plane.normal);
    expect_finite({cut.plane.offset});
    EXPECT_LT(cut.curve, static_cast<int>(board.curves.size()));
  }
  for (const Hollow& hollow : board.hollows) {
    ASSERT_EQ(hollow.points.size(), hollow.curves.size());
    EXPECT_GE(hollow.points.size(), 3U);
    for (const int curve : hollow.curves) EXPECT_LT(curve, static_cast<int>(board.curves.size()));
  }
  for (const ResolvedHole& hole : board.holes) {
    expect_unit(hole.direction);
    expect_finite({hole.mouth.x, hole.mouth.y, hole.mouth.z, hole.diameter, hole.depth});
  }
}

TEST(AnyPiece, ComesOutSoundWithEachFaultInItsPlace) {
  int with_boards = 0, with_joints = 0, without_faults = 0;
  for (unsigned seed = 0; seed < 3000; ++seed) {
    SCOPED_TRACE(seed);
    const Text text = whole_file(Draw(seed).piece());
    const Reading<Document> document = read_piece(text);
    if (has_errors(document.diagnostics)) continue;
    const Reading<Resolved> reading = resolve(document.value, built_in_catalogue());
    const Resolved& piece = reading.value;
    for (const Diagnostic& fault : reading.diagnostics) {
      EXPECT_LE(fault.at.begin, fault.at.end);
      EXPECT_LE(fault.at.end, text.content.size());
      EXPECT_FALSE(fault.at == Span{}) << fault.message;
      EXPECT_FALSE(fault.message.empty());
    }
    for (const ResolvedBoard& board : piece.boards) expect_sound(board);
    const auto boards = static_cast<int>(piece.boards.size());
    for (const ResolvedJoint& joint : piece.joints) {
      EXPECT_TRUE(joint.a >= 0 && joint.a < boards && joint.b >= -1 && joint.b < boards &&
                  joint.a != joint.b);
    }
    with_boards += boards > 1;
    with_joints += !piece.joints.empty();
    without_faults += !has_errors(reading.diagnostics);
    if (HasFailure()) {
      ADD_FAILURE() << text.content;
      return;
    }
  }
  // So that the draws try what they should.
  EXPECT_GT(with_boards, 1500);
  EXPECT_GT(with_joints, 150);
  EXPECT_GT(without_faults, 300);
}

TEST(AnyPiece, IsWorkedOutTheSameTwice) {
  for (unsigned seed = 0; seed < 200; ++seed) {
    const Text text = whole_file(Draw(seed).piece());
    const Reading<Document> document = read_piece(text);
    const auto one = resolve(document.value, built_in_catalogue()),
               two = resolve(document.value, built_in_catalogue());
    EXPECT_EQ(render(text, one.diagnostics), render(text, two.diagnostics));
    ASSERT_EQ(ids_of(one.value), ids_of(two.value));
    EXPECT_EQ(joints_of(one.value), joints_of(two.value));
  }
}

}  // namespace
}  // namespace kw
