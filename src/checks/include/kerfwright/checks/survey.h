// Walks a piece and tells what was computed of it: whether it fits, holds, stands, moves and can be
// made without needless risk. Never says that a piece is safe.
//
// Pure: the same piece gives the same findings. Bounded: a piece of 60 boards takes well under
// 200 ms without the draws of tolerance (bench/checks_table).
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "kerfwright/checks/tolerance.h"
#include "kerfwright/solid/body.h"

namespace kw {

enum class Verdict : std::uint8_t { passes, look, fails, not_computed };
[[nodiscard]] std::string_view name_of(
    Verdict verdict);  // "passes", "look", "fails", "not computed"

enum class CheckArea : std::uint8_t { fit, hold, frame, stand, move, tolerance, use, shop };
[[nodiscard]] std::string_view name_of(CheckArea area);

struct Finding {
  CheckArea area = CheckArea::fit;
  Verdict verdict = Verdict::passes;
  std::string_view check = {};  // stable name: "screw-comes-out"; docs/checks.md tells of each
  std::string message = {};     // what was found, with their names and numbers
  std::string number = {}, limit = {};
  std::string source = {};          // of the formula or the limit
  std::string assumption = {};      // under which it was computed
  std::string change = {};          // what to change; "" when nothing needs to
  std::vector<int> boards = {};     // indices into Resolved::boards
  int joint = -1;                   // index into Resolved::joints
  double ratio = 0;                 // number over limit where that has a meaning; 1 is at the limit
  std::vector<double> shares = {};  // the same by board of `boards`, for colouring; else empty
};

struct SurveyOptions {
  std::string climate = {};    // of climates(); "" by the piece's tags: outdoors, else indoors
  Draws draws = {.count = 0};  // of tolerance: none unless asked for
  ShopErrors errors = {};
};
// In the order of the areas; in each what fails first. What is alike is told once, at its worst,
// with every board concerned.
[[nodiscard]] std::vector<Finding> survey(const Resolved& piece, const std::vector<Body>& bodies,
                                          const Catalogue& catalogue,
                                          const SurveyOptions& options = {});

// Findings as a page of plain text.
[[nodiscard]] std::string to_text(const std::vector<Finding>& findings);
// What every list of findings begins with.
[[nodiscard]] std::string_view findings_caution();

}  // namespace kw
