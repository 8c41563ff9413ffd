// Outlines: what is left of the rectangle after the planes and hollows must be as large as the
// outline.
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <random>

#include "resolving.h"

namespace kw {
namespace {

using namespace testing_piece;

// The area of {rectangle, within every plane, in no hollow}, by slabs: between two heights at which
// nothing changes order, the width grows evenly, so the width in the middle times the height is
// exact.
class Slabs {
 public:
  explicit Slabs(const ResolvedBoard& board) : board_(board) {
    const double w = board.section.width.in_mm() / 2;
    box_ = {{board.from_x, -w}, {board.to_x, -w}, {board.to_x, w}, {board.from_x, w}};
  }

  double area() {
    gather_heights();
    std::sort(heights_.begin(), heights_.end());
    double area = 0;
    for (std::size_t i = 0; i + 1 < heights_.size(); ++i) {
      const double low = heights_[i], high = heights_[i + 1];
      if (high > low) area += (high - low) * width_at((low + high) / 2);
    }
    return area;
  }

 private:
  struct Segment {
    Vec2 a = {}, b = {};
  };

  void gather_heights() {
    std::vector<Segment> segments;
    const auto add_loop = [&](const std::vector<Vec2>& loop) {
      for (std::size_t i = 0; i < loop.size(); ++i)
        segments.push_back({loop[i], loop[(i + 1) % loop.size()]});
    };
    add_loop(box_);
    for (const Hollow& hollow : board_.hollows) add_loop(hollow.points);
    for (const PlaneCut& cut : board_.cuts) {
      const Vec2 n = {cut.plane.normal.x, cut.plane.normal.y};
      const Vec2 foot = n * cut.plane.offset, along = {-n.y, n.x};
      segments.push_back({foot - along * 1e4, foot + along * 1e4});
    }
    for (std::size_t i = 0; i < segments.size(); ++i) {
      heights_.push_back(segments[i].a.y);
      heights_.push_back(segments[i].b.y);
      for (std::size_t k = 0; k < i; ++k) add_crossing(segments[i], segments[k]);
    }
    const auto [low, high] = std::pair{box_[0].y, box_[2].y};
    std::erase_if(heights_, [&, low = low, high = high](double y) { return y < low || y > high; });
  }

  void add_crossing(const Segment& s, const Segment& t) {
    const Vec2 u = s.b - s.a, v = t.b - t.a;
    const double area = cross(u, v);
    if (std::abs(area) < 1e-12) return;
    heights_.push_back((s.a + u * (cross(t.a - s.a, v) / area)).y);
  }

  double width_at(double y) const {
    double from = board_.from_x, to = board_.to_x;
    for (const PlaneCut& cut : board_.cuts) {
      const Vec3 n = cut.plane.normal;
      const double rest = cut.plane.offset - n.y * y;
      if (std::abs(n.x) < 1e-12) {
        if (rest < 0) return 0;
      } else if (n.x > 0) {
        to = std::min(to, rest / n.x);
      } else {
        from = std::max(from, rest / n.x);
      }
    }
    if (from >= to) return 0;
    std::vector<std::pair<double, double>> gone;
    for (const Hollow& hollow : board_.hollows) add_gone(hollow.points, y, from, to, gone);
    std::sort(gone.begin(), gone.end());
    double width = to - from, reached = from;
    for (const auto& [a, b] : gone) {
      if (b <= reached) continue;
      width -= b - std::max(a, reached);
      reached = b;
    }
    return width;
  }

  static void add_gone(const std::vector<Vec2>& loop, double y, double from, double to,
                       std::vector<std::pair<double, double>>& into) {
    double low = 1e9, high = -1e9;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      if ((a.y < y) == (b.y < y)) continue;
      const double x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
      low = std::min(low, x);
      high = std::max(high, x);
    }
    low = std::max(low, from);
    high = std::min(high, to);
    if (high > low) into.emplace_back(low, high);
  }

  const ResolvedBoard& board_;
  std::vector<Vec2> box_ = {};
  std::vector<double> heights_ = {};
};

bool is_convex(const Hollow& hollow) {
  const std::size_t n = hollow.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 a = hollow.points[i], b = hollow.points[(i + 1) % n], c = hollow.points[(i + 2) % n];
    if (cross(b - a, c - b) < -1e-7 * norm(b - a) * norm(c - b)) return false;
  }
  return true;
}

