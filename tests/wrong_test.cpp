// The corpus of wrong files: each says in `#!` lines which diagnostics it earns, and earns those
// alone. tests/wrong/README.md has the form of the lines.
#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <gtest/gtest.h>
#include <iostream>
#include <iterator>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/piece/document.h"
#include "kerfwright/piece/resolved.h"

namespace kw {
namespace {

const std::filesystem::path corpus = std::filesystem::path(KW_SOURCE_DIR) / "tests" / "wrong";

// A fault as it is announced and as it is told: "error piece.unknown-key 7:3-9", and words.
struct Fault {
  std::string head = {};
  std::string message = {};
};

std::vector<std::string> corpus_names() {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(corpus)) {
    if (entry.path().extension() == ".toml") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

Text read_file(const std::string& name) {
  std::ifstream file(corpus / (name + ".toml"), std::ios::binary);
  return {name + ".toml", {std::istreambuf_iterator<char>(file), {}}};
}

// The faults that the `#!` lines announce: severity, code, place, then a part of the message.
std::vector<Fault> announced_in(std::string_view content) {
  constexpr std::string_view mark = "#! ";
  std::vector<Fault> faults;
  while (!content.empty()) {
    std::string_view line = content.substr(0, content.find('\n'));
    content.remove_prefix(std::min(line.size() + 1, content.size()));
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.starts_with("\xEF\xBB\xBF")) line.remove_prefix(3);
    if (!line.starts_with(mark)) continue;
    line.remove_prefix(mark.size());
    std::size_t end = 0;
    for (int word = 0; word < 3; ++word) end = line.find(' ', end) + 1;
    faults.push_back({std::string(line.substr(0, end - 1)), std::string(line.substr(end))});
  }
  return faults;
}

std::string_view name_of(Severity severity) {
  switch (severity) {
    case Severity::error:
      return "error";
    case Severity::warning:
      return "warning";
    case Severity::advice:
      return "advice";
  }
  return "";
}

std::vector<Fault> told_of(const Text& text, const Diagnostics& diagnostics) {
  std::vector<Fault> faults;
  for (const Diagnostic& d : diagnostics) {
    const Position begin = position_of(text, d.at.begin);
    const Position end = position_of(text, d.at.end);
    const std::string last = end.line == begin.line ? fmt::format("{}", end.column)
                                                    : fmt::format("{}:{}", end.line, end.column);
    faults.push_back(
        {fmt::format("{} {} {}:{}-{}", name_of(d.severity), d.code, begin.line, begin.column, last),
         d.message});
  }
  return faults;
}

Diagnostics everything_wrong_with(const Text& text) {
  Reading<Document> document = read_piece(text);
  if (has_errors(document.diagnostics)) return document.diagnostics;
  const Reading<Resolved> resolved = resolve(document.value, built_in_catalogue());
  document.diagnostics.insert(document.diagnostics.end(), resolved.diagnostics.begin(),
                              resolved.diagnostics.end());
  return document.diagnostics;
}

class WrongFile : public testing::TestWithParam<std::string> {};

TEST_P(WrongFile, EarnsWhatItAnnounces) {
  const Text text = read_file(GetParam());
  const std::vector<Fault> announced = announced_in(text.content);
  ASSERT_FALSE(announced.empty()) << "no #! line says what is wrong with this file";
  const Diagnostics diagnostics = everything_wrong_with(text);
  std::vector<Fault> told = told_of(text, diagnostics);
  for (const Fault& wanted : announced) {
    const auto found = std::find_if(told.begin(), told.end(), [&](const Fault& fault) {
      return fault.head == wanted.head && fault.message.find(wanted.message) != std::string::npos;
    });
    if (found != told.end())
      told.erase(found);
    else
      ADD_FAILURE() << "not told: " << wanted.head << " " << wanted.message;
  }
  for (const Fault& fault : told) ADD_FAILURE() << "not announced: " << fault.head;
  if (HasFailure()) std::cout << render(text, diagnostics);
}

INSTANTIATE_TEST_SUITE_P(Corpus, WrongFile, testing::ValuesIn(corpus_names()),
                         [](const auto& test) {
                           std::string name = test.param;
                           std::replace_if(
                               name.begin(), name.end(),
                               [](char c) { return c == '-' || c == '.'; }, '_');
                           return name;
                         });

TEST(WrongFiles, AreManyEnoughToMeanSomething) {
  EXPECT_GE(corpus_names().size(), 200U);
}

}  // namespace
}  // namespace kw
