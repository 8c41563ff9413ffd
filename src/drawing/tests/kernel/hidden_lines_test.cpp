// The views and sections of every starter against the exact hidden lines of the geometry kernel.
#include <algorithm>
#include <cmath>
#include <gtest/gtest.h>
#include <numeric>

#include "kernel_lines.h"
#include "section_plane.h"

namespace kw {
namespace {

using namespace test;

using Case = std::tuple<std::string, int>;

class KernelViews : public testing::TestWithParam<Case> {};

TEST_P(KernelViews, HaveTheSameLines) {
  const auto& [name, view] = GetParam();
  const std::array looks = {front_look(), side_look(), top_look(), isometric_look()};
  const Look look = looks.at(static_cast<std::size_t>(view));
  const Resolved piece = piece_of(name);
  const auto raw = lines_of_kernel(piece, look, false);
  const auto judge = lines_of_kernel(piece, look, true);
  const auto ours = without_weights(view_of(scene_of(piece).shown, look).lines);
  for (const bool seen : {true, false}) {
    const Pen pen = seen ? Pen::edge : Pen::hidden;
    if (seen) {
      EXPECT_GT(length_of(judge, pen), 100);
    }
    EXPECT_LE(alone(judge, ours, seen), 1e-3 * length_of(judge, pen)) << "missing, seen: " << seen;
    EXPECT_LE(alone(ours, raw, seen), 1e-3 * length_of(ours, pen)) << "too much, seen: " << seen;
  }
}

std::string case_name(const testing::TestParamInfo<Case>& one) {
  std::string name = std::get<0>(one.param);
  std::replace(name.begin(), name.end(), '-', '_');
  constexpr std::array words = {"front", "side", "top", "isometric"};
  return name + "_" + words.at(static_cast<std::size_t>(std::get<1>(one.param)));
}

// Cut in the middle each way, and where the book cuts it.
class KernelSections : public testing::TestWithParam<Case> {};

TEST_P(KernelSections, HaveTheSameFacesAndLines) {
  const auto& [name, view] = GetParam();
  const Resolved piece = piece_of(name);
  const Scene scene = scene_of(piece);
  Look look = std::array{front_look(), side_look(), top_look(), front_look()}.at(
      static_cast<std::size_t>(view));
  const View whole = view_of(scene.shown, side_look(), false);
  const View front = view_of(scene.shown, front_look(), false);
  // A little beside the middle: no face of a starter lies there.
  Vec3 through = {(front.low.x + front.high.x) / 2 + 0.37, (whole.low.x + whole.high.x) / 2 + 0.37,
                  (front.low.y + front.high.y) / 2 + 0.37};
  if (view == 3) {
    const auto best = cut_plane_of(scene.bodies);
    if (!best) GTEST_SKIP() << "nothing inside to show";
    look = best->look;
    through = best->through;
  }
  const Plane plane = {look.towards, dot(look.towards, through)};
  const SectionView section = section_of(scene.shown, look, through);
  const auto areas = cut_areas_of_kernel(piece, plane);
  double sum = 0;
  for (const CutFace& face : section.faces) {
    const double judged =
        areas[static_cast<std::size_t>(scene.bodies[static_cast<std::size_t>(face.body)].board)];
    EXPECT_NEAR(face.area, judged, 0.05 + 1e-3 * judged) << face.body;
    sum += face.area;
  }
  EXPECT_NEAR(sum, std::accumulate(areas.begin(), areas.end(), 0.0), 0.05 + 1e-3 * sum);
  const auto raw = lines_of_kernel(piece, look, false, plane);
  const auto judge = lines_of_kernel(piece, look, true, plane);
  const auto ours = without_weights(section.view.lines);
  for (const bool seen : {true, false}) {
    const Pen pen = seen ? Pen::edge : Pen::hidden;
    EXPECT_LE(alone(judge, ours, seen), 1e-3 * length_of(judge, pen)) << "missing, seen: " << seen;
    EXPECT_LE(alone(ours, raw, seen), 1e-3 * length_of(ours, pen)) << "too much, seen: " << seen;
  }
}

std::string cut_name(const testing::TestParamInfo<Case>& one) {
  std::string name = std::get<0>(one.param);
  std::replace(name.begin(), name.end(), '-', '_');
  constexpr std::array words = {"_across_y", "_across_x", "_across_z", "_as_in_the_book"};
  return name + words.at(static_cast<std::size_t>(std::get<1>(one.param)));
}

INSTANTIATE_TEST_SUITE_P(Starters, KernelSections,
                         testing::Combine(testing::ValuesIn(starters()), testing::Range(0, 4)),
                         cut_name);

INSTANTIATE_TEST_SUITE_P(Starters, KernelViews,
                         testing::Combine(testing::ValuesIn(starters()), testing::Range(0, 4)),
                         case_name);

}  // namespace
}  // namespace kw
