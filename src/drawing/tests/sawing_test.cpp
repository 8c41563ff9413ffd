// The saw's diagrams: nothing on them touches anything else, and no sheet is taller than the paper.
#include <fmt/core.h>
#include <gtest/gtest.h>

#include "kerfwright/drawing/sheets.h"
#include "kerfwright/piece/document.h"

#include "overlap.h"

namespace kw {
namespace {

struct Made {
  Resolved piece = {};
  std::vector<Body> bodies = {};
  CutList list = {};
};

Made made(const std::string& text) {
  Made m;
  m.piece = resolve(read_piece({"t.toml", text}).value, built_in_catalogue()).value;
  ShapeCache cache;
  m.bodies = bodies_of(m.piece, cache).value;
  m.list = cut_list_of(m.piece, m.bodies);
  return m;
}

// Rails of many lengths, ends square or at an angle, out of boards with a price.
std::string rails(int count, double first, double step, const std::string& end) {
  std::string text =
      "format = 1\npiece = \"rails\"\nunit = \"in\"\nrule = \"1/16\"\n[saw]\nkerf = \"1/8\"\n"
      "trim = \"1/4\"\noffcut = \"12\"\n[stock.wood]\nsection = \"2x4\"\n"
      "buy = [{ length = \"8 ft\", price = \"4\" }, { length = \"12 ft\", price = \"5.5\" }]\n";
  for (int i = 0; i < count; ++i) {
    text += fmt::format(
        "[board.rail-{}]\nstock = \"wood\"\nat = [\"0\", \"{}\", \"0\"]\nalong = \"x\"\n"
        "length = \"{}\"\nend = {}\n",
        std::string(1, static_cast<char>('a' + i)), 10 * i, first + step * i, end);
  }
  return text;
}

void expect_clear(const std::vector<Sheet>& sheets, const SheetStyle& style) {
  ASSERT_FALSE(sheets.empty());
  for (const Sheet& sheet : sheets) {
    EXPECT_LE(sheet.height, style.tallest);
    for (const Overlap& o : overlaps_in(sheet, 0.1)) {
      if (o.kind == OverlapKind::label_fill) continue;  // names lie on their parts
      ADD_FAILURE() << sheet.name << ": " << o.what << " at " << o.at.x << ", " << o.at.y;
    }
  }
}

class Diagrams : public testing::TestWithParam<std::tuple<LengthUnit, double>> {};

TEST_P(Diagrams, OfSticksKeepTheirLabelsApart) {
  const auto [unit, width] = GetParam();
  const SheetStyle style{.width = width, .tallest = 240, .length = {.unit = unit}};
  for (const auto& [first, step, end] :
       {std::tuple{3.0, 1.3125, "\"square\""}, std::tuple{9.0, 2.5, "{ mitre = \"35 deg\" }"},
        std::tuple{40.0, 3.0, "\"square\""}}) {
    const Made m = made(rails(20, first, step, end));
    Job job = job_of(m.piece, m.list);
    job.pieces[0].count = 3;
    const auto sawing = saw(job, {.seconds = 5, .work = 1'000'000});
    ASSERT_EQ(sawing.value.plans.size(), 1u);
    expect_clear(sawing_sheets(job, sawing.value.plans[0], "proof", style), style);
  }
}

TEST_P(Diagrams, OfSheetsKeepTheirLabelsApart) {
  const auto [unit, width] = GetParam();
  const SheetStyle style{.width = width, .tallest = 240, .length = {.unit = unit}};
  std::string text =
      "format = 1\npiece = \"box\"\nunit = \"in\"\nrule = \"1/16\"\n[saw]\nkerf = \"1/8\"\n"
      "trim = \"1/4\"\n[stock.ply]\nsection = [\"3/4\", \"48\"]\nsheet = \"96\"\n";
  for (int i = 0; i < 14; ++i) {
    text += fmt::format(
        "[panel.p-{}]\nstock = \"ply\"\nat = [\"0\", \"{}\", \"0\"]\nalong = \"x\"\n"
        "length = \"{}\"\nwidth = \"{}\"\n",
        std::string(1, static_cast<char>('a' + i)), 50 * i, 6 + 3 * i, 3 + (i * 7) % 20);
  }
  const Made m = made(text);
  Job job = job_of(m.piece, m.list);
  job.pieces[0].count = 2;
  const auto sawing = saw(job, {.seconds = 5, .work = 1'000'000});
  ASSERT_EQ(sawing.value.sheets.size(), 1u);
  expect_clear(sheet_sheets(job, sawing.value.sheets[0], "proof", style), style);
}

INSTANTIATE_TEST_SUITE_P(PapersAndUnits, Diagrams,
                         testing::Combine(testing::Values(LengthUnit::inch, LengthUnit::mm),
                                          testing::Values(180.0, 185.9)));

}  // namespace
}  // namespace kw
