// Opening piece files for the commands, and saying what is wrong with them.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/workbench/recompute.h"

namespace kw::cli {

void print_faults(const Text& text, const Diagnostics& faults);
// Of faults with no place in a text.
void print_plain(const Diagnostics& faults);

// Error: cli.bad-set.
[[nodiscard]] Outcome<std::vector<Override>> overrides_of(const std::vector<std::string>& set);

struct Opened {
  Text text = {};
  Snapshot snapshot = {};
  bool is_read = false;
};
// Says itself why a file cannot be read.
[[nodiscard]] Opened open_piece(const std::string& path, const std::vector<std::string>& set,
                                std::optional<LengthUnit> unit = {});

[[nodiscard]] std::optional<LengthUnit> unit_of(const std::string& word);

[[nodiscard]] Paper paper_of(const std::string& word);  // "letter", "a4"

// What is wrong with the piece and with its plan.
[[nodiscard]] Diagnostics faults_of(const Opened& opened, const ShopPlan& plan);

// Says what could not be made and writes the rest below `folder`; false when it cannot be written.
[[nodiscard]] bool write_out(const Reading<std::vector<File>>& files,
                             const std::filesystem::path& folder);

// What to buy, what it comes to, what is proved of each stock's plan, and its set-ups.
void print_sawing(const Job& job, const Sawing& sawing, const LengthStyle& style);

}  // namespace kw::cli
