// All rows of a cabinet, one after the other. Private to store.
#pragma once

#include "tables.h"

namespace kw::storing {

// Ordered by the keys. `visit` gives false to stop. `other` when it stopped.
[[nodiscard]] Trouble each_row(Driver& driver, const Table& table,
                               const std::function<bool(const Row&)>& visit);
[[nodiscard]] bool insert_row(Driver& driver, const Table& table, const std::vector<Value>& values);
[[nodiscard]] bool is_empty(Driver& driver);
// Within a transaction of each.
[[nodiscard]] bool copy_rows(Driver& from, Driver& to);

// Puts the texts of pieces together, while their revisions go by.
class Texts {
 public:
  // A row of `revision`. False when it does not follow from the one before.
  bool take(const Row& row);
  [[nodiscard]] std::int64_t piece() const { return piece_; }
  [[nodiscard]] std::int64_t number() const { return number_; }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::int64_t piece_ = 0, number_ = 0;
  std::string text_ = {};
};

}  // namespace kw::storing
