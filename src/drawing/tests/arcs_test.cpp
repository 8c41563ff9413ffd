// Arcs of templates: cut, turned, made of cubic curves, and taken from views.
#include "arcs.h"

#include <cmath>
#include <gtest/gtest.h>
#include <numbers>
#include <rapidcheck/gtest.h>

#include "tiles.h"

namespace kw {
namespace {

constexpr double whole = 2 * std::numbers::pi;

double fraction(int from, int to) {
  return *rc::gen::inRange(from, to) / 1000.0;
}

Arc any_arc() {
  return {.pen = Pen::outline,
          .centre = {fraction(-50'000, 150'000), fraction(-50'000, 150'000)},
          .radius = fraction(1'000, 200'000),
          .from = fraction(-7'000, 7'000),
          .sweep = fraction(10, 6'283) * (*rc::gen::arbitrary<bool>() ? 1 : -1)};
}

RC_GTEST_PROP(Arcs, AsCubicCurvesStrayByLessThanATenMillionthOfTheRadius, ()) {
  const Arc arc = any_arc();
  for (const auto& [p0, p1, p2, p3] : beziers_of(arc)) {
    for (double t = 0; t <= 1; t += 1.0 / 64) {
      const double u = 1 - t;
      const Vec2 p =
          p0 * (u * u * u) + p1 * (3 * u * u * t) + p2 * (3 * u * t * t) + p3 * (t * t * t);
      RC_ASSERT(std::abs(norm(p - arc.centre) - arc.radius) < 1e-7 * arc.radius + 1e-12);
    }
  }
}

// Against points: what a window keeps of an arc is just the points that lie in it.
RC_GTEST_PROP(Arcs, AreCutToAWindow, ()) {
  const Arc arc = any_arc();
  const Rect window{{0, 0}, {100, 80}};
  const auto inside = clipped(arc, window);
  double kept = 0;
  for (const Arc& part : inside) {
    kept += std::abs(part.sweep);
    for (const Vec2 p : sampled(part)) {
      RC_ASSERT(p.x > -1e-6 && p.x < 100 + 1e-6 && p.y > -1e-6 && p.y < 80 + 1e-6);
    }
  }
  constexpr int points = 4000;
  int counted = 0;
  for (int i = 0; i < points; ++i) {
    const double a = arc.from + arc.sweep * (i + 0.5) / points;
    const Vec2 p = arc.centre + Vec2{std::cos(a), std::sin(a)} * arc.radius;
    counted += p.x >= 0 && p.x <= 100 && p.y >= 0 && p.y <= 80 ? 1 : 0;
  }
  RC_ASSERT(std::abs(kept / std::abs(arc.sweep) - static_cast<double>(counted) / points) < 0.004);
}

TEST(Arcs, AreTurnedWithTheirSheet) {
  Sheet sheet{.width = 100, .height = 60};
  sheet.arcs.push_back({Pen::edge, {70, 20}, 10, 0.3, 1.1});
  sheet.strokes.push_back({Pen::edge, sampled(sheet.arcs[0]), false});
  const Sheet turned = quarter_turned(sheet);
  const auto points = sampled(turned.arcs[0]);
  for (std::size_t i = 0; i < points.size(); ++i)
    EXPECT_LT(norm(points[i] - turned.strokes[0].points[i]), 1e-9);
}

TEST(Arcs, AreArcsInSvg) {
  Sheet sheet{.width = 100, .height = 60};
  sheet.arcs = {{Pen::outline, {30, 30}, 10, 0, whole},
                {Pen::edge, {70, 20}, 10, 0, -whole * 0.75}};
  const std::string svg = to_svg(sheet);
  EXPECT_NE(svg.find("<circle class=\"outline\" cx=\"30\" cy=\"30\" r=\"10\"/>"),
            std::string::npos);
  EXPECT_NE(svg.find("d=\"M80 20A10 10 0 1 0 70 30\""), std::string::npos) << svg;
}

}  // namespace
}  // namespace kw