std::string panel(const std::string& outline, int length, double width) {
  return fmt::format(R"toml(
[stock.sheet]
section = ["19 mm", "2000 mm"]
sheet = "4000 mm"
[panel.p]
stock = "sheet"
at = ["0", "0", "0"]
along = "x"
length = {}
width = "{} mm"
face = "up"
outline = {}
)toml",
                     length, width, outline);
}

// Without the ends, which are planes too.
void expect_area(const std::string& text, double area) {
  const Resolved piece = sound(text, "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  for (const Hollow& hollow : board.hollows) {
    EXPECT_TRUE(is_convex(hollow));
    EXPECT_EQ(hollow.points.size(), hollow.curves.size());
  }
  EXPECT_NEAR(Slabs(board).area() / area, 1, 1e-9);
}

TEST(Outline, ARectangleWithinThePanelIsFourSquareCuts) {
  const Resolved piece =
      sound(panel("[[10, -50], [310, -50], [310, 40], [10, 40]]", 400, 120), "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  EXPECT_EQ(board.from_x, 10);
  EXPECT_EQ(board.to_x, 310);
  ASSERT_EQ(board.cuts.size(), 4U);  // two ends, two edges
  EXPECT_EQ(board.cuts[2].source, CutSource::outline);
  EXPECT_TRUE(board.hollows.empty());
  expect_area(panel("[[10, -50], [310, -50], [310, 40], [10, 40]]", 400, 120), 300 * 90);
}

TEST(Outline, OneThatFillsThePanelCutsNothing) {
  const Resolved piece = sound(panel("[[0, -60], [400, -60], [400, 60], [0, 60]]", 400, 120), "mm");
  EXPECT_EQ(board_of(piece, "p").cuts.size(), 2U);
}

TEST(Outline, ATriangleEitherWayRound) {
  expect_area(panel("[[0, -50], [300, -50], [150, 50]]", 300, 120), 15000);
  expect_area(panel("[[0, -50], [150, 50], [300, -50]]", 300, 120), 15000);
}

TEST(Outline, ACircleOfTwoArcs) {
  const double r = 100;
  expect_area(
      panel("[{ to = [0, 0], through = [100, 100] }, { to = [200, 0], through = [100, -100] }]",
            200, 200),
      std::numbers::pi * r * r);
  const Resolved piece = sound(
      panel("[{ to = [0, 0], through = [100, 100] }, { to = [200, 0], through = [100, -100] }]",
            200, 200),
      "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  ASSERT_EQ(board.curves.size(), 2U);
  EXPECT_NEAR(board.curves[0].radius, r, 1e-9);
  EXPECT_FALSE(board.curves[0].is_hollow);
  EXPECT_NEAR(board.curves[0].centre.x, 100, 1e-9);
}

TEST(Outline, AnArcByRadiusIsTheShorterOneToItsSide) {
  // Chord 100, radius 130: the segment's area by its own formula, added on the right, taken on the
  // left.
  const double half = std::asin(50.0 / 130),
               segment = 130 * 130 * (half - std::sin(half) * std::cos(half));
  const std::string outline =
      "[[0, -50], [100, -50], {{ to = [100, 50], radius = 130, turn = \"{}\" }}, [0, 50]]";
  expect_area(panel(fmt::format(fmt::runtime(outline), "left"), 120, 120), 100 * 100 + segment);
  expect_area(panel(fmt::format(fmt::runtime(outline), "right"), 120, 120), 100 * 100 - segment);
}

TEST(Outline, AnArcThroughMoreThanHalfATurn) {
  // A circle of radius 50 about (100, 0) with the cap beyond x = 130 left out.
  const double half = std::acos(0.6), cap = 2500 * (half - std::sin(half) * std::cos(half));
  expect_area(panel("[[130, 40], { to = [130, -40], through = [50, 0] }]", 200, 120),
              std::numbers::pi * 2500 - cap);
}

TEST(Outline, ANotchInAnEdgeIsAHollowWithItsSidesMarked) {
  const std::string text = panel(
      "[[0, -50], [300, -50], [300, 50], [200, 50], [200, 10], [100, 10], [100, 50], [0, 50]]", 300,
      100);
  expect_area(text, 300 * 100 - 100 * 40);
  const Resolved piece = sound(text, "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  ASSERT_EQ(board.hollows.size(), 1U);
  EXPECT_EQ(std::count(board.hollows[0].curves.begin(), board.hollows[0].curves.end(), -1), 3);
  EXPECT_EQ(board.cuts.size(), 2U);
}

TEST(Outline, ANotchBelowTheRectanglesEdgeLeavesNoSkin) {
  expect_area(
      panel(
          "[[0, -50], [300, -50], [280, 30], [200, 40], [180, 10], [100, 10], [100, 45], [0, 20]]",
          300, 120),
      // the shoelace formula, by hand
      [] {
        const Vec2 p[] = {{0, -50},  {300, -50}, {280, 30}, {200, 40},
                          {180, 10}, {100, 10},  {100, 45}, {0, 20}};
        double area = 0;
        for (std::size_t i = 0; i < 8; ++i) area += cross(p[i], p[(i + 1) % 8]) / 2;
        return area;
      }());
}

TEST(Outline, AConcaveArcIsOneHollowAndSaysSo) {
  const double r = 125;  // chord 200, rise 50: r = (100^2 + 50^2) / (2 * 50)
  const double half = std::asin(100 / r),
               segment = r * r * (half - std::sin(half) * std::cos(half));
  const std::string text = panel(
      "[[0, -60], [300, -60], [300, 60], [250, 60], { to = [50, 60], through = [150, 10] }, [0, "
      "60]]",
      300, 120);
  expect_area(text, 300 * 120 - segment);
  const Resolved piece = sound(text, "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  ASSERT_EQ(board.hollows.size(), 1U);
  ASSERT_EQ(board.curves.size(), 1U);
  EXPECT_TRUE(board.curves[0].is_hollow);
  EXPECT_NEAR(board.curves[0].radius, r, 1e-9);
}

TEST(Outline, KeyholePocketsAndBumpsWithinThem) {
  // A dovetail-shaped pocket, wider inside, with a rounded bump on its floor.
  const double bump = std::numbers::pi * 400 / 2;
  expect_area(panel("[[0, -80], [300, -80], [300, 80], [180, 80], [220, 0], [170, 0], "
                    "{ to = [130, 0], through = [150, 20] }, [80, 0], [120, 80], [0, 80]]",
                    300, 160),
              300 * 160 - (140 + 60) / 2.0 * 80 + bump);
}

// A star with random radii: all of its points in order of angle, so no side crosses another.
std::string random_star(std::mt19937& random, std::vector<Vec2>& points) {
  std::uniform_real_distribution<double> radius(20, 95);
  const int n = 5 + static_cast<int>(random() % 20);
  std::string outline = "[";
  for (int i = 0; i < n; ++i) {
    const double r = radius(random), turn = 2 * std::numbers::pi * i / n;
    const double x = std::round((100 + r * std::cos(turn)) * 1000) / 1000,
                 y = std::round(r * std::sin(turn) * 1000) / 1000;
    points.push_back({x, y});
    outline += fmt::format("{}[\"{:.3f}\", \"{:.3f}\"]", i > 0 ? ", " : "", x, y);
  }
  return outline + "]";
}

TEST(Outline, RandomStarsKeepTheirArea) {
  for (unsigned seed = 0; seed < 300; ++seed) {
    SCOPED_TRACE(seed);
    std::mt19937 random(seed);
    std::vector<Vec2> points;
    const std::string outline = random_star(random, points);
    double area = 0;
    for (std::size_t i = 0; i < points.size(); ++i)
      area += cross(points[i], points[(i + 1) % points.size()]) / 2;
    expect_area(panel(outline, 200, 200), area);
  }
}

TEST(Outline, FacetsStayWithinTheTrueBoxAndNearTheTrueArc) {
  const Resolved piece = sound(
      panel("[{ to = [0, 0], through = [300, 300] }, { to = [600, 0], through = [300, -300] }]",
            600, 600),
      "mm");
  const ResolvedBoard& board = board_of(piece, "p");
  EXPECT_EQ(board.from_x, 0);
  EXPECT_EQ(board.to_x, 600);
  int facets = 0;
  for (const PlaneCut& cut : board.cuts) {
    if (cut.source != CutSource::outline) continue;
    ++facets;
    // A facet's distance from the centre is the radius less its sagitta; the ends stand out as
    // much.
    const double from_centre = cut.plane.offset - cut.plane.normal.x * 300;
    EXPECT_NEAR(from_centre, 300, 0.08);
  }
  EXPECT_GE(facets, 64);
  EXPECT_LE(facets, 2 * 98);
}

}  // namespace
}  // namespace kw
