#include "kerfwright/measure/text.h"

#include <cmath>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <string>
#include <vector>

namespace kw {
namespace {

constexpr std::int64_t inch = Length::ticks_per_inch;
constexpr std::int64_t mm = Length::ticks_per_mm;

Length parsed(std::string_view text, LengthUnit bare = LengthUnit::inch) {
  const auto length = parse_length(text, bare);
  EXPECT_TRUE(length) << text;
  EXPECT_TRUE(length.diagnostics().empty()) << text;
  return length ? *length : Length();
}

struct Row {
  std::string_view text = {};
  std::int64_t ticks = 0;
};

void expect_exact(const std::vector<Row>& rows) {
  for (const Row& row : rows) EXPECT_EQ(parsed(row.text).in_ticks(), row.ticks) << row.text;
}

TEST(ParseLength, ReadsTheTradesWay) {
  expect_exact({{"24", 24 * inch},
                {" 24 ", 24 * inch},
                {"29 11/16", 475 * inch / 16},
                {"29-11/16", 475 * inch / 16},
                {"11/16", 11 * inch / 16},
                {"29.6875\"", 475 * inch / 16},
                {".75", 3 * inch / 4},
                {"3' 2 3/8\"", 307 * inch / 8},
                {"3'2 3/8\"", 307 * inch / 8},
                {"3'-2 3/8\"", 307 * inch / 8},
                {"3'-2-3/8\"", 307 * inch / 8},
                {"2' 6", 30 * inch},
                {"5'6", 66 * inch},
                {"2'", 24 * inch},
                {"2' 3/4", 99 * inch / 4},
                {"2 ft 6 in", 30 * inch},
                {"2ft6in", 30 * inch},
                {"2.5'", 30 * inch},
                {"2 1/2'", 30 * inch},
                {"6''", 6 * inch},
                {"810 mm", 810 * mm},
                {"810mm", 810 * mm},
                {"81 cm", 810 * mm},
                {"0.81 m", 810 * mm},
                {"-29 11/16", -475 * inch / 16},
                {"- 3' 2\"", -38 * inch},
                {"0", 0},
                {"-0\"", 0},
                {"007", 7 * inch},
                {"1/3 ft", 4 * inch},
                {"12.345 mm", 246'900'000}});
}

TEST(ParseLength, ReadsTypography) {
  expect_exact({{"29 ¾", 119 * inch / 4},
                {"29¾", 119 * inch / 4},
                {"¾\"", 3 * inch / 4},
                {"29-¾", 119 * inch / 4},
                {"29 11\u204416", 475 * inch / 16},
                {"3\u2032 2\u2033", 38 * inch},
                {"3\u2019 2 \u215C\u201D", 307 * inch / 8},
                {"6\u2032\u2032", 6 * inch},
                {"\u22125", -5 * inch},
                {"29\u00A011/16", 475 * inch / 16},
                {"29\u2009¾\u202F\"", 119 * inch / 4},
                {"810\u00A0mm", 810 * mm}});
}

TEST(ParseLength, KnowsEveryVulgarFraction) {
  // Unicode charts, Latin-1 Supplement and Number Forms.
  const std::vector<std::tuple<std::string, int, int>> rows = {
      {"\u00BC", 1, 4},  {"\u00BD", 1, 2}, {"\u00BE", 3, 4}, {"\u2150", 1, 7}, {"\u2151", 1, 9},
      {"\u2152", 1, 10}, {"\u2153", 1, 3}, {"\u2154", 2, 3}, {"\u2155", 1, 5}, {"\u2156", 2, 5},
      {"\u2157", 3, 5},  {"\u2158", 4, 5}, {"\u2159", 1, 6}, {"\u215A", 5, 6}, {"\u215B", 1, 8},
      {"\u215C", 3, 8},  {"\u215D", 5, 8}, {"\u215E", 7, 8}};
  for (const auto& [text, over, under] : rows) {
    for (const std::string gap : {"", " ", "\u00A0"}) {
      const auto length = parse_length("63" + gap + text + " ft", LengthUnit::mm);
      ASSERT_TRUE(length) << text;
      const std::int64_t sevenths = 12 * inch * (63 * under + over);
      EXPECT_EQ(length->in_ticks(), (2 * sevenths + under) / (2 * under)) << text;
    }
  }
}

TEST(ParseLength, TakesABareNumberInTheUnitOfTheFile) {
  EXPECT_EQ(parsed("24", LengthUnit::mm).in_ticks(), 24 * mm);
  EXPECT_EQ(parsed("2' 6", LengthUnit::mm).in_ticks(), 30 * inch);
}

TEST(ParseLength, IsExactForEveryDyadicFractionTo256ths) {
  for (int under = 1; under <= 256; under *= 2) {
    for (int over = 0; over < under; ++over) {
      const auto text =
          std::to_string(over * 7) + " " + std::to_string(over) + "/" + std::to_string(under);
      ASSERT_EQ(parsed(text).in_ticks() * under, (over * 7 * under + over) * inch) << text;
    }
  }
}

RC_GTEST_PROP(ParseLengthProperty, IsExactForEveryThousandthOfAMillimetre, ()) {
  const auto microns = *rc::gen::inRange<std::int64_t>(0, 10'000'000'000);
  const std::string part = std::to_string(1000 + microns % 1000).substr(1);
  const std::string text = std::to_string(microns / 1000) + "." + part;
  RC_ASSERT(parsed(text, LengthUnit::mm).in_ticks() == microns * 20'000);
  RC_ASSERT(parsed(text + " mm").in_ticks() == microns * 20'000);
}

RC_GTEST_PROP(ParseLengthProperty, RoundsAnyFractionToTheNearestTick, ()) {
  __extension__ typedef __int128 Wide;
  const auto whole = *rc::gen::inRange<std::int64_t>(0, 10'000);
  const auto under = *rc::gen::inRange<std::int64_t>(2, 100'000);
  const auto over = *rc::gen::inRange<std::int64_t>(0, under);
  const std::string text =
      std::to_string(whole) + " " + std::to_string(over) + "/" + std::to_string(under);
  const auto length = parse_length(text, LengthUnit::inch);
  RC_ASSERT(static_cast<bool>(length));
  const Wide gap = Wide(length->in_ticks()) * under - Wide(whole * under + over) * inch;
  RC_ASSERT(2 * (gap < 0 ? -gap : gap) <= under);
  RC_ASSERT((gap != 0) == !length.diagnostics().empty());
}

struct Refusal {
  std::string_view text = {};
  std::string_view code = {};
  std::string_view hint = {};  // a part of it
};

void expect_refused(const Refusal& row) {
  const auto [text, code, hint] = row;
  const auto length = parse_length(text, LengthUnit::inch, 100);
  ASSERT_FALSE(length) << text;
  const Diagnostic& d = length.diagnostics().front();
  EXPECT_EQ(d.code, code) << text;
  EXPECT_NE(d.hint.find(hint), std::string::npos) << text << ": " << d.hint;
  EXPECT_GE(d.at.begin, 100U);
  EXPECT_LE(d.at.begin, d.at.end);
  EXPECT_LE(d.at.end, 100 + text.size());
}

TEST(ParseLength, RefusesWithTheReasonAndTheWayOut) {
  const std::vector<Refusal> rows = {{"", "measure.empty"},
                                     {"  \u00A0", "measure.empty"},
                                     {"wide", "measure.not-a-length", "29 11/16"},
                                     {"-", "measure.not-a-length"},
                                     {"--5", "measure.not-a-length"},
                                     {"+5", "measure.not-a-length"},
                                     {"12 inches", "measure.not-a-length", "in ft"},
                                     {"35 deg", "measure.not-a-length"},
                                     {"3 kg", "measure.not-a-length"},
                                     {"1.2.3", "measure.not-a-figure"},
                                     {"11 / 16", "measure.not-a-length"},
                                     {"24~", "measure.not-a-length"},
                                     {"\xFF\xFE", "measure.not-a-length"},
                                     {"1/0", "measure.zero-below"},
                                     {"3 0/0", "measure.zero-below"}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(ParseLength, RefusesDoubtfulFiguresAndMixedUnits) {
  const std::vector<Refusal> rows = {
      {"29 11", "measure.not-a-figure", "29 11/16"},
      {"29 17/16", "measure.not-a-figure", "below one"},
      {"29 16/16", "measure.not-a-figure", "below one"},
      {"999999999999 1/999999", "measure.not-a-figure", "decimal"},
      {"99999999' 0.0000000000000000001", "measure.not-a-figure", "one unit"},
      {"29.5 1/2", "measure.not-a-figure"},
      {"5.", "measure.not-a-figure"},
      {"1/2½", "measure.not-a-figure"},
      {"12,5", "measure.not-a-figure", "write 12.5"},
      {"1,200", "measure.not-a-figure", "write 1200"},
      {"1,234,567 mm", "measure.not-a-figure", "write 1234567,"},
      {"1e3", "measure.not-a-figure", "1000"},
      {"1.5E-3 mm", "measure.not-a-figure", "in full"},
      {"2.5' 6\"", "measure.not-a-figure", "whole feet"},
      {"2' 6 mm", "measure.mixed-units"},
      {"1 m 20 cm", "measure.mixed-units"},
      {"6\" 2'", "measure.mixed-units"},
      {"2' 3'", "measure.mixed-units"},
      {"10.1 m 1", "measure.mixed-units"},
      {"10000.1 m", "measure.too-long"},
      {"1234567890123", "measure.too-long"}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(ParseLength, NeverReadsALongText) {
  const auto length = parse_length(std::string(257, '1'), LengthUnit::inch);
  ASSERT_FALSE(length);
  EXPECT_EQ(length.diagnostics().front().code, "measure.not-a-length");
}

TEST(ParseLength, ReadsUpToTenKilometres) {
  EXPECT_EQ(parsed("10000 m").in_ticks(), 10'000'000 * mm);
  EXPECT_EQ(parsed("-10000 m").in_ticks(), -10'000'000 * mm);
}

TEST(ParseLength, WarnsOfWhatIsFinerThanATick) {
  for (const std::string_view text :
       {"1/3", "0.0000000001 mm", "1.00000000000000000000000000001"}) {
    const auto length = parse_length(text, LengthUnit::inch);
    ASSERT_TRUE(length) << text;
    ASSERT_EQ(length.diagnostics().size(), 1U) << text;
    EXPECT_EQ(length.diagnostics().front().code, "measure.inexact");
    EXPECT_EQ(length.diagnostics().front().severity, Severity::warning);
  }
  EXPECT_EQ(parse_length("1/3", LengthUnit::inch)->in_ticks(), 169'333'333);
  EXPECT_EQ(parse_length("0.000000125", LengthUnit::inch)->in_ticks(), 64);  // 63.5
  EXPECT_EQ(parse_length("-0.000000125", LengthUnit::inch)->in_ticks(), -64);
}

RC_GTEST_PROP(ParseLengthProperty, TakesAnyBytes, (const std::string& any)) {
  const std::string_view alphabet[] = {"2",      "9",      "/",      " ",    "'",  "\"",  ".",
                                       ",",      "-",      "mm",     "ft",   "in", "e",   "½",
                                       "\u2044", "\u2032", "\u00A0", "\xC2", "0",  "deg", "\0"};
  std::string text = any;
  for (const int i : *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 21))) {
    text += alphabet[i];
  }
  const auto length = parse_length(text, LengthUnit::mm, 7);
  RC_ASSERT(static_cast<bool>(length) != has_errors(length.diagnostics()));
  for (const Diagnostic& d : length.diagnostics()) {
    RC_ASSERT(7 <= d.at.begin);
    RC_ASSERT(d.at.begin <= d.at.end);
    RC_ASSERT(d.at.end <= 7 + text.size());
  }
  static_cast<void>(parse_angle(text));
}

TEST(FormatLength, WritesTheTradesWay) {
  const auto inches = [](std::int64_t over, std::int64_t under) {
    return Length::ticks(over * inch / under);
  };
  EXPECT_EQ(format_length(inches(475, 16)), "29 11/16\"");
  EXPECT_EQ(format_length(inches(11, 16)), "11/16\"");
  EXPECT_EQ(format_length(inches(24, 1)), "24\"");
  EXPECT_EQ(format_length(Length()), "0\"");
  EXPECT_EQ(format_length(-inches(475, 16)), "-29 11/16\"");
  EXPECT_EQ(format_length(inches(307, 8), {.feet = true}), "3' 2 3/8\"");
  EXPECT_EQ(format_length(inches(36, 1), {.feet = true}), "3' 0\"");
  EXPECT_EQ(format_length(inches(67, 8), {.feet = true}), "8 3/8\"");
  EXPECT_EQ(format_length(inches(-307, 8), {.feet = true, .mark_unit = false}), "-3' 2 3/8");
  EXPECT_EQ(format_length(Length::ticks(810 * mm), {.unit = LengthUnit::mm}), "810 mm");
  EXPECT_EQ(format_length(Length::ticks(8105 * mm / 10), {.unit = LengthUnit::mm}), "810.5 mm");
  EXPECT_EQ(format_length(Length::ticks(-mm / 20), {.unit = LengthUnit::mm, .mark_unit = false}),
            "-0.05");
}

TEST(FormatLength, MarksWhatItRounded) {
  const Length third = Length::ticks(29 * inch + inch / 3);
  EXPECT_EQ(format_length(third, {.finest = 16}), "~29 5/16\"");
  EXPECT_EQ(format_length(-third, {.finest = 16}), "~-29 5/16\"");
  EXPECT_EQ(format_length(Length::ticks(inch / 32), {.finest = 16}), "~1/16\"");
  EXPECT_EQ(format_length(Length::ticks(-inch / 32), {.finest = 16}), "~-1/16\"");
  EXPECT_EQ(format_length(Length::ticks(-1)), "~0\"");
  EXPECT_EQ(format_length(Length::ticks(12 * inch - 1), {.feet = true}), "~1' 0\"");
  EXPECT_EQ(format_length(Length::ticks(inch / 2), {.unit = LengthUnit::mm, .decimals = 0}),
            "~13 mm");
  EXPECT_EQ(format_length(Length::ticks(mm - 1), {.unit = LengthUnit::mm}), "~1 mm");
}

LengthStyle any_style() {
  return {.unit = *rc::gen::element(LengthUnit::inch, LengthUnit::mm),
          .finest = 1 << *rc::gen::inRange(0, 9),
          .decimals = *rc::gen::inRange(0, 9),
          .feet = *rc::gen::arbitrary<bool>(),
          .mark_unit = *rc::gen::arbitrary<bool>()};
}

// The step that a style writes in, found apart from the code under test.
Length step_of(const LengthStyle& style) {
  if (style.unit == LengthUnit::inch) return Length::ticks(inch / style.finest);
  return Length::ticks(std::max<std::int64_t>(1, mm / std::llround(std::pow(10, style.decimals))));
}

RC_GTEST_PROP(FormatLengthProperty, PrintingThenParsingGivesTheSameLength, ()) {
  const LengthStyle style = any_style();
  const Length step = step_of(style);
  const auto reach = 10'000'000 * mm / step.in_ticks();
  const Length length = step * *rc::gen::inRange<std::int64_t>(-reach, reach + 1);
  const std::string text = format_length(length, style);
  RC_ASSERT(parsed(text, style.unit) == length);
}

RC_GTEST_PROP(FormatLengthProperty, PrintsTheNearestStep, ()) {
  LengthStyle style = any_style();
  style.decimals = std::min(style.decimals, 7);
  const auto ticks = *rc::gen::inRange<std::int64_t>(-1000 * inch, 1000 * inch);
  const Length rounded = round_to(Length::ticks(ticks), step_of(style));
  const std::string text = format_length(Length::ticks(ticks), style);
  const bool is_marked = text.starts_with('~');
  RC_ASSERT(is_marked == (rounded.in_ticks() != ticks));
  RC_ASSERT(parsed(is_marked ? text.substr(1) : text, style.unit) == rounded);
}

TEST(FormatLength, TakesTheGreatestLengths) {
  EXPECT_EQ(format_length(Length::ticks(INT64_MAX), {.unit = LengthUnit::mm}),
            "~461168601842.739 mm");
  EXPECT_EQ(format_length(Length::ticks(INT64_MIN), {.unit = LengthUnit::mm, .decimals = 8}),
            "-461168601842.7387904 mm");
}

TEST(ParseAngle, ReadsDegreesAndRadians) {
  const auto degrees = [](std::string_view text) {
    const auto angle = parse_angle(text);
    EXPECT_TRUE(angle) << text;
    return angle ? angle->in_degrees() : -1;
  };
  EXPECT_EQ(degrees("35 deg"), 35);
  EXPECT_EQ(degrees("35°"), 35);
  EXPECT_EQ(degrees("35.3°"), 35.3);
  EXPECT_EQ(degrees("22 1/2 deg"), 22.5);
  EXPECT_EQ(degrees("22½°"), 22.5);
  EXPECT_EQ(degrees("-15 deg"), -15);
  EXPECT_DOUBLE_EQ(degrees("0.61 rad"), 0.61 * 57.29577951308232);
}

TEST(ParseAngle, Refuses) {
  const auto code = [](std::string_view text) {
    const auto angle = parse_angle(text);
    return angle ? std::string_view("read") : angle.diagnostics().front().code;
  };
  EXPECT_EQ(code("35"), "measure.bare-angle");
  EXPECT_EQ(code(""), "measure.empty");
  EXPECT_EQ(code("steep"), "measure.not-an-angle");
  EXPECT_EQ(code("35 mm"), "measure.not-an-angle");
  EXPECT_EQ(code("35 deg 30'"), "measure.mixed-units");
  EXPECT_EQ(code("35,5 deg"), "measure.not-a-figure");
}

TEST(FormatAngle, DropsTrailingZeros) {
  EXPECT_EQ(format_angle(Angle::degrees(20)), "20°");
  EXPECT_EQ(format_angle(Angle::degrees(35.26438968), 1), "35.3°");
  EXPECT_EQ(format_angle(Angle::degrees(-0.01)), "0°");
  EXPECT_EQ(format_angle(Angle::degrees(100), 0), "100°");
}

}  // namespace
}  // namespace kw
