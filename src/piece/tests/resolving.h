// Short ways to work a piece out and to look at what came of it.
#pragma once

#include <algorithm>
#include <gtest/gtest.h>
#include <string>
#include <vector>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/piece/resolved.h"

namespace kw::testing_piece {

inline Text whole_file(const std::string& rest, const std::string& unit = "in") {
  return {"test.toml", "format = 1\npiece = \"Test\"\nunit = \"" + unit + "\"\n" + rest};
}

inline Reading<Resolved> resolved(const std::string& rest, const std::string& unit = "in",
                                  const std::vector<Override>& overrides = {}) {
  const Text text = whole_file(rest, unit);
  const Reading<Document> document = read_piece(text);
  EXPECT_TRUE(document.diagnostics.empty()) << render(text, document.diagnostics);
  return resolve(document.value, built_in_catalogue(), overrides);
}

// The piece of a file that has nothing wrong with it.
inline Resolved sound(const std::string& rest, const std::string& unit = "in",
                      const std::vector<Override>& overrides = {}) {
  Reading<Resolved> reading = resolved(rest, unit, overrides);
  EXPECT_TRUE(reading.diagnostics.empty()) << render(whole_file(rest, unit), reading.diagnostics);
  return std::move(reading.value);
}

inline std::vector<std::string> codes_of(const Diagnostics& diagnostics) {
  std::vector<std::string> codes;
  for (const Diagnostic& d : diagnostics) codes.emplace_back(d.code);
  return codes;
}

inline const ResolvedBoard& board_of(const Resolved& piece, const std::string& id) {
  static const ResolvedBoard none;
  for (const ResolvedBoard& board : piece.boards)
    if (board.id == id) return board;
  ADD_FAILURE() << "there is no board " << id;
  return none;
}

inline std::vector<std::string> ids_of(const Resolved& piece) {
  std::vector<std::string> ids;
  for (const ResolvedBoard& board : piece.boards) ids.push_back(board.id);
  return ids;
}

// "crossing: leg-a leg-b" of every joint, in order.
inline std::vector<std::string> joints_of(const Resolved& piece) {
  std::vector<std::string> joints;
  const auto id = [&](int board) {
    return board < 0 ? "-" : piece.boards[static_cast<std::size_t>(board)].id;
  };
  for (const ResolvedJoint& joint : piece.joints)
    joints.push_back(joint.id + ": " + id(joint.a) + " " + id(joint.b));
  return joints;
}

inline void expect_near(Vec3 a, Vec3 b, double slack = 1e-6) {
  EXPECT_NEAR(a.x, b.x, slack);
  EXPECT_NEAR(a.y, b.y, slack);
  EXPECT_NEAR(a.z, b.z, slack);
}

inline constexpr double inch = 25.4;

// Stock that most tests use: 1 1/2 x 3 1/2 and 3/4 x 5 1/2.
inline const std::string usual_stock = R"(
[stock.leg]
section = "2x4"
[stock.board]
section = "1x6"
)";

}  // namespace kw::testing_piece
