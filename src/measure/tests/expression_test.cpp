#include "kerfwright/measure/expression.h"

#include <cmath>
#include <gtest/gtest.h>
#include <map>
#include <string>
#include <vector>

namespace kw {
namespace {

constexpr double inch = static_cast<double>(Length::ticks_per_inch);
constexpr double mm = static_cast<double>(Length::ticks_per_mm);

const std::map<std::string, Value, std::less<>>& sizes() {
  static const std::map<std::string, Value, std::less<>> known = {
      {"height", value_of(Length::inches(30))},
      {"leg-a.length", value_of(Length::inches(29.6875))},
      {"leg.thickness", value_of(Length::inches(1.5))},
      {"lean", value_of(Angle::degrees(30))},
      {"count", value_of(4.0)}};
  return known;
}

Outcome<Value> looked_up(std::string_view name, Span at) {
  const auto found = sizes().find(name);
  if (found != sizes().end()) return found->second;
  return Diagnostic{.code = "test.unknown-name", .at = at, .message = std::string(name)};
}

Outcome<Value> evaluated(std::string_view text, LengthUnit bare = LengthUnit::inch) {
  const auto expression = parse_expression(text, bare);
  if (!expression) return expression.diagnostics();
  return evaluate(*expression, looked_up, bare);
}

struct Row {
  std::string_view text = {};
  double amount = 0;
  Dimension dimension = a_number;
};

void expect_values(const std::vector<Row>& rows) {
  for (const auto& [text, amount, dimension] : rows) {
    const auto value = evaluated(text);
    ASSERT_TRUE(value) << text << ": " << value.diagnostics().front().message;
    EXPECT_NEAR(value->amount, amount, 1e-12 * std::abs(amount)) << text;
    EXPECT_EQ(value->dimension, dimension) << text;
  }
}

TEST(Evaluate, ReadsFigures) {
  expect_values({{"24", 24},
                 {"29 11/16", 29.6875},
                 {"29 11/16 + 3", 32.6875},
                 {"29¾", 29.75},
                 {"3/4", 0.75},
                 {".5", 0.5},
                 {"30 - 3/4", 29.25},
                 {"2' 6", 30 * inch, a_length},
                 {"3' 2 3/8\"", 38.375 * inch, a_length},
                 {"2 ft 6 in - 1/2", 29.5 * inch, a_length},
                 {"5' - 6\"", 54 * inch, a_length},
                 {"810 mm", 810 * mm, a_length},
                 {"81 cm", 810 * mm, a_length},
                 {"0.81 m", 810 * mm, a_length},
                 {"24/2 in", 12 * inch, a_length},
                 {"35 deg", 35, an_angle},
                 {"22½°", 22.5, an_angle},
                 {"1 rad", 57.29577951308232, an_angle},
                 {"20 kg", 20, a_mass},
                 {"500 g", 0.5, a_mass},
                 {"1 lb", 0.45359237, a_mass},
                 {"16 oz", 0.45359237, a_mass},
                 {"pi", 3.141592653589793}});
}

TEST(Evaluate, BindsOperatorsByTheGrammar) {
  expect_values({{"2 + 3 * 4", 14},
                 {"(2 + 3) * 4", 20},
                 {"2 - 3 - 4", -5},
                 {"24 / 4 / 2", 3},
                 {"-2 ^ 2", -4},
                 {"2 ^ 3 ^ 2", 512},
                 {"2 ^ -1", 0.5},
                 {"--3", 3},
                 {"9 ^ (1/2)", 3},
                 {"2 * -3", -6},
                 {"3 \u2212 1", 2},
                 {"3 < 4", 1},
                 {"3 >= 4", 0},
                 {"1 + 2 == 3", 1},
                 {"1 != 1", 0},
                 {"(1 < 2) == 1", 1},
                 {"0.1 + 0.2 == 0.3", 1},
                 {"0.1 + 0.2 > 0.3", 0}});
}

TEST(Evaluate, ReckonsWithQuantities) {
  expect_values({{"height + 2", 32 * inch, a_length},
                 {"height - 25.4 mm", 29 * inch, a_length},
                 {"height / 2", 15 * inch, a_length},
                 {"leg-a.length - leg.thickness", 28.1875 * inch, a_length},
                 {"height-3/4", 29.25 * inch, a_length},
                 {"height / leg.thickness", 20},
                 {"height * 2 * height", 1800 * inch * inch, {.length = 2}},
                 {"sqrt(height * height)", 30 * inch, a_length},
                 {"(height * height) ^ (3/2)", 27000 * inch * inch * inch, {.length = 3}},
                 {"lean * 2 + 5 deg", 65, an_angle},
                 {"height > 30", 0},
                 {"height >= 30", 1},
                 {"height == 762 mm", 1},
                 {"1/3 in * 3 == 1 in", 1},
                 {"height * tan(lean) - leg.thickness / 2",
                  (30 * 0.57735026918962576451 - 0.75) * inch, a_length}});
}

TEST(Evaluate, KnowsItsFunctions) {
  expect_values({{"min(3, 1, 2)", 1},
                 {"max(height, 31)", 31 * inch, a_length},
                 {"max(1,200)", 200},
                 {"abs(-3 mm)", 3 * mm, a_length},
                 {"round-to(29 11/16, 1/2)", 29.5},
                 {"round-to(-0.25, 0.5)", -0.5},
                 {"round-up(height + 1/100, 1/16)", 30.0625 * inch, a_length},
                 {"round-down(height - 1/100, 1/16)", 29.9375 * inch, a_length},
                 {"round-up(1/3 in * 3, 1/16)", inch, a_length},
                 {"round-up(2.1 * 10, 1)", 21},
                 {"round-to(33.3 deg, 1/2 deg)", 33.5, an_angle},
                 {"sqrt(2)", 1.4142135623730951},
                 {"sin(lean)", 0.5},
                 {"cos(60 deg)", 0.5},
                 {"tan(45 deg)", 1},
                 {"asin(0.5)", 30, an_angle},
                 {"acos(0.5)", 60, an_angle},
                 {"atan(1)", 45, an_angle},
                 {"atan2(1, -1)", 135, an_angle},
                 {"atan2(3 in, 3)", 45, an_angle},
                 {"asin(1.0000000000001)", 90, an_angle},
                 {"hypot(3 in, 4)", 5 * inch, a_length},
                 {"hypot(2, 3, 6)", 7},
                 {"if(height > 2 ft, 1 in, 2)", inch, a_length},
                 {"if(count == 4, 3, 4 mm)", 3 * inch, a_length},
                 {"if(1 > 2, 1 / (1 - 1), 7)", 7}});
}

TEST(Evaluate, TakesLengthsWithinHalfATickAsEqual) {
  expect_values({{"1 in == 1 in + 1 mm / 50000000", 1},  // 0.4 tick
                 {"1 in + 1 mm / 50000000 > 1 in", 0},
                 {"1 in - 1 mm / 50000000 >= 1 in", 1},
                 {"1 in == 1 in + 1 mm / 33333333", 0},  // 0.6 tick
                 {"1 in + 1 mm / 33333333 > 1 in", 1},
                 {"1 in - 1 mm / 33333333 >= 1 in", 0}});
}

TEST(Evaluate, KeepsAllDigitsThatADoubleHas) {
  EXPECT_EQ(evaluated("0.5773502691896257")->amount, 0.5773502691896257);
  EXPECT_EQ(evaluated("0.000000000000000001")->amount, 1e-18);
  EXPECT_DOUBLE_EQ(evaluated("123456789012.123456789012345678901234567890")->amount,
                   123456789012.12345678901);
}

TEST(Evaluate, IsExactAtWholeAngles) {
  EXPECT_EQ(evaluated("sin(30 deg)")->amount, 0.5);
  EXPECT_EQ(evaluated("cos(90 deg)")->amount, 0.0);
  EXPECT_EQ(evaluated("tan(45 deg)")->amount, 1.0);
}

TEST(Evaluate, KeepsTypedLengthsExact) {
  EXPECT_EQ(evaluated("29 11/16 in + 3' 2 3/8\" - 1/256 in + 0.001 mm")->amount,
            475.0 * inch / 16 + 307.0 * inch / 8 - inch / 256 + 20'000);
}

TEST(Evaluate, ConvertsForcesToAndFromSi) {
  // NIST SP 811, appendix B.8: pound-force 4.448 222 N, psi 6.894 757 kPa.
  EXPECT_DOUBLE_EQ(in_si(*evaluated("1 lbf")), 4.4482216152605);
  EXPECT_DOUBLE_EQ(in_si(*evaluated("3 N")), 3.0);
  EXPECT_NEAR(in_si(*evaluated("1 lbf / (1 in)^2")), 6894.757, 5e-4);
  EXPECT_DOUBLE_EQ(in_si(*evaluated("2 m * 3 m")), 6.0);
  EXPECT_EQ(evaluated("5 lbf")->dimension, a_force);
  EXPECT_EQ(name_of(evaluated("1 N / 1 mm / 1 mm")->dimension), "a pressure");
}

TEST(Evaluate, KeepsABareNumberBare) {
  for (const std::string_view bare :
       {"24", "2 * 3", "sqrt(4) + 1", "-max(1, 2)", "if(1 < 2, 3, 4)"}) {
    EXPECT_TRUE(evaluated(bare)->is_bare) << bare;
  }
  for (const std::string_view other :
       {"2 * pi", "count", "count * 2", "1 < 2", "height / 1 in", "3 mm"}) {
    EXPECT_FALSE(evaluated(other)->is_bare) << other;
  }
}

struct Refusal {
  std::string_view text = {};
  std::string_view code = {};
  std::uint32_t begin = 0, end = 0;  // what is underlined
  std::string_view hint = {};        // a part of it
};

void expect_refused(const Refusal& row) {
  const auto [text, code, begin, end, hint] = row;
  const auto value = evaluated(text);
  ASSERT_FALSE(value) << text;
  const Diagnostic& d = value.diagnostics().front();
  EXPECT_EQ(d.code, code) << text;
  EXPECT_EQ(d.at, (Span{begin, end})) << text << " " << d.at.begin << "-" << d.at.end;
  EXPECT_NE(d.hint.find(hint), std::string::npos) << text << ": " << d.hint;
  EXPECT_FALSE(d.message.empty());
}

TEST(ParseExpression, RefusesBadSyntax) {
  const std::vector<Refusal> rows = {
      {"", "measure.empty", 0, 0},
      {"  ", "measure.empty", 0, 2},
      {"2 +", "measure.formula-syntax", 3, 3, "missing"},
      {"(2", "measure.formula-syntax", 2, 2},
      {"2)", "measure.formula-syntax", 1, 2},
      {"()", "measure.formula-syntax", 1, 2},
      {"2 x", "measure.formula-syntax", 2, 3, "multiply"},
      {"2 (3)", "measure.formula-syntax", 2, 3, "multiply"},
      {"height = 2", "measure.formula-syntax", 7, 8, "=="},
      {"1 < 2 < 3", "measure.formula-syntax", 6, 7, "brackets"},
      {"2 × 3", "measure.formula-syntax", 2, 4},
      {"leg.", "measure.formula-syntax", 3, 4},
      {"height\"", "measure.formula-syntax", 6, 7},
      {"min()", "measure.formula-syntax", 0, 5},
      {"sqrt(1, 2)", "measure.formula-syntax", 0, 10, "commas"},
      {"round-to(12,5, 1/16)", "measure.formula-syntax", 0, 20, "point"},
      {"sine(lean)", "measure.unknown-function", 0, 4, "sin"},
      {"frobnicate(1)", "measure.unknown-function", 0, 10, "round-to"}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(ParseExpression, RefusesDoubtfulFigures) {
  const std::vector<Refusal> rows = {
      {"29 11", "measure.not-a-figure", 0, 5, "29 11/16"},
      {"1,200 + 1", "measure.not-a-figure", 0, 5, "write 1200"},
      {"2 + 12,5", "measure.not-a-figure", 4, 8, "write 12.5"},
      {"(12,5)", "measure.not-a-figure", 1, 5, "write 12.5"},
      {"1e3", "measure.not-a-figure", 0, 3, "1000"},
      {"2 + 1/0", "measure.zero-below", 4, 7},
      {"2' 6 mm", "measure.mixed-units", 3, 7},
      {"29-11/16", "measure.not-a-figure", 0, 8, "write 29 11/16 for one figure, 29 - 11/16 for"},
      {"29-¾", "measure.not-a-figure", 0, 5, "write 29 ¾ for one figure, 29 - ¾ for"},
      {"3'-2\"", "measure.not-a-figure", 0, 4, "write 3' 2 for one figure, 3' - 2 for"},
      {"height / 3/4", "measure.formula-syntax", 9, 12, "(3/4)"},
      {"2 ^ 1/2", "measure.formula-syntax", 4, 7, "brackets"},
      {"3/4 ^ 2", "measure.formula-syntax", 0, 3, "brackets"}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(Evaluate, RefusesUnlikeDimensions) {
  const std::vector<Refusal> rows = {
      {"height + lean", "measure.dimension", 0, 13},
      {"2 * (height - count)", "measure.dimension", 4, 20, "its unit"},
      {"lean < 3", "measure.dimension", 0, 8, "35 deg"},
      {"sin(35)", "measure.dimension", 4, 6, "35 deg"},
      {"tan(height)", "measure.dimension", 4, 10},
      {"asin(lean)", "measure.dimension", 5, 9},
      {"sqrt(height)", "measure.dimension", 0, 12},
      {"height ^ lean", "measure.dimension", 9, 13},
      {"height ^ (1/2)", "measure.dimension", 0, 14},
      {"height ^ 21", "measure.dimension", 0, 11},
      {"height ^ 15 * height ^ 15", "measure.dimension", 0, 25},
      {"max(height, lean)", "measure.dimension", 0, 17},
      {"round-to(height, 1 deg)", "measure.dimension", 0, 23},
      {"if(height, 1, 2)", "measure.dimension", 3, 9, "compare it"},
      {"if(1 < 2, height, lean)", "measure.dimension", 0, 23},
      {"height ^ 2 + 4", "measure.dimension", 0, 14, "its unit"}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(Evaluate, RefusesWhatIsNotFinite) {
  const std::vector<Refusal> rows = {{"height / (count - 4)", "measure.not-finite", 9, 20},
                                     {"1 / 0", "measure.not-finite", 4, 5},
                                     {"sqrt(-1)", "measure.not-finite", 5, 7},
                                     {"tan(90 deg)", "measure.not-finite", 0, 11},
                                     {"asin(2)", "measure.not-finite", 5, 6},
                                     {"atan2(0, 0)", "measure.not-finite", 0, 11},
                                     {"(-8) ^ 0.5", "measure.not-finite", 0, 10},
                                     {"0 ^ -1", "measure.not-finite", 0, 6},
                                     {"10 ^ 200 * 10 ^ 200", "measure.not-finite", 0, 19},
                                     {"10 ^ 400", "measure.not-finite", 0, 8},
                                     {"round-to(3, 0)", "measure.not-finite", 12, 13},
                                     {"if(1 / 0, 1, 2)", "measure.not-finite", 7, 8},
                                     {"if(1 < 2, 1 / 0, 2)", "measure.not-finite", 14, 15}};
  for (const Refusal& row : rows) expect_refused(row);
}

TEST(Evaluate, NamesBothSidesOfAClash) {
  const auto value = evaluated("height + lean * 2");
  ASSERT_FALSE(value);
  const Diagnostic& d = value.diagnostics().front();
  EXPECT_EQ(d.message, "cannot add an angle to a length");
  ASSERT_EQ(d.notes.size(), 2U);
  EXPECT_EQ(d.notes[0].at, (Span{0, 6}));
  EXPECT_EQ(d.notes[0].message, "this is a length");
  EXPECT_EQ(d.notes[1].at, (Span{9, 17}));
  EXPECT_EQ(d.notes[1].message, "this is an angle");
}

TEST(Evaluate, GathersAllFaultsOnce) {
  const auto value = evaluated("wide + 1 / 0 + (height + lean) + deep");
  ASSERT_FALSE(value);
  std::vector<std::string_view> codes;
  for (const Diagnostic& d : value.diagnostics()) codes.push_back(d.code);
  EXPECT_EQ(codes, (std::vector<std::string_view>{"test.unknown-name", "measure.not-finite",
                                                  "measure.dimension", "test.unknown-name"}));
  EXPECT_EQ(evaluated("round-to(3, 1 / 0)").diagnostics().size(), 1U);
  EXPECT_EQ(evaluated("sqrt(1 / 0 - 1) * 2 + tan(lean)").diagnostics().size(), 1U);
}

TEST(Evaluate, ChecksTheBranchNotTakenButForFiniteValues) {
  EXPECT_EQ(evaluated("if(count > 0, height, height / 0)")->amount, 30 * inch);
  EXPECT_EQ(evaluated("if(1 < 2, 1, height / 0)")->amount, inch);
  EXPECT_EQ(evaluated("if(1 < 2, height, lean / 0)").diagnostics().front().code,
            "measure.dimension");
  EXPECT_EQ(evaluated("if(1 < 2, 1, wide)").diagnostics().front().code, "test.unknown-name");
  EXPECT_EQ(evaluated("if(1 > 2, if(1 < 2, 1 / 0, 3), 5)")->amount, 5);
  EXPECT_EQ(evaluated("if(1 > 2, if(1 / 0, sqrt(-1), 1 / 0), 5)")->amount, 5);
}

TEST(Evaluate, PassesOnWhatTheLookupSays) {
  const auto expression = parse_expression("far + near", LengthUnit::inch);
  const auto lookup = [](std::string_view name, Span at) -> Outcome<Value> {
    if (name == "far") return value_of(std::nan(""));
    return {value_of(1.0),
            {Diagnostic{.code = "test.old", .severity = Severity::warning, .at = at}}};
  };
  const auto value = evaluate(*expression, lookup, LengthUnit::inch);
  ASSERT_EQ(value.diagnostics().size(), 2U);
  EXPECT_EQ(value.diagnostics()[0].code, "measure.not-finite");
  EXPECT_EQ(value.diagnostics()[1].code, "test.old");
  const auto fine =
      evaluate(*parse_expression("near * 2", LengthUnit::inch), lookup, LengthUnit::inch);
  ASSERT_TRUE(fine);
  EXPECT_EQ(fine->amount, 2);
  EXPECT_EQ(fine.diagnostics().size(), 1U);
}

TEST(Evaluate, TakesAnEmptyExpression) {
  const auto value = evaluate(Expression(), looked_up, LengthUnit::inch);
  EXPECT_EQ(value.diagnostics().front().code, "measure.empty");
  EXPECT_TRUE(names_in(Expression()).empty());
}

TEST(ParseExpression, BoundsLengthAndDepth) {
  const auto code = [](const std::string& text) {
    const auto expression = parse_expression(text, LengthUnit::inch);
    return expression ? std::string_view("read") : expression.diagnostics().front().code;
  };
  const auto repeated = [](std::string_view part, int n) {
    std::string text;
    for (int i = 0; i < n; ++i) text += part;
    return text;
  };
  EXPECT_EQ(code(repeated("(", 40) + "1" + repeated(")", 40)), "read");
  EXPECT_EQ(code(repeated("(", 41) + "1" + repeated(")", 41)), "measure.formula-too-deep");
  EXPECT_EQ(code(repeated("(", 900)), "measure.formula-too-deep");
  EXPECT_EQ(code(repeated("-", 900) + "1"), "measure.formula-too-deep");
  EXPECT_EQ(code(repeated("1^", 400) + "1"), "measure.formula-too-deep");
  EXPECT_EQ(code(repeated("abs(", 200)), "measure.formula-too-deep");
  EXPECT_EQ(code(repeated("a+", 99) + "a"), "read");
  EXPECT_EQ(code(repeated("a+", 100) + "a"), "measure.formula-too-long");
  EXPECT_EQ(code("1" + std::string(1000, ' ')), "measure.formula-too-long");
}

TEST(ParseExpression, ShiftsItsPlaces) {
  const auto expression = parse_expression("height + leg-a.length", LengthUnit::inch, 50);
  const auto names = names_in(*expression);
  ASSERT_EQ(names.size(), 2U);
  EXPECT_EQ(names[0].at, (Span{50, 56}));
  EXPECT_EQ(names[1].name, "leg-a.length");
  EXPECT_EQ(names[1].at, (Span{59, 71}));
  EXPECT_EQ(parse_expression("2 2", LengthUnit::inch, 50).diagnostics().front().at, (Span{50, 53}));
}

TEST(NamesIn, NamesEachOnceInOrder) {
  const auto expression =
      parse_expression("b-c * a - max(b-c-1, a_2.x, pi) + b - 1", LengthUnit::mm);
  std::vector<std::string> names;
  for (const NameUse& use : names_in(*expression)) names.push_back(use.name);
  EXPECT_EQ(names, (std::vector<std::string>{"b-c", "a", "a_2.x", "b"}));
  EXPECT_EQ(names_in(*parse_expression("2 * (a)", LengthUnit::mm)).front().at, (Span{5, 6}));
}

TEST(AsDifference, SplitsAtAHyphenBetweenKnownNames) {
  const std::vector<std::string> known = {"width", "kerf", "leg-a", "b"};
  EXPECT_EQ(as_difference("width-kerf", known), "width - kerf");
  EXPECT_EQ(as_difference("leg-a-b", known), "leg-a - b");
  EXPECT_EQ(as_difference("width-depth", known), "");
  EXPECT_EQ(as_difference("width", known), "");
}

TEST(ToLength, TakesABareNumberInTheUnitOfTheFile) {
  const auto length = [](std::string_view text, LengthUnit bare) {
    return to_length(*evaluated(text, bare), bare, {3, 5});
  };
  EXPECT_EQ(*length("29 11/16", LengthUnit::inch),
            Length::ticks(475 * Length::ticks_per_inch / 16));
  EXPECT_EQ(*length("12.345", LengthUnit::mm), Length::ticks(246'900'000));
  EXPECT_EQ(*length("height", LengthUnit::mm), Length::inches(30));
  EXPECT_EQ(to_length({0.6, a_length}, LengthUnit::mm, {})->in_ticks(), 1);
  EXPECT_EQ(to_length({-0.6, a_length}, LengthUnit::mm, {})->in_ticks(), -1);
  EXPECT_EQ(length("count", LengthUnit::mm).diagnostics().front().code, "measure.dimension");
  EXPECT_EQ(length("lean", LengthUnit::mm).diagnostics().front().at, (Span{3, 5}));
  EXPECT_EQ(length("10000001", LengthUnit::mm).diagnostics().front().code, "measure.too-long");
  EXPECT_EQ(to_length({std::nan(""), a_length}, LengthUnit::mm, {}).diagnostics().front().code,
            "measure.too-long");
}

TEST(ToAngle, RefusesABareNumberWithTheWayOut) {
  EXPECT_EQ(to_angle(*evaluated("lean"), {})->in_degrees(), 30);
  const auto bare = to_angle(*evaluated("35"), {});
  ASSERT_FALSE(bare);
  EXPECT_EQ(bare.diagnostics().front().message, "an angle is wanted here, and this is a number");
  EXPECT_NE(bare.diagnostics().front().hint.find("35 deg"), std::string::npos);
}

TEST(ToNumber, TakesNumbersOnly) {
  EXPECT_EQ(*to_number(*evaluated("count * 2"), {}), 8);
  EXPECT_EQ(to_number(*evaluated("height"), {}).diagnostics().front().code, "measure.dimension");
}

TEST(NameOf, SpeaksPlainly) {
  EXPECT_EQ(name_of(a_length), "a length");
  EXPECT_EQ(name_of({.length = 2}), "an area");
  EXPECT_EQ(name_of({.length = 2, .mass = 1}), "length^2 mass");
  EXPECT_EQ(name_of({.length = -1}), "length^-1");
}

}  // namespace
}  // namespace kw
