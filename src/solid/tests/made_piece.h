// Pieces made up for tests, without a file: boards by numbers, joints by kind.
#pragma once

#include <cmath>
#include <string>

#include "kerfwright/piece/resolved.h"

namespace kw::test {

// thickness x width in mm, from x = 0 to `length` in its own frame.
inline ResolvedBoard board_of(const std::string& id, double thickness, double width, double length,
                              Frame frame = {}) {
  ResolvedBoard board;
  board.id = board.made_from = id;
  board.section = {Length::mm(thickness), Length::mm(width)};
  board.to_x = length;
  board.frame = frame;
  return board;
}

// A frame at a point with x and z along these directions.
inline Frame frame_at(Vec3 origin, Vec3 x, Vec3 z) {
  const Vec3 ux = unit(x), uz = unit(z - ux * dot(z, ux));
  return {origin, ux, cross(uz, ux), uz};
}

inline Vec3 turned(double degrees) {
  const double turn = degrees * 3.14159265358979323846 / 180;
  return {std::cos(turn), std::sin(turn), 0};
}

inline ResolvedJoint joint_of(JointKind kind, int a, int b) {
  ResolvedJoint joint;
  joint.id = "joint";
  joint.kind = kind;
  joint.a = a;
  joint.b = b;
  return joint;
}

inline Resolved piece_of(std::vector<ResolvedBoard> boards, std::vector<ResolvedJoint> joints) {
  Resolved piece;
  piece.title = "Test piece";
  piece.unit = LengthUnit::mm;
  piece.stocks.push_back({.name = "stick"});
  piece.boards = std::move(boards);
  piece.joints = std::move(joints);
  return piece;
}

}  // namespace kw::test
