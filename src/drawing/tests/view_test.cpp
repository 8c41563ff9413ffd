// Hidden lines of random boards against a slow oracle: points along every line, tested by rays
// through the boards' boxes.
#include "kerfwright/drawing/view.h"

#include <cmath>
#include <gtest/gtest.h>
#include <random>

namespace kw {
namespace {

// An upright or turned box as a shape with its mesh, made by hand so that nothing below is trusted.
struct Block {
  Shape shape = {};
  Mesh mesh = {};
  Frame frame = {};
  Vec3 half = {};
};

Block block_of(Vec3 half, const Frame& frame) {
  Block b{.frame = frame, .half = half};
  const auto corner = [&](int i) {
    return Vec3{(i & 1) != 0 ? half.x : -half.x, (i & 2) != 0 ? half.y : -half.y,
                (i & 4) != 0 ? half.z : -half.z};
  };
  const int sides[6][4] = {{0, 4, 6, 2}, {1, 3, 7, 5}, {0, 1, 5, 4},
                           {2, 6, 7, 3}, {0, 2, 3, 1}, {4, 5, 7, 6}};
  for (int i = 0; i < 8; ++i) b.mesh.points.push_back(corner(i));
  for (int s = 0; s < 6; ++s) {
    Face face{.side = s};
    for (const int i : sides[s]) {
      if (face.loops.empty()) face.loops.emplace_back();
      face.loops[0].push_back(corner(i));
    }
    const auto& l = face.loops[0];
    face.plane.normal = unit(cross(l[1] - l[0], l[2] - l[0]));
    face.plane.offset = dot(face.plane.normal, l[0]);
    b.shape.faces.push_back(face);
    const auto u = [&](int k) { return static_cast<std::uint32_t>(sides[s][k]); };
    b.mesh.triangles.push_back({u(0), u(1), u(2)});
    b.mesh.triangles.push_back({u(0), u(2), u(3)});
    b.mesh.face_of.insert(b.mesh.face_of.end(), 2, s);
  }
  return b;
}

Frame turned(std::mt19937& random) {
  std::uniform_real_distribution<double> place(-60, 60), any(-1, 1);
  Frame f;
  f.origin = {place(random), place(random), place(random)};
  f.x = unit({any(random), any(random), any(random)});
  const Vec3 other = {any(random), any(random), any(random)};
  f.y = unit(cross(other, f.x));
  f.z = cross(f.x, f.y);
  return f;
}

// How far inside the block the ray from p towards the eye goes: above 0 the point is hidden by it.
double depth_of(const Block& b, Vec3 p, Vec3 towards) {
  const Vec3 o = b.frame.to_local(p);
  const Vec3 d = b.frame.direction_to_local(towards);
  double from = 0, to = 1e9;
  const double os[3] = {o.x, o.y, o.z}, ds[3] = {d.x, d.y, d.z},
               hs[3] = {b.half.x, b.half.y, b.half.z};
  for (int i = 0; i < 3; ++i) {
    if (std::abs(ds[i]) < 1e-12) {
      if (std::abs(os[i]) > hs[i]) return -1;
      continue;
    }
    const double a = (-hs[i] - os[i]) / ds[i];
    const double c = (hs[i] - os[i]) / ds[i];
    from = std::max(from, std::min(a, c));
    to = std::min(to, std::max(a, c));
  }
  return to - from;
}

// Whether a face is seen so nearly edge on that its two edges are drawn as one line on purpose.
bool is_edge_on(const Block& b, const Look& look) {
  const Vec2 spans[3] = {projected(look, b.frame.x) * (2 * b.half.x),
                         projected(look, b.frame.y) * (2 * b.half.y),
                         projected(look, b.frame.z) * (2 * b.half.z)};
  for (const auto& [along, across] : {std::pair{0, 1}, {0, 2}, {1, 0}, {1, 2}, {2, 0}, {2, 1}}) {
    if (std::abs(cross(spans[along], spans[across])) < 0.01 * norm(spans[along])) return true;
  }
  return false;
}

Block random_block(std::mt19937& random, const Look& look) {
  std::uniform_real_distribution<double> size(2, 40);
  for (;;) {
    const double x = size(random), y = size(random) / 4, z = size(random) / 8;
    Block block = block_of({x, y, z}, turned(random));
    if (!is_edge_on(block, look)) return block;
  }
}

double total_length(const View& view, Pen pen) {
  double sum = 0;
  for (const ViewLine& line : view.lines) sum += line.pen == pen ? norm(line.to - line.from) : 0;
  return sum;
}

TEST(HiddenLines, AgreeWithRaysOnRandomBoards) {
  std::mt19937 random(7);
  const Look look = isometric_look();
  const Vec3 towards = unit(look.towards);
  int checked = 0;
  for (int scene = 0; scene < 100; ++scene) {
    std::vector<Block> blocks;
    for (int i = 0; i < 8; ++i) blocks.push_back(random_block(random, look));
    std::vector<Shown> shown;
    for (const Block& b : blocks) shown.push_back({&b.shape, &b.mesh, b.frame});
    double expected_visible = 0;
    for (const Block& b : blocks) {
      for (int axis = 0; axis < 3; ++axis) {
        for (int k = 0; k < 4; ++k) {
          const double s = (k & 1) != 0 ? 1 : -1, t = (k & 2) != 0 ? 1 : -1;
          Vec3 p, q;
          if (axis == 0) {
            p = {-b.half.x, s * b.half.y, t * b.half.z};
            q = {b.half.x, s * b.half.y, t * b.half.z};
          }
          if (axis == 1) {
            p = {s * b.half.x, -b.half.y, t * b.half.z};
            q = {s * b.half.x, b.half.y, t * b.half.z};
          }
          if (axis == 2) {
            p = {s * b.half.x, t * b.half.y, -b.half.z};
            q = {s * b.half.x, t * b.half.y, b.half.z};
          }
          const int steps = 400;
          const double length =
              norm(projected(look, b.frame.to_world(q)) - projected(look, b.frame.to_world(p)));
          for (int i = 0; i < steps; ++i) {
            const Vec3 at = b.frame.to_world(p + (q - p) * ((i + 0.5) / steps));
            bool is_hidden = false;
            for (const Block& other : blocks)
              is_hidden |= depth_of(other, at + towards * 1e-4, towards) > 1e-3;
            if (!is_hidden) expected_visible += length / steps;
            ++checked;
          }
        }
      }
    }
    const View view = view_of(shown, look, true);
    const double visible = total_length(view, Pen::outline) + total_length(view, Pen::edge);
    EXPECT_NEAR(visible, expected_visible, 0.004 * expected_visible) << "scene " << scene;
  }
  EXPECT_GT(checked, 1'000'000);
}

TEST(HiddenLines, DrawCoincidentEdgesOnce) {
  Frame right;
  right.origin = {20, 0, 0};
  const Block a = block_of({10, 5, 5}, {});
  const Block b = block_of({10, 5, 5}, right);
  const View view =
      view_of({{&a.shape, &a.mesh, a.frame}, {&b.shape, &b.mesh, b.frame}}, front_look(), true);
  EXPECT_EQ(total_length(view, Pen::hidden), 0);
  EXPECT_NEAR(total_length(view, Pen::outline), 2 * 40 + 3 * 10, 1e-6);
}

// A block of 40 x 20 x 12 cut across z: its face, the hatching at 45 degrees that fills it, and
// only what lies behind the plane.
TEST(Section, OfABlockIsItsRectangleHatched) {
  Frame upright;
  const Block block = block_of({20, 10, 6}, upright);
  const std::vector<Shown> shown = {{&block.shape, &block.mesh, block.frame}};
  const SectionView section = section_of(shown, top_look(), {0, 0, 1.25});
  ASSERT_EQ(section.faces.size(), 1U);
  EXPECT_NEAR(section.faces[0].area, 800, 1e-9);
  ASSERT_EQ(section.faces[0].loops.size(), 1U);
  EXPECT_EQ(section.faces[0].loops[0].size(), 4U);
  EXPECT_NEAR(section.view.high.x - section.view.low.x, 40, 1e-9);
  for (const bool is_falling : {false, true}) {
    double length = 0;
    for (const ViewLine& line : hatching_of(section.faces[0], 0.5, is_falling)) {
      const Vec2 d = line.to - line.from;
      EXPECT_NEAR(std::abs(d.x), std::abs(d.y), 1e-9);
      EXPECT_EQ(d.x * d.y < 0, is_falling);
      EXPECT_EQ(line.pen, Pen::hatch);
      length += norm(d);
    }
    EXPECT_NEAR(length * 0.5, 800, 15);
  }
}

TEST(Section, BeyondABlockShowsAllOfItUncutAndBeforeItNothing) {
  const Block block = block_of({20, 10, 6}, Frame{});
  const std::vector<Shown> shown = {{&block.shape, &block.mesh, block.frame}};
  EXPECT_TRUE(section_of(shown, top_look(), {0, 0, 7}).faces.empty());
  EXPECT_FALSE(section_of(shown, top_look(), {0, 0, 7}).view.lines.empty());
  EXPECT_TRUE(section_of(shown, top_look(), {0, 0, -7}).view.lines.empty());
}

}  // namespace
}  // namespace kw
