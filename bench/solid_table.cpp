// How long solids take on one core, in milliseconds of processor time: medians of several runs.
//
//   solid_table [BOARDS...]
//
// The model is a row of frames: two stiles with mitred ends and three dowel holes each, four rails
// in half-laps with a through hole at each end. "edit": all of it again through one ShapeCache
// after one rail in the middle got a hole ("hole"), or moved along its stiles by 1 mm ("move":
// three boards change).
#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <fmt/core.h>
#include <string>
#include <vector>

#include "kerfwright/solid/body.h"

#include "recipe.h"

namespace {

using namespace kw;

constexpr double width = 60, thickness = 30, height = 1200, span = 600;

ResolvedBoard stick(const std::string& id, double length, const Frame& frame) {
  ResolvedBoard board{.id = id};
  board.section = {Length::mm(thickness), Length::mm(width)};
  board.to_x = length;
  board.frame = frame;
  return board;
}

ResolvedHole hole(double x, double y, double diameter, double depth) {
  return {.mouth = {x, y, thickness / 2},
          .direction = {0, 0, -1},
          .diameter = diameter,
          .depth = depth,
          .is_through = depth > thickness};
}

PlaneCut end_cut(CutSource source, Vec3 normal, Vec3 through) {
  const Vec3 n = unit(normal);
  return {.plane = {n, dot(n, through)}, .source = source};
}

// Two stiles along z and four rails along x, which lie half their thickness before them.
void add_frame(Resolved& piece, int number, double shift) {
  const double left = number * (span + 200);
  const int first = static_cast<int>(piece.boards.size());
  const std::string name = std::to_string(number);
  for (int s = 0; s < 2; ++s) {
    const double x = left + s * span;
    auto stile = stick("stile-" + std::to_string(s) + "-" + name, height,
                       {{x, 0, 0}, {0, 0, 1}, {1, 0, 0}, {0, 1, 0}});
    stile.cuts = {end_cut(CutSource::start, {-1, 0.3, 0}, {20, 0, 0}),
                  end_cut(CutSource::end, {1, 0.5, 0.2}, {height - 30, 0, 0})};
    for (const double at : {60.0, 560.0, 1120.0}) stile.holes.push_back(hole(at, 10, 8, 16));
    piece.boards.push_back(std::move(stile));
  }
  for (int r = 0; r < 4; ++r) {
    const double z = 150 + 280 * r + (r == 1 ? shift : 0);
    auto rail = stick("rail-" + std::to_string(r) + "-" + name, span + 120,
                      {{left - 60, -thickness / 2, z}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}});
    rail.holes = {hole(20, 0, 6, 100), hole(span + 100, 0, 6, 100)};
    piece.boards.push_back(std::move(rail));
    for (int s = 0; s < 2; ++s) {
      ResolvedJoint lap{.id = "lap-" + std::to_string(4 * s + r) + "-" + name};
      lap.kind = JointKind::half_lap;
      lap.a = first + 2 + r;
      lap.b = first + s;
      piece.joints.push_back(std::move(lap));
    }
  }
}

Resolved model(int boards, double shift = 0) {
  Resolved piece;
  piece.stocks.push_back({.name = "stick"});
  const int frames = (boards + 5) / 6;
  for (int i = 0; i < frames; ++i) add_frame(piece, i, i == frames / 2 ? shift : 0);
  return piece;
}

template <class Work>
double median_ms(int runs, Work work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const std::clock_t start = std::clock();
    work(i);
    times.push_back(1e3 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::nth_element(times.begin(), times.begin() + runs / 2, times.end());
  return times[static_cast<std::size_t>(runs / 2)];
}

double edit_ms(int runs, const Resolved& piece, const Resolved& moved) {
  ShapeCache cache;
  return median_ms(runs, [&](int i) {
    const auto bodies = bodies_of(i % 2 == 0 ? piece : moved, cache).value;
    static_cast<void>(clashes_in(bodies, cache));
    static_cast<void>(contacts_in(bodies, 3, cache));
    static_cast<void>(meshes_of(bodies, cache));
  });
}

void row(int boards) {
  const Resolved piece = model(boards), moved = model(boards, 1);
  Resolved bored = piece;
  bored.boards[bored.boards.size() / 2 / 6 * 6 + 4].holes.push_back(hole(span / 2, 0, 10, 12));
  const int runs = std::clamp(6000 / boards, 5, 101);
  Diagnostics diagnostics;
  const std::vector<Recipe> recipes = recipes_of(piece, diagnostics);
  const auto bodies = bodies_of(piece).value;
  const double of_recipes =
      median_ms(runs, [&](int) { static_cast<void>(recipes_of(piece, diagnostics)); });
  const double of_shapes = median_ms(runs, [&](int) {
    for (const Recipe& recipe : recipes) static_cast<void>(shape_of(recipe));
  });
  const double of_clashes = median_ms(runs, [&](int) { static_cast<void>(clashes_in(bodies)); });
  const double of_contacts = median_ms(runs, [&](int) { static_cast<void>(contacts_in(bodies)); });
  const double of_meshes = median_ms(runs, [&](int) {
    for (const Body& body : bodies) static_cast<void>(mesh_of(*body.shape));
  });
  std::size_t faces = 0, triangles = 0;
  for (const Body& body : bodies) {
    faces += body.shape->faces.size();
    triangles += mesh_of(*body.shape)->triangles.size();
  }
  fmt::print(
      "{:>6} {:>7} {:>9} {:>8} {:>9} {:>8.2f} {:>7.2f} {:>8.2f} {:>9.2f} {:>7.2f} {:>6.2f} "
      "{:>6.2f}\n",
      bodies.size(), faces, triangles, clashes_in(bodies).size(), contacts_in(bodies).size(),
      of_recipes, of_shapes, of_clashes, of_contacts, of_meshes, edit_ms(runs, piece, bored),
      edit_ms(runs, piece, moved));
}

}  // namespace

int main(int count, char** words) {
  fmt::print(
      "boards   faces triangles  clashes  contacts  recipes  shapes  clashes  contacts  meshes   "
      "hole   move\n");
  if (count < 2) {
    for (const int boards : {6, 60, 240, 1000}) row(boards);
  }
  for (int i = 1; i < count; ++i) row(std::max(1, std::atoi(words[i])));
}
