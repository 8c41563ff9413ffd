// What a Store holds. Private to store.
#pragma once

#include <filesystem>
#include <mutex>

#include "kerfwright/store/store.h"

#include "database.h"

namespace kw {

struct Store::Held {
  std::mutex mutex;
  storing::Database database = {};
  std::filesystem::path file = {};
};

}  // namespace kw
