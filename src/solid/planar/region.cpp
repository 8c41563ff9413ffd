#include "region.h"

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "box.h"
#include "films.h"

namespace kw {
namespace {

// A half-plane's border through an edge of a loop: distance > 0 on the outer side.
Plane border_of(Vec3 a, Vec3 b, Vec3 normal) {
  const Vec3 out = unit(cross(b - a, normal));
  return {out, dot(out, a)};
}

std::vector<Plane> borders_of(const Loop& convex, Vec3 normal) {
  std::vector<Plane> borders;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    borders.push_back(border_of(convex[i], convex[(i + 1) % convex.size()], normal));
  }
  return borders;
}

enum class Place { within, touching, crossing };

Place place_of(const Loop& cutout, const std::vector<Plane>& borders) {
  double highest = -Box::none;
  for (const Plane& border : borders) {
    for (const Vec3& p : cutout) highest = std::max(highest, border.distance(p));
  }
  return highest < -on_line   ? Place::within
         : highest <= on_line ? Place::touching
                              : Place::crossing;
}

// For a cutout that touches the base's border and lies inside it: when each of its edges either
// runs along the border or goes right across from border to border, the rest falls into the convex
// pieces beyond those chords. False when some edge does neither.
bool split_by_chords(const Loop& base, const std::vector<Plane>& borders, const Loop& cutout,
                     Vec3 normal, std::vector<Loop>& pieces) {
  const auto is_on = [](const Plane& border, Vec3 p) {
    return std::abs(border.distance(p)) <= on_line;
  };
  ClipMemory memory;
  for (std::size_t i = 0; i < cutout.size(); ++i) {
    const Vec3 a = cutout[i], b = cutout[(i + 1) % cutout.size()];
    bool is_along = false, is_a_on = false, is_b_on = false;
    for (const Plane& border : borders) {
      const bool on_a = is_on(border, a), on_b = is_on(border, b);
      is_along = is_along || (on_a && on_b);
      is_a_on = is_a_on || on_a;
      is_b_on = is_b_on || on_b;
    }
    if (is_along) continue;
    if (!is_a_on || !is_b_on) return false;
    const Plane chord = border_of(a, b, normal);
    Loop piece = base;
    const Cut cut = clip(piece, {-chord.normal, -chord.offset}, memory);
    if (cut == Cut::through) pieces.push_back(std::move(piece));
  }
  return true;
}

// Clipper works on whole numbers. Loops are laid on a grid about their middle, as fine as its fast
// range (30 bits) allows; corners that come back unchanged are given their exact place again.
class Grid {
 public:
  Grid(const Box& box, Vec3 normal, Vec3 on) : view_(normal, on) {
    middle_ = view_.flat((box.low + box.high) * 0.5);
    const double reach = std::max(norm(box.high - box.low), 1e-3);
    scale_ = std::min(std::exp2(22), std::exp2(std::floor(std::log2(std::exp2(29) / reach))));
  }

  ClipperLib::Path laid(const Loop& loop) {
    ClipperLib::Path path;
    for (const Vec3& p : loop) {
      const Vec2 at = (view_.flat(p) - middle_) * scale_;
      path.emplace_back(std::llround(at.x), std::llround(at.y));
      known_.push_back({path.back(), p});
    }
    return path;
  }

  std::vector<Loop> taken_up(const ClipperLib::Paths& paths) {
    const auto is_before = [](const Known& a, const Known& b) {
      return a.cell.X != b.cell.X ? a.cell.X < b.cell.X : a.cell.Y < b.cell.Y;
    };
    std::stable_sort(known_.begin(), known_.end(), is_before);
    std::vector<Loop> loops;
    for (const ClipperLib::Path& path : paths) {
      Loop loop;
      for (const ClipperLib::IntPoint& cell : path) {
        const auto found =
            std::lower_bound(known_.begin(), known_.end(), Known{cell, {}}, is_before);
        const bool is_known = found != known_.end() && found->cell == cell;
        const Vec2 at = {static_cast<double>(cell.X), static_cast<double>(cell.Y)};
        loop.push_back(is_known ? found->point : view_.raised(at * (1 / scale_) + middle_));
      }
      tidy(loop);
      if (!loop.empty()) loops.push_back(std::move(loop));
    }
    return loops;
  }

 private:
  struct Known {
    ClipperLib::IntPoint cell;
    Vec3 point;
  };
  FlatView view_;
  Vec2 middle_ = {};
  double scale_ = 1;
  std::vector<Known> known_ = {};
};

std::vector<Loop> clipped(const std::vector<Loop>& subject, const std::vector<Loop>& clips,
                          ClipperLib::ClipType type, Vec3 normal) {
  Box box;
  for (const auto* loops : {&subject, &clips}) {
    for (const Loop& loop : *loops) {
      for (const Vec3& p : loop) box.take_in(p);
    }
  }
  Grid grid(box, normal, subject[0][0]);
  ClipperLib::Clipper clipper;
  for (const Loop& loop : subject) clipper.AddPath(grid.laid(loop), ClipperLib::ptSubject, true);
  for (const Loop& loop : clips) clipper.AddPath(grid.laid(loop), ClipperLib::ptClip, true);
  ClipperLib::Paths paths;
  clipper.Execute(type, paths, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  return without_films(grid.taken_up(paths), normal);
}

}  // namespace

std::vector<Loop> subtract(const Loop& base, std::vector<Loop> cutouts, Vec3 normal) {
  for (Loop& cutout : cutouts) tidy(cutout);
  std::erase_if(cutouts, [](const Loop& cutout) { return cutout.empty(); });
  if (cutouts.empty()) return {base};
  const std::vector<Plane> borders = borders_of(base, normal);
  const Box room = box_around(base);
  std::vector<Box> boxes;
  for (const Loop& cutout : cutouts) boxes.push_back(box_around(cutout));
  std::vector<Loop> holes, rest;
  Place worst = Place::within;
  for (std::size_t i = 0; i < cutouts.size(); ++i) {
    if (!boxes[i].is_near(room, 0)) continue;
    bool is_alone = true;
    for (std::size_t j = 0; j < cutouts.size() && is_alone; ++j) {
      is_alone = j == i || !boxes[i].is_near(boxes[j], on_line);
    }
    const Place place = place_of(cutouts[i], borders);
    if (is_alone && place == Place::within) {
      holes.emplace_back(cutouts[i].rbegin(), cutouts[i].rend());
    } else {
      rest.push_back(cutouts[i]);
      worst = std::max(worst, place);
    }
  }
  std::vector<Loop> left;
  if (rest.empty()) {
    left = {base};
  } else if (rest.size() != 1 || worst != Place::touching ||
             !split_by_chords(base, borders, rest[0], normal, left)) {
    left = clipped({base}, rest, ClipperLib::ctDifference, normal);
  }
  for (Loop& hole : holes) left.push_back(std::move(hole));
  return left;
}

std::vector<Loop> intersect(const std::vector<Loop>& a, const std::vector<Loop>& b, Vec3 normal) {
  return clipped(a, b, ClipperLib::ctIntersection, normal);
}

}  // namespace kw
