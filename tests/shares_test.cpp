// The picture of shares: what is painted last is what is nearest to the eye, by casting rays; its
// tints keep their order in grey.
#include <cmath>
#include <gtest/gtest.h>
#include <limits>
#include <random>

#include "kerfwright/drawing/sheets.h"

#include "bench_piece.h"
#include "overlap.h"
#include "painted.h"
#include "starters.h"
#include "whole.h"

namespace kw {
namespace {

bool is_in(const std::vector<Vec2>& points, Vec2 p) {
  double turned = 0;  // winding, by angles
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[i] - p, b = points[(i + 1) % points.size()] - p;
    turned += std::atan2(cross(a, b), dot(a, b));
  }
  return std::abs(turned) > 3;
}

struct Triangle {
  Vec3 a = {}, to_b = {}, to_c = {};
  int body = 0;
};

std::vector<Triangle> triangles_of(const std::vector<Shown>& shown) {
  std::vector<Triangle> all;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    for (const auto& t : shown[i].mesh->triangles) {
      const auto corner = [&](std::size_t k) {
        return shown[i].frame.to_world(shown[i].mesh->points[t[k]]);
      };
      all.push_back({corner(0), corner(1) - corner(0), corner(2) - corner(0), static_cast<int>(i)});
    }
  }
  return all;
}

// The body that a ray through the point of the view meets first; -1: none. Moeller and Trumbore
// (1997).
int nearest(const std::vector<Triangle>& triangles, const Look& look, Vec2 p) {
  const Vec3 towards = unit(look.towards), right = unit(cross(look.up, towards)),
             up = cross(towards, right);
  const Vec3 from = right * p.x + up * p.y + towards * 1e5;
  double closest = std::numeric_limits<double>::max();
  int body = -1;
  for (const Triangle& t : triangles) {
    const Vec3 h = cross(-towards, t.to_c);
    const double turn = dot(t.to_b, h);
    if (std::abs(turn) < 1e-9) continue;
    const double u = dot(from - t.a, h) / turn;
    if (u < 0 || u > 1) continue;
    const Vec3 q = cross(from - t.a, t.to_b);
    const double v = dot(-towards, q) / turn, away = dot(t.to_c, q) / turn;
    if (v < 0 || u + v > 1 || away >= closest) continue;
    closest = away;
    body = t.body;
  }
  return body;
}

void expect_clear_shares(const Snapshot& piece) {
  std::vector<double> shares;
  for (std::size_t i = 0; i < piece.bodies.size(); ++i)
    shares.push_back(
        i == 0 ? -1 : 1.2 * static_cast<double>(i) / static_cast<double>(piece.bodies.size()));
  for (const double width : {120.0, 250.0}) {
    const Sheet sheet =
        shares_sheet(piece.bodies, shares, {.width = width, .tallest = width * 0.5});
    EXPECT_LE(sheet.height, width * 0.5 + 1e-9);
    for (const Overlap& o : overlaps_in(sheet))
      ADD_FAILURE() << width << ": " << o.what << " by " << o.depth << " mm";
  }
}

class Painted : public testing::TestWithParam<std::string> {};

TEST_P(Painted, LastIsWhatIsNearestAndNothingLiesOnAnything) {
  const Snapshot piece = test::made(test::starter(GetParam()).content);
  const ShownBodies scene = shown_bodies(piece.bodies);
  const Look look = isometric_look();
  const auto faces = painted_faces(scene.shown, look);
  const auto triangles = triangles_of(scene.shown);
  const View view = view_of(scene.shown, look, false);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> x(view.low.x, view.high.x), y(view.low.y, view.high.y);
  int wrong = 0, met = 0;
  for (int i = 0; i < 120; ++i) {
    const Vec2 p = {x(random), y(random)};
    int painted = -1;
    for (const PaintedFace& face : faces)
      if (is_in(face.points, p)) painted = face.body;
    const int judged = nearest(triangles, look, p);
    met += judged >= 0 ? 1 : 0;
    wrong += painted != judged ? 1 : 0;
  }
  EXPECT_GT(met, 15);
  EXPECT_LE(wrong, 1) << "of " << met;  // a ray may run along an edge
  expect_clear_shares(piece);
}

INSTANTIATE_TEST_SUITE_P(Starters, Painted, testing::ValuesIn(test::starters()), test::test_name);

// CIE 1976 L* of an sRGB tint (IEC 61966-2-1, CIE 15).
double lightness(const Tint& tint) {
  const auto linear = [](double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  const double y =
      0.2126 * linear(tint.red) + 0.7152 * linear(tint.green) + 0.0722 * linear(tint.blue);
  return 116 * std::cbrt(y) - 16;
}

// Ten of L* is told apart at a glance in grey; what differs in lightness does so for every eye.
TEST(ShareBands, GrowDarkerStepByStep) {
  const auto& bands = share_bands();
  for (std::size_t i = 0; i + 1 < bands.size(); ++i) {
    EXPECT_LT(bands[i].to, bands[i + 1].to);
    EXPECT_GT(lightness(bands[i].tint) - lightness(bands[i + 1].tint), 10) << i;
  }
  EXPECT_EQ(bands[3].to, 1);  // the limit
  EXPECT_EQ(lightness(tint_of_share(1)), lightness(bands[3].tint));
  EXPECT_EQ(lightness(tint_of_share(1.001)), lightness(bands[4].tint));
  EXPECT_EQ(lightness(tint_of_share(0)), lightness(bands[0].tint));
}

}  // namespace
}  // namespace kw
