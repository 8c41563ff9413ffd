// For tests: a job of pieces with all that trade asks about them.
#pragma once

#include <gtest/gtest.h>
#include <list>
#include <string>

#include "kerfwright/trade/cost.h"
#include "kerfwright/workbench/recompute.h"

namespace kw::test {

// A rail of this length out of 2x4, 100 in for 10.00, kerf and trim zero, `more` lines behind.
inline std::string rail(const std::string& length, const std::string& more = "") {
  return "format = 1\npiece = \"rail\"\nunit = \"in\"\ncurrency = \"USD\"\n"
         "[saw]\nkerf = \"0\"\ntrim = \"0\"\noffcut = \"10\"\n"
         "[size.long]\nis = \"" +
         length +
         "\"\nfrom = \"1\"\nto = \"99\"\n"
         "[stock.wood]\nsection = \"2x4\"\n"
         "buy = [{ length = \"100\", price = \"10\" }]\n"
         "[board.rail]\nstock = \"wood\"\nat = [\"0\", \"0\", \"0\"]\nalong = \"x\"\nlength = "
         "\"long\"\n" +
         more;
}

class Shop {
 public:
  void add(const std::string& text, int count, const std::vector<Override>& sizes = {}) {
    Made& made = made_.emplace_back();
    made.snapshot = recompute({"t.toml", text}, built_in_catalogue(), cache_, sizes);
    EXPECT_FALSE(has_errors(made.snapshot.diagnostics))
        << render({"t.toml", text}, made.snapshot.diagnostics);
    const Snapshot& now = made.snapshot;
    made.setups = setups_of(now.piece, now.cut_list);
    made.assembly = assembly_in(now);
    if (made_.size() == 1) job = job_of(now.piece, now.cut_list), job.pieces.clear();
    job.pieces.push_back({&now.piece, &now.cut_list, count});
    shop.push_back({&made.setups, &made.assembly, {}});
  }

  Sawing sawing() const {
    auto reading = saw(job, {.seconds = 20, .work = 5'000'000});
    EXPECT_TRUE(reading.value.is_whole);
    return std::move(reading.value);
  }

  Job job = {};
  std::vector<trade::PieceShop> shop = {};

 private:
  struct Made {
    Snapshot snapshot = {};
    std::vector<Setup> setups = {};
    Assembly assembly = {};
  };
  ShapeCache cache_ = {};
  std::list<Made> made_ = {};
};

}  // namespace kw::test
