// The steps of the assembly in words: what is put where, marked, screwed, glued and checked.
#pragma once

#include <string>
#include <vector>

#include "kerfwright/planbook/book.h"

namespace kw {

struct ToldStep {
  std::string name = {};   // what the file calls it: [step.NAME]
  std::string title = {};  // "Add C stretcher-low"
  std::vector<std::string> lines = {};
  StepPicture picture = {};
};

// One a step of `data.assembly`, in the file's words where it has its own.
[[nodiscard]] std::vector<ToldStep> steps_of(const PlanData& data, const LengthStyle& style);

// Words in the file for steps that are not there: parts.unknown-step, with the nearest name.
[[nodiscard]] Diagnostics unknown_steps(const Resolved& piece, const Assembly& assembly);

// name, title and words of each step.
[[nodiscard]] Table steps_table(const PlanData& data, const LengthStyle& style);

}  // namespace kw
