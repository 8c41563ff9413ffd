// For tests: the plan book of a starter in one unit, made once for all that look at it.
#pragma once

#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <tuple>
#include <unistd.h>
#include <vector>

#include "kerfwright/planbook/editions.h"
#include "kerfwright/workbench/recompute.h"

#include "starters.h"

namespace kw::test {

class Edition {
 public:
  Edition(const std::string& starter_name, LengthUnit unit) {
    ShapeCache cache;
    snapshot = recompute(starter(starter_name), built_in_catalogue(), cache, {}, unit);
    plan = plan_of(snapshot, {.seconds = 1});
    if (auto made = to_pdf(book_of(data(), {.length = {.unit = unit}}))) pdf = std::move(*made);
    path = std::filesystem::temp_directory_path() /
           ("kw-book-" + starter_name + (unit == LengthUnit::mm ? "-mm-" : "-in-") +
            std::to_string(getpid()) + ".pdf");
    std::ofstream(path, std::ios::binary) << pdf;
  }
  ~Edition() { std::filesystem::remove(path); }
  Edition(const Edition&) = delete;
  Edition& operator=(const Edition&) = delete;

  [[nodiscard]] PlanData data() const { return data_of(snapshot, plan); }

  Snapshot snapshot = {};
  ShopPlan plan = {};
  std::string pdf = {};
  std::filesystem::path path = {};  // of the PDF
};

// Sanitizers look at the code, not at the figures: one unit takes it all the same ways.
inline std::vector<LengthUnit> units() {
#ifdef KW_SANITIZED
  return {LengthUnit::mm};
#else
  return {LengthUnit::inch, LengthUnit::mm};
#endif
}

inline const Edition& edition_of(const std::tuple<std::string, LengthUnit>& of) {
  static std::map<std::tuple<std::string, LengthUnit>, Edition> made;
  const auto& [name, unit] = of;
  const auto known = made.find(of);
  return known != made.end() ? known->second
                             : made.emplace(std::piecewise_construct, std::forward_as_tuple(of),
                                            std::forward_as_tuple(name, unit))
                                   .first->second;
}

}  // namespace kw::test
