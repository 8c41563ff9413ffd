// Logs that are only added to: each has a name, and records of bytes numbered 1, 2, 3 without gaps.
//
// Guarantees: `append` keeps all its records durably or none. It says what the newest number is
// that the caller has seen; when others have added meanwhile it is refused. So of two that decide
// by the same records (to reserve the same board, say) only one is heard, and the other must read
// what the first did before it decides anew. Nothing is changed or taken away.
// Bounds: a name has 1 to 200 bytes, a record at most 1 MB (1,000,000 bytes), an append at most
// 10,000 records and 16 MB in all.
//
//   Log log(cabinet);
//   const auto seen = log.newest("books");
//   auto why = log.append("books", *seen, {{now, "{...}"}});  // store.log-moved: read, decide anew
#pragma once

#include <vector>

#include "kerfwright/store/cabinet.h"

namespace kw {

struct LogRecord {
  std::int64_t at = 0;  // milliseconds since 1970, UTC
  std::string bytes = {};
  std::int64_t number = 0;  // given by the log; `append` does not look at it
};

class Log {
 public:
  explicit Log(Cabinet cabinet) : cabinet_(std::move(cabinet)) {}

  // The number of the newest record, 0 when there is none. Error: store.cannot-read.
  [[nodiscard]] Outcome<std::int64_t> newest(const std::string& name) const;
  // Numbers `records` after + 1 and on. Errors: store.log-moved when `after` is not the newest,
  // store.too-large, store.cannot-keep. (Where the connection to PostgreSQL breaks at the very end,
  // store.cannot-keep may be said of what was kept: read again, as after a crash.)
  [[nodiscard]] Diagnostics append(const std::string& name, std::int64_t after,
                                   const std::vector<LogRecord>& records);
  // In order, those after number `after`, at most `most` and at most 16 MB (but one at least).
  // Error: store.cannot-read.
  [[nodiscard]] Outcome<std::vector<LogRecord>> read(const std::string& name, std::int64_t after,
                                                     int most) const;

 private:
  Cabinet cabinet_;
};

}  // namespace kw
