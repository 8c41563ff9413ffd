// Private to drawing: the room that things on a sheet take, and finding free room for labels.
#pragma once

#include <array>
#include <vector>

#include "kerfwright/drawing/sheet.h"

namespace kw {

using Corners = std::array<Vec2, 4>;

struct Rect {
  Vec2 low = {1e300, 1e300}, high = {-1e300, -1e300};
  void add(Vec2 p);
  [[nodiscard]] bool holds(const Rect& inner) const;
  [[nodiscard]] bool is_near(const Rect& other, double apart) const;
};

// The turned box of a label's letters: as wide as its text, from the head of a digit to a little
// below the base line. On paper, y down.
[[nodiscard]] Corners box_of(const Label& label);
[[nodiscard]] Rect rect_of(const Corners& corners);

// How deep two convex figures lie in one another, mm (separating axes); below zero: how far they
// are apart at least.
[[nodiscard]] double depth_of(const Corners& a, const Corners& b);
[[nodiscard]] double depth_of(const Corners& box, Vec2 from, Vec2 to);

// What stands on a sheet, to be kept clear of.
class Room {
 public:
  explicit Room(const Sheet& sheet);  // with all that is on it now
  void add(const Stroke& stroke);
  void add(const Fill& fill);
  void add(const Label& label);
  void add(Vec2 from, Vec2 to);
  // Nothing nearer than `apart` mm.
  [[nodiscard]] bool is_free(const Label& label, double apart = 0.3) const;
  // No label nearer than `apart` mm; lines may cross.
  [[nodiscard]] bool is_free(Vec2 from, Vec2 to, double apart = 0.3) const;
  [[nodiscard]] bool crosses_line(Vec2 from, Vec2 to) const;

 private:
  struct Segment {
    Vec2 from = {}, to = {};
    Rect rect = {};
  };
  struct Box {
    Corners corners = {};
    Rect rect = {};
  };
  std::vector<Segment> segments_ = {};
  std::vector<Box> boxes_ = {};
};

// Puts the label at the first of `places` that is free, else at the last; and onto the sheet and
// into the room.
// Puts the label at the first of `places` that is free, or not at all; whether it did.
bool put_if_free(Sheet& sheet, Room& room, Label label, const std::vector<Vec2>& places,
                 double apart = 0.3);
void put_free(Sheet& sheet, Room& room, Label label, const std::vector<Vec2>& places,
              double apart = 0.3);

}  // namespace kw
