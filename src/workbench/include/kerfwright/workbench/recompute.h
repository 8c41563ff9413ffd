// One open piece, worked out: from its text to solids, cut list and plan. Pure but for the cache
// that it is given. This file is the table of contents of the engine.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "kerfwright/checks/survey.h"
#include "kerfwright/planbook/book.h"
#include "kerfwright/solid/export.h"

namespace kw {

// What changes with every edit, and is made in milliseconds.
struct Snapshot {
  Document document = {};
  Resolved piece = {};
  std::vector<Body> bodies = {};
  std::vector<Clash> clashes = {};
  std::vector<std::shared_ptr<const Mesh>> meshes = {};
  CutList cut_list = {};
  Diagnostics diagnostics = {};  // of the text, the joints and the clashes (solid.clash)
};
// `unit`: figures are written in it, not in the file's; they are then rounded to 1/16 in or to 1
// mm.
[[nodiscard]] Snapshot recompute(const Text& text, const Catalogue& catalogue, ShapeCache& cache,
                                 const std::vector<Override>& overrides = {},
                                 std::optional<LengthUnit> unit = {});

// What is made when it is asked for. `close_up` may choose other roundings in the cut list.
struct ShopPlan {
  Closing closing = {};
  std::vector<Setup> setups = {};
  Sawing sawing = {};
  Assembly assembly = {};
  std::vector<Finding> findings = {};  // with 10,000 draws of tolerance
  Diagnostics diagnostics = {};
};
[[nodiscard]] ShopPlan plan_of(Snapshot& snapshot, const Effort& effort);

// The order in which the boards go together, when it is asked for.
[[nodiscard]] Assembly assembly_in(const Snapshot& snapshot);

// What the checks find (checks/survey.h), when it is asked for.
[[nodiscard]] std::vector<Finding> findings_of(const Snapshot& snapshot,
                                               const SurveyOptions& options = {});

[[nodiscard]] PlanData data_of(const Snapshot& snapshot, const ShopPlan& plan);

struct File {
  std::string name = {};  // relative, with forward slashes
  std::string bytes = {};
};
struct ExportOptions {
  BookOptions book = {};
  bool with_step = true;
};
// Told what is being made; false stops the work.
using Stage = std::function<bool(std::string_view what)>;

// Every file of a plan set: lists as .txt, .csv and .json, sheets as .svg, plan.pdf, piece.glb,
// piece.step. Error: io.cancelled when a stage said stop; a file that could not be made is a
// diagnostic, the rest are still given.
[[nodiscard]] Reading<std::vector<File>> files_of(const Snapshot& snapshot, const ShopPlan& plan,
                                                  const ExportOptions& options, const Stage& stage);

// What is published of a piece: plan.pdf, bench-sheets.pdf, templates.pdf (where the piece has
// any), sales-sheet.pdf, plan.html, listing.md, .html and .txt.
// Errors as those of files_of.
[[nodiscard]] Reading<std::vector<File>> edition_of(const Snapshot& snapshot, const ShopPlan& plan,
                                                    const BookOptions& options, const Stage& stage);

// What the saw needs of a job of one piece or many: buying list, parts, diagrams.
[[nodiscard]] Book sawing_book_of(const Job& job, const Sawing& sawing, const BookOptions& options);

// The files for the saw of a job of one piece or many: lists, diagrams as .svg, sawing-plan.json,
// sawing.pdf.
[[nodiscard]] Reading<std::vector<File>> sawing_files_of(const Job& job, const Sawing& sawing,
                                                         const BookOptions& options);

}  // namespace kw
