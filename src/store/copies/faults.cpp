// What is wrong in a cabinet.
#include <fmt/core.h>

#include "kerfwright/store/copies.h"

#include "copying.h"

namespace kw {
using namespace storing;

namespace {

constexpr std::size_t most_told = 100;

class Looking {
 public:
  explicit Looking(Driver& driver) : driver_(driver) {}

  bool look_through() {
    for (const std::string& words : driver_.damages()) tell(words);
    for (const Table& table : tables()) {
      const Trouble trouble = each_row(driver_, table, [&](const Row& row) {
        note(table, row);
        return true;
      });
      if (trouble != Trouble::none) return false;
    }
    return logs();
  }
  [[nodiscard]] const Diagnostics& faults() const { return faults_; }

 private:
  void tell(const std::string& words) {
    if (faults_.size() < most_told)
      faults_.push_back({.code = "store.not-whole",
                         .message = words,
                         .hint = "put a backup into a new place, or export what can be read"});
  }
  void note(const Table& table, const Row& row) {
    if (table.name == "revision" && !texts_.take(row))
      tell(fmt::format("revision {} of piece {} does not follow from the one before", row[1].number,
                       row[0].number));
    if (table.name == "job" && (row[2].number < 0 || row[2].number > 3))
      tell(fmt::format("job `{}` is in a state that is not known", row[0].bytes));
  }
  bool logs() {
    const Answer answer = driver_.ask(
        "SELECT name, newest, (SELECT count(*) FROM record WHERE log = name), (SELECT "
        "coalesce(max(number), 0) FROM record WHERE log = name) FROM log ORDER BY name",
        {});
    for (const Row& row : answer.rows) {
      if (row[1].number != row[2].number || row[1].number != row[3].number)
        tell(fmt::format("the log `{}` ends at {}, but has {} records up to {}", row[0].bytes,
                         row[1].number, row[2].number, row[3].number));
    }
    return answer.trouble == Trouble::none;
  }

  Driver& driver_;
  Texts texts_ = {};
  Diagnostics faults_ = {};
};

}  // namespace

Diagnostics faults_in(const Cabinet& cabinet) {
  Cabinet::Held& held = cabinet.held();
  const std::lock_guard lock(held.mutex);
  Diagnostics faults;
  bool is_read = false;
  const Trouble trouble = transact(*held.driver, [&] {
    Looking looking(*held.driver);
    is_read = looking.look_through();
    faults = looking.faults();
    return Verdict::drop;
  });
  if (!is_read || trouble != Trouble::none) faults.push_back(cannot_read(held));
  return faults;
}

}  // namespace kw
