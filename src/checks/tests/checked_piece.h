// For tests: a piece from its text, worked out without a fault, and what the checks find in it.
#pragma once

#include <fstream>
#include <gtest/gtest.h>
#include <iterator>
#include <string>
#include <vector>

#include "kerfwright/checks/survey.h"

namespace kw::test {

struct CheckedPiece {
  Resolved piece = {};
  std::vector<Body> bodies = {};
};

inline std::string contents_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return std::string(std::istreambuf_iterator<char>(in), {});
}

inline CheckedPiece worked_out(const std::string& content) {
  CheckedPiece made;
  const Text file{"test.toml", content};
  const auto document = read_piece(file);
  const auto resolved = resolve(document.value, built_in_catalogue());
  const auto bodies = bodies_of(resolved.value);
  for (const Diagnostics& faults : {document.diagnostics, resolved.diagnostics, bodies.diagnostics})
    for (const Diagnostic& d : faults) EXPECT_NE(d.severity, Severity::error) << render(file, d);
  made.piece = resolved.value;
  made.bodies = bodies.value;
  return made;
}

inline std::vector<Finding> findings_of(const std::string& content,
                                        const SurveyOptions& options = {}) {
  const CheckedPiece made = worked_out(content);
  return survey(made.piece, made.bodies, built_in_catalogue(), options);
}

// In inches, without its first lines.
inline std::string in_inches(const std::string& text) {
  return "format = 1\npiece = \"Test\"\nunit = \"in\"\nrule = \"1/16\"\n" + text;
}

inline const Finding* found(const std::vector<Finding>& findings, std::string_view check) {
  for (const Finding& f : findings)
    if (f.check == check) return &f;
  return nullptr;
}

}  // namespace kw::test
