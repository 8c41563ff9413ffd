#include <filesystem>
#include <fmt/core.h>

#include "commands.h"
#include "opening.h"
#include "progress.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

struct Edition {
  std::string name = {};
  LengthUnit unit = LengthUnit::inch;
  bool with_mm = false;
  Paper paper = Paper::letter;
};

std::vector<Edition> editions_of(const PublishOptions& options) {
  std::vector<std::string> names = options.editions;
  if (names.empty()) names = {"inch", "metric"};
  std::vector<Edition> editions;
  for (const std::string& name : names) {
    Edition edition{.name = name, .with_mm = name == "both"};
    if (name == "metric") {
      edition.unit = LengthUnit::mm;
      edition.paper = Paper::a4;
    }
    if (!options.paper.empty()) edition.paper = paper_of(options.paper);
    editions.push_back(std::move(edition));
  }
  return editions;
}

// Of one piece, in one edition.
int publish_one(const PublishOptions& options, const std::string& path, const Edition& edition,
                const fs::path& out) {
  Opened opened;
  ShopPlan plan;
  Reading<std::vector<File>> files;
  {
    Progress progress;
    progress.now(fmt::format("working out {} ({})", path, edition.name));
    opened = open_piece(path, options.set, edition.unit);
    if (!opened.is_read) return not_done;
    if (has_errors(opened.snapshot.diagnostics)) {
      print_faults(opened.text, opened.snapshot.diagnostics);
      return not_done;
    }
    plan = plan_of(opened.snapshot, {.seconds = options.seconds});
    const BookOptions book{.paper = edition.paper,
                           .length = {.unit = edition.unit},
                           .with_mm = edition.with_mm,
                           .buyer = options.buyer,
                           .price = options.price};
    files = edition_of(opened.snapshot, plan, book, [&](std::string_view what) {
      progress.now(fmt::format("{} ({}): the {}", path, edition.name, what));
      return true;
    });
  }
  const Diagnostics faults = faults_of(opened, plan);
  print_faults(opened.text, faults);
  if (!write_out(files, out)) return not_done;
  fmt::print("{} ({}): {} files in {}\n", opened.snapshot.piece.title, edition.name,
             files.value.size(), out.string());
  return faults.empty() && files.diagnostics.empty() ? all_well : with_faults;
}

}  // namespace

int publish(const PublishOptions& options) {
  const fs::path out = options.out.empty() ? fs::path("out") / "published" : fs::path(options.out);
  int worst = all_well;
  for (const std::string& path : options.pieces) {
    for (const Edition& edition : editions_of(options)) {
      const fs::path folder = out / fs::path(path).stem() / edition.name;
      worst = std::max(worst, publish_one(options, path, edition, folder));
    }
  }
  return worst;
}

}  // namespace kw::cli
