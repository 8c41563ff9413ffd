#include "built_in.h"

#include "kerfwright/lumber/catalogue.h"

namespace kw {

const Catalogue& built_in_catalogue() {
  static const Catalogue catalogue = [] {
    Reading<Catalogue> reading = read_catalogue(lumber::built_in_tables());
    KW_ASSERT(reading.diagnostics.empty());
    return std::move(reading.value);
  }();
  return catalogue;
}

}  // namespace kw
