// For tests: a piece from text to its cut list, failing the test when there is an error or a
// warning.
#pragma once

#include <gtest/gtest.h>
#include <string>

#include "kerfwright/workbench/recompute.h"

namespace kw::test {

inline Snapshot made(const std::string& toml, const std::vector<Override>& overrides = {}) {
  ShapeCache cache;
  const Text text{"test.toml", toml};
  Snapshot snapshot = recompute(text, built_in_catalogue(), cache, overrides);
  for (const Diagnostic& d : snapshot.diagnostics) {
    EXPECT_EQ(d.severity, Severity::advice) << render(text, d);
  }
  return snapshot;
}

inline std::string head(const std::string& unit = "in", const std::string& rule = "1/16") {
  return "format = 1\npiece = \"Test\"\nunit = \"" + unit + "\"\nrule = \"" + rule + "\"\n";
}

inline const Part& part_named(const Snapshot& snapshot, const std::string& name) {
  static const Part none;
  for (const Part& part : snapshot.cut_list.parts) {
    if (part.name == name) return part;
  }
  ADD_FAILURE() << "no part is made from " << name;
  return none;
}

inline std::string printed(const Part& part, int figure) {
  return figure < 0 ? "none"
                    : format_length(part.figures.at(static_cast<std::size_t>(figure)).printed,
                                    {.mark_unit = false});
}

inline double exact_inches(const Part& part, int figure) {
  return part.figures.at(static_cast<std::size_t>(figure)).exact.in_inches();
}

}  // namespace kw::test
