// For tests: the starters and their text.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <iterator>
#include <string>
#include <vector>

#include "kerfwright/diag/diagnostic.h"

namespace kw::test {

inline std::vector<std::string> starters() {
  std::vector<std::string> names;
  const std::string folder = std::string(KW_SOURCE_DIR) + "/starters";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

inline Text starter(const std::string& name) {
  std::ifstream in(std::string(KW_SOURCE_DIR) + "/starters/" + name + ".toml", std::ios::binary);
  return {name + ".toml", std::string(std::istreambuf_iterator<char>(in), {})};
}

inline std::string test_name(const testing::TestParamInfo<std::string>& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}

}  // namespace kw::test
