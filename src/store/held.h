// What a Cabinet holds. Private to store.
#pragma once

#include <mutex>

#include "kerfwright/store/cabinet.h"

#include "driver.h"

namespace kw {

struct Cabinet::Held {
  std::mutex mutex;
  Place place = {};
  std::unique_ptr<storing::Driver> driver = {};
};

namespace storing {

[[nodiscard]] Diagnostic cannot_keep(const Cabinet::Held& held);
[[nodiscard]] Diagnostic cannot_read(const Cabinet::Held& held);

}  // namespace storing
}  // namespace kw
