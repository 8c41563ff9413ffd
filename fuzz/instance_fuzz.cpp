// Any bytes are an instance or are refused with a reason and a place within them.
#include <algorithm>
#include <cstdint>

#include "kerfwright/cutting/instance.h"

#include "require.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using kw::fuzz::require;
  const kw::Text text{"instance", std::string(reinterpret_cast<const char*>(bytes), count)};
  const auto instance = kw::read_instance(text);
  require(static_cast<bool>(instance) != kw::has_errors(instance.diagnostics()));
  for (const kw::Diagnostic& d : instance.diagnostics())
    require(d.at.begin <= d.at.end && d.at.end <= count);
  if (!instance) return 0;
  if (const auto* lengths = std::get_if<kw::Problem>(&instance->problem)) {
    static_cast<void>(kw::validate(*lengths));
  } else {
    static_cast<void>(kw::validate_sheets(std::get<kw::SheetProblem>(instance->problem)));
  }
  return 0;
}
