// For tests: rows of the tab-separated tables of published figures, in the tree or, where they
// stand there, beside it. `#` lines are comments, the first other line names the columns.
#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace kw::test {

using Record = std::map<std::string, std::string>;

inline std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::stringstream stream(line);
  for (std::string cell; std::getline(stream, cell, '\t');) cells.push_back(cell);
  return cells;
}

// Of a file in the tree, by its path there; empty when it is not there.
inline std::vector<Record> records_at(const std::string& path) {
  std::ifstream file(std::string(KW_SOURCE_DIR) + "/" + path);
  std::vector<Record> records;
  std::vector<std::string> columns;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;
    const auto cells = cells_of(line);
    if (columns.empty()) {
      columns = cells;
      continue;
    }
    Record record;
    for (std::size_t i = 0; i < columns.size(); ++i)
      record[columns[i]] = i < cells.size() ? cells[i] : "";
    records.push_back(std::move(record));
  }
  return records;
}

// Of a table beside the tree.
inline std::vector<Record> records_in(const std::string& name) {
  return records_at("../shared/reference/" + name);
}

inline double number(const Record& row, const std::string& column) {
  const auto found = row.find(column);
  return found == row.end() || found->second.empty() ? 0 : std::stod(found->second);
}

}  // namespace kw::test
