// STEP through the geometry kernel.
#include <dlfcn.h>
#include <filesystem>
#include <fmt/format.h>
#include <mutex>
#include <system_error>

#include "kerfwright/solid/export.h"

#include "kernel_door.h"

namespace kw {
namespace {

constexpr const char* library_name = "libkw_kernel.so";

void* open_library(const std::vector<std::string>& folders, std::string& why) {
  std::vector<std::string> places;
  for (const std::string& folder : folders) places.push_back(folder + "/" + library_name);
  places.emplace_back(library_name);
  for (const std::string& place : places) {
    // The loader tries no file that is not there, so that its words are about one that is.
    std::error_code ignored;
    if (place != library_name && !std::filesystem::exists(place, ignored)) continue;
    if (void* library = dlopen(place.c_str(), RTLD_NOW | RTLD_LOCAL)) return library;
    if (why.empty()) why = dlerror();
  }
  return nullptr;
}

// The recipes that the bodies were made from, where the bodies lie.
kernel::StepRequest request_for(const Resolved& piece, const std::vector<Body>& bodies) {
  Diagnostics told_before;
  std::vector<Recipe> recipes = recipes_of(piece, told_before);
  kernel::StepRequest request{.title = piece.title, .author = piece.author};
  for (const Body& body : bodies) {
    const auto at = static_cast<std::size_t>(body.board);
    request.boards.push_back({piece.boards[at].id, recipes[at], body.frame});
  }
  return request;
}

}  // namespace

std::vector<std::string> kernel_folders() {
  std::error_code fault;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", fault);
  if (fault) return {};
  const std::filesystem::path folder = program.parent_path();
  return {folder.string(), (folder.parent_path() / "lib" / "kerfwright").string(),
          (folder.parent_path() / "lib").string()};
}

kernel::WriteStep* load_step_writer(const std::vector<std::string>& folders, std::string& why) {
  void* library = open_library(folders, why);
  if (!library) return nullptr;
  return reinterpret_cast<kernel::WriteStep*>(dlsym(library, kernel::write_step_symbol));
}

Outcome<std::string> written_by(kernel::WriteStep* writer, const std::string& why_none,
                                const kernel::StepRequest& request) {
  if (!writer)
    return Diagnostic{
        .code = "solid.no-kernel",
        .message = fmt::format("STEP files need the geometry kernel, which could not be loaded: {}",
                               why_none),
        .hint =
            "install Open CASCADE 7.6 (Debian: libocct-data-exchange-7.6) and keep libkw_kernel.so "
            "beside "
            "the program; glTF files need neither"};
  kernel::StepAnswer answer;
  writer(request, answer);
  if (!answer.text.empty()) return std::move(answer.text);
  const std::string what =
      answer.failed.empty() ? "the file" : fmt::format("board \"{}\"", answer.failed);
  return Diagnostic{
      .code = "solid.kernel-failed",
      .message = fmt::format("the geometry kernel could not make {}: {}", what, answer.reason),
      .hint = "a glTF file does not need the kernel"};
}

Outcome<std::string> to_step(const Resolved& piece, const std::vector<Body>& bodies) {
  // The kernel's writer has state of its own: one call at a time.
  static std::mutex one_at_a_time;
  const std::lock_guard lock(one_at_a_time);
  static std::string why_none;
  static kernel::WriteStep* const writer = load_step_writer(kernel_folders(), why_none);
  return written_by(writer, why_none, request_for(piece, bodies));
}

}  // namespace kw
