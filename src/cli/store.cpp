// What is kept: looked through, copied, written out as open files and read back.
#include <filesystem>
#include <fmt/core.h>

#include "kerfwright/store/copies.h"

#include "commands.h"
#include "opening.h"

namespace kw::cli {
namespace fs = std::filesystem;
namespace {

// Only what is there already can be looked at or copied.
Outcome<Cabinet> open_there(const std::string& words) {
  const Place place = place_of(words);
  std::error_code error;
  if (place.address.empty() && !fs::is_regular_file(place.file, error)) {
    return Diagnostic{.code = "cli.no-store",
                      .message = fmt::format("there is no file `{}`", words),
                      .hint =
                          "name the file, or the address postgresql://..., in which things are "
                          "kept; the workbench keeps its own in .kerfwright/history.db"};
  }
  return Cabinet::open(place, Hands::many);
}

int told(const Diagnostics& why, const std::string& done) {
  print_plain(why);
  if (why.empty()) fmt::print("{}\n", done);
  return why.empty() ? all_well : not_done;
}

}  // namespace

int look_after_store(const StoreOptions& options) {
  const bool puts_back = options.verb == "restore" || options.verb == "import";
  const auto cabinet =
      puts_back ? Cabinet::open(place_of(options.place), Hands::many) : open_there(options.place);
  print_plain(cabinet.diagnostics());
  if (!cabinet) return not_done;
  if (options.verb == "backup")
    return told(back_up(*cabinet, options.other), "backup in " + options.other);
  if (options.verb == "restore")
    return told(restore(options.other, *cabinet), "restored from " + options.other);
  if (options.verb == "export")
    return told(export_all(*cabinet, options.other), "all of it is in " + options.other);
  if (options.verb == "import")
    return told(import_all(options.other, *cabinet), "all of " + options.other + " is in");
  const Diagnostics faults = faults_in(*cabinet);
  print_plain(faults);
  if (faults.empty()) fmt::print("no fault found\n");
  return faults.empty() ? all_well : with_faults;
}

}  // namespace kw::cli
