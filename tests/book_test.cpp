// The plan book of every starter, judged by other people's programs: qpdf for the file's structure,
// poppler for its fonts and its text.
#include <array>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <sstream>
#include <unistd.h>

#include "kerfwright/planbook/lists.h"

#include "bench_piece.h"
#include "starters.h"

namespace kw {
namespace {

namespace fs = std::filesystem;

// What a command prints, both streams; its exit code goes to `code`.
std::string output_of(const std::string& command, int& code) {
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) return "";
  std::string out;
  std::array<char, 4096> part = {};
  while (std::fgets(part.data(), static_cast<int>(part.size()), pipe) != nullptr)
    out += part.data();
  code = pclose(pipe);
  return out;
}

// Without white space: poppler guesses it from gaps, and a wrapped cell has a line break in it.
std::string solid(const std::string& text) {
  std::string letters;
  for (const char c : text) {
    if (std::isspace(static_cast<unsigned char>(c)) == 0) letters += c;
  }
  return letters;
}

class Book : public testing::TestWithParam<std::tuple<std::string, LengthUnit>> {
 protected:
  void SetUp() override {
    const auto& [name, unit] = GetParam();
    ShapeCache cache;
    snapshot_ = recompute(test::starter(name), built_in_catalogue(), cache, {}, unit);
    plan_ = plan_of(snapshot_, {.seconds = 1});
    const auto pdf = to_pdf(book_of(data_of(snapshot_, plan_), {.length = {.unit = unit}}));
    ASSERT_TRUE(pdf);
    path_ =
        fs::temp_directory_path() / ("kw-book-" + name + (unit == LengthUnit::mm ? "-mm" : "-in") +
                                     std::to_string(getpid()) + ".pdf");
    std::ofstream(path_, std::ios::binary) << *pdf;
  }
  void TearDown() override { fs::remove(path_); }

  Snapshot snapshot_ = {};
  ShopPlan plan_ = {};
  fs::path path_ = {};
};

TEST_P(Book, IsWholeForQpdf) {
  int code = -1;
  const std::string said = output_of("qpdf --check " + path_.string(), code);
  EXPECT_EQ(code, 0) << said;
  EXPECT_EQ(said.find("WARNING"), std::string::npos) << said;
}

TEST_P(Book, EmbedsEveryFont) {
  int code = -1;
  const std::string fonts = output_of("pdffonts " + path_.string(), code);
  ASSERT_EQ(code, 0) << fonts;
  int rows = 0;
  std::istringstream lines(fonts);
  for (std::string line; std::getline(lines, line);) {
    if (line.find("DejaVu") == std::string::npos) continue;
    EXPECT_NE(line.find("yes yes"), std::string::npos) << line;  // embedded, subset
    ++rows;
  }
  EXPECT_GE(rows, 1) << fonts;
}

TEST_P(Book, PrintsTheNumbersOfTheCutList) {
  int code = -1;
  const std::string text = solid(output_of("pdftotext -layout " + path_.string() + " -", code));
  ASSERT_EQ(code, 0);
  const LengthStyle style{.unit = std::get<1>(GetParam())};
  const PlanData data = data_of(snapshot_, plan_);
  for (const Table& table :
       {cut_list_table(data, style),
        buying_table(job_of(snapshot_.piece, snapshot_.cut_list), plan_.sawing, style)}) {
    for (const auto& row : table.rows) {
      for (const std::string& cell : row) {
        EXPECT_NE(text.find(solid(cell)), std::string::npos) << cell;
      }
    }
  }
  for (const Part& part : snapshot_.cut_list.parts) {
    for (const Mark& mark : part.marks) {
      for (const Opening& opening : mark.openings) {
        if (opening.side != Side::front || opening.near_from < 0) continue;
        const auto& f = part.figures.at(static_cast<std::size_t>(opening.near_from));
        const std::string figure = format_length(f.printed, style);
        EXPECT_NE(text.find(solid(figure)), std::string::npos) << part.letter << " " << figure;
      }
    }
  }
}

INSTANTIATE_TEST_SUITE_P(All, Book,
                         testing::Combine(testing::ValuesIn(test::starters()),
                                          testing::Values(LengthUnit::inch, LengthUnit::mm)));

}  // namespace
}  // namespace kw
