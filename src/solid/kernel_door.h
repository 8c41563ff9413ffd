// Private to solid: the way to the geometry kernel, which is loaded only when it is wanted.
#pragma once

#include <string>
#include <vector>

#include "kernel/kernel.h"

namespace kw {

// The kernel's writer of STEP files from the first of these folders that holds the library, then
// from where the system looks. Null when there is none; `why` then has the loader's words. Once
// loaded it stays.
[[nodiscard]] kernel::WriteStep* load_step_writer(const std::vector<std::string>& folders,
                                                  std::string& why);

// Where it may lie: beside the program, and where an installed program has its libraries.
[[nodiscard]] std::vector<std::string> kernel_folders();

// What the writer makes of it, or solid.no-kernel when there is no writer, or solid.kernel-failed.
[[nodiscard]] Outcome<std::string> written_by(kernel::WriteStep* writer,
                                              const std::string& why_none,
                                              const kernel::StepRequest& request);

}  // namespace kw
