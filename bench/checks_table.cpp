// How long the checks of a piece take, on one core: every check, and the draws of tolerance.
// Prints a table; with piece files named, their findings.
#include <algorithm>
#include <chrono>
#include <fmt/core.h>
#include <fstream>
#include <iterator>

#include "kerfwright/checks/survey.h"

#include "many_boards.h"

namespace {

using namespace kw;

struct Made {
  Resolved piece = {};
  std::vector<Body> bodies = {};
};

Made made(const std::string& text) {
  Made made;
  made.piece = resolve(read_piece({"piece", text}).value, built_in_catalogue()).value;
  made.bodies = bodies_of(made.piece).value;
  return made;
}

double milliseconds(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

void row(int boards) {
  const Made piece = made(bench::piece_text(boards));
  const SurveyOptions drawn{.draws = {.count = 10'000}};
  std::vector<double> all, with_draws;
  std::vector<Finding> findings;
  for (int i = 0; i < 5; ++i) {
    all.push_back(
        milliseconds([&] { findings = survey(piece.piece, piece.bodies, built_in_catalogue()); }));
    with_draws.push_back(milliseconds([&] {
      static_cast<void>(survey(piece.piece, piece.bodies, built_in_catalogue(), drawn));
    }));
  }
  std::sort(all.begin(), all.end());
  std::sort(with_draws.begin(), with_draws.end());
  fmt::print("{:>6} {:>8} {:>8} {:>14.1f} {:>14.1f} {:>10}\n", boards, piece.bodies.size(),
             piece.piece.joints.size(), all[2], with_draws[2] - all[2], findings.size());
}

}  // namespace

int main(int count, char** words) {
  static_cast<void>(built_in_catalogue());
  for (int i = 1; i < count; ++i) {
    std::ifstream in(words[i], std::ios::binary);
    const Made piece = made(std::string(std::istreambuf_iterator<char>(in), {}));
    fmt::print("{}\n{}\n", words[i],
               to_text(survey(piece.piece, piece.bodies, built_in_catalogue(),
                              {.draws = {.count = 10'000}})));
  }
  if (count > 1) return 0;
  fmt::print("{:>6} {:>8} {:>8} {:>14} {:>14} {:>10}\n", "boards", "bodies", "joints", "checks, ms",
             "draws, ms", "findings");
  for (const int boards : {10, 60, 200}) row(boards);
}
