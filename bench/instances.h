// Published cutting instances, read from a folder that is not ours to pass on.
#pragma once

#include <cstdint>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "kerfwright/cutting/problem.h"

namespace kw {

struct BenchInstance {
  std::string name = {}, file = {};
  std::int64_t best_known = 0;
  std::int64_t lower_bound = 0;  // known to be one
  bool is_optimum = false;
};

using InstanceSets = std::map<std::string, std::vector<BenchInstance>>;

// Set, name, file and best known value stand in the columns 0, 1, 2 and 5, none of them quoted.
inline void read_index(const std::string& path, std::size_t proved_column, InstanceSets& sets) {
  std::ifstream in(path);
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    std::vector<std::string> cells;
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
    if (cells.size() <= proved_column) continue;
    BenchInstance instance{cells[1], cells[2], std::atoll(cells[5].c_str()), 0,
                           cells[proved_column] == "yes"};
    if (instance.is_optimum) instance.lower_bound = instance.best_known;
    sets[cells[0]].push_back(instance);
  }
}

inline InstanceSets read_sets(const std::string& folder) {
  InstanceSets sets;
  read_index(folder + "/optima.csv", 6, sets);
  read_index(folder + "/multi_stock.csv", 7, sets);
  return sets;
}

inline void read_demands(std::istream& in, int kinds, Problem& problem) {
  for (int k = 0; k < kinds; ++k) {
    std::int64_t length = 0;
    int count = 0;
    in >> length >> count;
    problem.demands.push_back(
        {.name = fmt::format("{}", k), .length = Length::ticks(length), .count = count});
  }
}

inline Problem read_problem(const std::string& path) {
  std::ifstream in(path);
  Problem problem;
  int kinds = 0;
  std::int64_t length = 0;
  if (path.ends_with(".csp")) {
    in >> kinds >> length;
    problem.stocks.push_back({.name = "stock", .length = Length::ticks(length), .price = {1}});
    read_demands(in, kinds, problem);
    return problem;
  }
  int stocks = 0;
  in >> stocks;
  for (int s = 0; s < stocks; ++s) {
    std::int64_t price = 0;
    int copies = 0;
    in >> length >> price >> copies;
    problem.stocks.push_back(
        {.name = fmt::format("{}", s), .length = Length::ticks(length), .price = {price}});
    if (copies >= 0) problem.stocks.back().count = copies;
  }
  in >> kinds;
  read_demands(in, kinds, problem);
  return problem;
}

}  // namespace kw
