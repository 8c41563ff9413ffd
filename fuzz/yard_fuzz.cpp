// Any bytes as the lists of the rack, of prices and of offcuts: faults have places within them.
#include <cstdint>

#include "kerfwright/trade/yard_files.h"

#include "require.h"

namespace {

template <class List>
void look_at(const kw::Reading<List>& reading, std::size_t count) {
  kw::fuzz::require(reading.value.size() <= 1000);
  for (const kw::Diagnostic& d : reading.diagnostics)
    kw::fuzz::require(d.at.begin <= d.at.end && d.at.end <= count);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  const kw::Text text{"list", std::string(reinterpret_cast<const char*>(bytes), count)};
  look_at(kw::read_rack(text, kw::LengthUnit::inch), count);
  look_at(kw::read_prices(text, kw::LengthUnit::mm), count);
  look_at(kw::read_offcut_worths(text, kw::LengthUnit::inch), count);
  look_at(kw::read_seen_prices(text, kw::LengthUnit::inch), count);
  return 0;
}
