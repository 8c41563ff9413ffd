// What a table keeps of each instance, so that a later loss is seen: a row of class, instance,
// best, bound, proved, seconds, between tabs. tools/check_quality.py compares two such files.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <utility>

namespace kw {

struct QualityRow {
  std::string set = {}, name = {};
  std::int64_t best = 0, bound = 0;
  bool is_proved = false;
  double seconds = 0;
};

class Quality {
 public:
  // Rows are added to `file`; "": none is kept.
  void write_to(const std::string& file) {
    if (!file.empty()) rows_.open(file, std::ios::app);
  }

  // From now on only what `file` says was proved within half a second is wanted.
  void only_soon_in(const std::string& file) {
    constexpr double soon = 0.5;
    is_limited_ = true;
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
      std::istringstream cells(line);
      std::string set, name, best, bound, proved, seconds;
      for (std::string* cell : {&set, &name, &best, &bound, &proved, &seconds})
        std::getline(cells, *cell, '\t');
      if (proved == "yes" && std::atof(seconds.c_str()) <= soon) wanted_.emplace(set, name);
    }
  }

  [[nodiscard]] bool is_limited() const { return is_limited_; }
  [[nodiscard]] bool wants(const std::string& set, const std::string& name) const {
    return !is_limited_ || wanted_.contains({set, name});
  }

  void add(const QualityRow& row) {
    if (!rows_.is_open()) return;
    rows_ << fmt::format("{}\t{}\t{}\t{}\t{}\t{:.2f}\n", row.set, row.name, row.best, row.bound,
                         row.is_proved ? "yes" : "no", row.seconds);
    rows_.flush();
  }

 private:
  std::ofstream rows_ = {};
  bool is_limited_ = false;
  std::set<std::pair<std::string, std::string>> wanted_ = {};
};

}  // namespace kw
