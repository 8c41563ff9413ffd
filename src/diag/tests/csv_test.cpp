#include "kerfwright/diag/csv.h"

#include <gtest/gtest.h>

namespace kw {
namespace {

std::vector<std::vector<std::string>> cells_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  for (const CsvRow& row : read_csv({"t.csv", text}).value) {
    rows.emplace_back();
    for (const CsvCell& cell : row.cells) rows.back().push_back(cell.text);
  }
  return rows;
}

using Rows = std::vector<std::vector<std::string>>;

TEST(ReadCsv, TakesCellsApartAsTheStandardSays) {
  EXPECT_EQ(cells_of("a,b\r\n1,\"2,\"\"3\"\"\n4\"\r\n"), (Rows{{"a", "b"}, {"1", "2,\"3\"\n4"}}));
}

TEST(ReadCsv, TakesSemicolonsAndLeavesOutCommentsAndEmptyLines) {
  EXPECT_EQ(cells_of("a;b\n\n# note\n 1 ; 2,5 "), (Rows{{"a", "b"}, {"1", "2,5"}}));
}

TEST(ReadCsv, KeepsEmptyCells) {
  EXPECT_EQ(cells_of("a,,\n,\"\",x"), (Rows{{"a", "", ""}, {"", "", "x"}}));
}

TEST(ReadCsv, TellsWhereACellStands) {
  const Text text{"t.csv",
                  "\xEF\xBB\xBF"
                  "a,b\n1,\"22\"\n"};
  const auto rows = read_csv(text).value;
  EXPECT_EQ(position_of(text, rows[1].cells[1].at.begin), (Position{2, 4}));
  EXPECT_EQ(rows[1].cells[1].at.end - rows[1].cells[1].at.begin, 2u);
}

TEST(ReadCsv, NamesAnOpenQuote) {
  const auto reading = read_csv({"t.csv", "a\n\"b\n"});
  ASSERT_EQ(reading.diagnostics.size(), 1u);
  EXPECT_EQ(reading.diagnostics[0].code, "csv.open-quote");
  EXPECT_EQ(reading.diagnostics[0].at, (Span{2, 3}));
}

TEST(ReadCsv, NamesWhatStandsBehindAQuote) {
  const auto reading = read_csv({"t.csv", "\"a\"b,c\n"});
  ASSERT_EQ(reading.diagnostics.size(), 1u);
  EXPECT_EQ(reading.diagnostics[0].code, "csv.after-quote");
}

TEST(ReadCsv, StopsAtTooManyCells) {
  const auto reading = read_csv({"t.csv", std::string(200'000, ',')});
  ASSERT_EQ(reading.diagnostics.size(), 1u);
  EXPECT_EQ(reading.diagnostics[0].code, "csv.too-many");
}

}  // namespace
}  // namespace kw
