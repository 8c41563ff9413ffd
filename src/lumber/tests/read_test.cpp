#include <algorithm>
#include <fstream>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <sstream>

#include "kerfwright/lumber/catalogue.h"

namespace kw {
namespace {

constexpr const char* good_size =
    "[source]\nmill = \"our own caliper\"\n"
    "[[size]]\nname = \"2x4\"\nkind = \"dimension\"\ndry = [\"1 1/2\", \"3 1/2\"]\n"
    "source = \"mill\"\n";

Reading<Catalogue> read(const std::string& content) {
  return read_catalogue({{"t.toml", content}});
}

// The bytes of the text that a diagnostic underlines.
std::string underlined(const std::string& content, const Diagnostic& d) {
  return content.substr(d.at.begin, d.at.end - d.at.begin);
}

std::vector<std::string_view> codes_of(const Diagnostics& diagnostics) {
  std::vector<std::string_view> codes;
  for (const Diagnostic& d : diagnostics) codes.push_back(d.code);
  return codes;
}

using Codes = std::vector<std::string_view>;

std::string changed(std::string text, std::string_view from, std::string_view to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(ReadCatalogue, TakesARow) {
  const auto reading = read(good_size);
  EXPECT_TRUE(reading.diagnostics.empty());
  ASSERT_EQ(reading.value.sizes.size(), 1U);
  EXPECT_EQ(reading.value.sizes[0].dry.width, Length::inches(3.5));
  EXPECT_EQ(reading.value.sizes[0].source, "our own caliper");
}

TEST(ReadCatalogue, TakesNoTablesAndEmptyOnes) {
  EXPECT_TRUE(read_catalogue({}).diagnostics.empty());
  EXPECT_TRUE(read("").diagnostics.empty());
}

TEST(ReadCatalogue, PointsAtAFaultOfSyntax) {
  const std::string content = "\xEF\xBB\xBF# \xC3\xA9\nsize = [\n  {name = @}\n]\n";
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.syntax"});
  EXPECT_EQ(reading.diagnostics[0].at.begin, content.find('@'));
  EXPECT_EQ(reading.diagnostics[0].message.rfind("t.toml, line 3: ", 0), 0U);
}

TEST(ReadCatalogue, RefusesAHugeText) {
  EXPECT_EQ(codes_of(read(std::string(1'000'001, '#')).diagnostics), Codes{"lumber.syntax"});
}

TEST(ReadCatalogue, RefusesARowWithoutASource) {
  const auto reading = read(changed(good_size, "source = \"mill\"", ""));
  EXPECT_EQ(codes_of(reading.diagnostics), Codes{"lumber.no-source"});
  EXPECT_TRUE(reading.value.sizes.empty());
}

TEST(ReadCatalogue, RefusesASourceThatIsNotDefined) {
  const std::string content = changed(good_size, "source = \"mill\"", "source = \"mil\"");
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.no-source"});
  EXPECT_EQ(underlined(content, reading.diagnostics[0]), "\"mil\"");
  EXPECT_EQ(reading.diagnostics[0].hint, "did you mean `mill`?");
}

TEST(ReadCatalogue, NamesTheKeyThatIsMissing) {
  const auto reading = read(changed(good_size, "kind = \"dimension\"\n", ""));
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.missing"});
  EXPECT_EQ(reading.diagnostics[0].message, "t.toml, line 3: `2x4` has no `kind`");
}

TEST(ReadCatalogue, NamesTheNearestKey) {
  const std::string content = changed(good_size, "kind =", "knid =");
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), (Codes{"lumber.missing", "lumber.unknown-key"}));
  EXPECT_EQ(underlined(content, reading.diagnostics[1]), "knid");
  EXPECT_EQ(reading.diagnostics[1].hint, "did you mean `kind`?");
}

TEST(ReadCatalogue, RefusesKeysAtTheTopThatItDoesNotKnow) {
  const std::string content = std::string("sizes = []\n") + good_size;
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.unknown-key"});
  EXPECT_EQ(reading.diagnostics[0].hint, "did you mean `size`?");
  EXPECT_EQ(reading.value.sizes.size(), 1U);
}

TEST(ReadCatalogue, PointsIntoABadLength) {
  const std::string content = changed(good_size, "\"3 1/2\"", "\"3 1/0\"");
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.bad-value"});
  const Diagnostic& fault = reading.diagnostics[0];
  EXPECT_GE(fault.at.begin, content.find("3 1/0"));
  EXPECT_LE(fault.at.end, content.find("3 1/0") + 5);
}

struct BadValue {
  const char* from = "";
  const char* to = "";
};

TEST(ReadCatalogue, RefusesValuesOfTheWrongKind) {
  const BadValue cases[] = {
      {"\"2x4\"", "24"},
      {"\"2x4\"", "\" \""},
      {"\"dimension\"", "\"dimensional\""},
      {"\"dimension\"", "true"},
      {"[\"1 1/2\", \"3 1/2\"]", "\"1 1/2\""},
      {"[\"1 1/2\", \"3 1/2\"]", "[\"1 1/2\"]"},
      {"[\"1 1/2\", \"3 1/2\"]", "[1.5, 3.5]"},
      {"\"3 1/2\"", "\"0\""},
      {"\"3 1/2\"", "\"-3\""},
      {"\"3 1/2\"", "\"200 m\""},
      {"source = \"mill\"", "source = \"mill\"\nsold = \"yard\""},
      {"source = \"mill\"", "source = \"mill\"\nsheet_length = \"96\""},
      {"source = \"mill\"", "source = \"mill\"\nthinnest = \"1\""},
      {"source = \"mill\"", "source = \"mill\"\nthinnest = \"1\"\nthickest = \"1 1/4\""},
      {"source = \"mill\"", "source = \"mill\"\naka = \"stud\""},
      {"source = \"mill\"", "source = 1979-05-27"},
      {"\"our own caliper\"", "\"\""},
      {"[[size]]\n", "[size]\n"},
  };
  for (const BadValue& each : cases) {
    const auto reading = read(changed(good_size, each.from, each.to));
    ASSERT_FALSE(reading.diagnostics.empty()) << each.to;
    EXPECT_EQ(reading.diagnostics[0].code, "lumber.bad-value") << each.to;
    EXPECT_TRUE(has_errors(reading.diagnostics));
    EXPECT_FALSE(reading.diagnostics[0].hint.empty()) << each.to;
    const bool is_of_the_source = std::string_view(each.to) == "\"\"";
    EXPECT_TRUE(reading.value.sizes.empty() || is_of_the_source) << each.to;
  }
}

TEST(ReadCatalogue, RefusesFiguresThatNoWoodHas) {
  const std::string head =
      "[source]\nbook = \"a book\"\n[[species]]\nname = \"Oak\"\nkind = \"hardwood\"\n";
  for (const char* line :
       {"gravity_12 = {is = 68, source = \"book\"}", "gravity_12 = {is = nan, source = \"book\"}",
        "strength = {rupture_kPa = 15.2, source = \"book\"}",
        "movement = {radial = 0.18, source = \"book\"}",
        "shrinkage = {volume = -3, source = \"book\"}", "cautions = [\"dust\"]"}) {
    EXPECT_EQ(codes_of(read(head + line).diagnostics), Codes{"lumber.bad-value"}) << line;
  }
  EXPECT_EQ(codes_of(read(head + "gravity_nds = {is = 0.6}").diagnostics),
            Codes{"lumber.no-source"});
}

TEST(ReadCatalogue, RefusesAFastenerThatCannotBe) {
  const std::string good =
      "[source]\nbox = \"the box\"\n[[fastener]]\nname = \"screw\"\nkind = \"wood_screw\"\n"
      "length = \"2\"\ndiameter = \"0.164\"\nsource = \"box\"\n";
  EXPECT_TRUE(read(good).diagnostics.empty());
  EXPECT_EQ(codes_of(read(good + "root = \"0.2\"").diagnostics), Codes{"lumber.bad-value"});
  EXPECT_EQ(codes_of(read(good + "thread = \"2 1/2\"").diagnostics), Codes{"lumber.bad-value"});
  EXPECT_EQ(codes_of(read(good + "pilot_soft = \"1/8\"").diagnostics), Codes{"lumber.no-source"});
}

TEST(ReadCatalogue, RefusesAFinishWithHalfACoat) {
  const std::string good =
      "[source]\ntin = \"the tin\"\n[[finish]]\nname = \"oil\"\nuse = \"indoors\"\nsource = "
      "\"tin\"\n";
  EXPECT_TRUE(read(good + "coats = 2").diagnostics.empty());
  EXPECT_EQ(codes_of(read(good + "coats = 2.5").diagnostics), Codes{"lumber.bad-value"});
  EXPECT_EQ(codes_of(read(good + "coats = 0").diagnostics), Codes{"lumber.bad-value"});
  EXPECT_EQ(codes_of(read(good + "coats = 1\ncoverage_ft2_per_gallon = [9, 8]").diagnostics),
            Codes{"lumber.bad-value"});
}

TEST(ReadCatalogue, RefusesANameUsedTwiceAndSaysWhere) {
  const std::string content = std::string(good_size) +
                              "[[size]]\nname = \"stud\"\naka = [\"2 X 4\"]\nkind = \"board\"\n" +
                              "dry = [\"1\", \"2\"]\nsource = \"mill\"\n";
  const auto reading = read(content);
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.twice"});
  EXPECT_EQ(reading.diagnostics[0].message,
            "t.toml, line 8: `2 X 4` already names `2x4` (t.toml, line 3)");
  EXPECT_EQ(reading.value.sizes.size(), 1U);
}

TEST(ReadCatalogue, RefusesANameTakenInAnotherFile) {
  const auto reading = read_catalogue({{"a.toml", good_size}, {"b.toml", good_size}});
  ASSERT_EQ(codes_of(reading.diagnostics), Codes{"lumber.twice"});
  EXPECT_EQ(reading.diagnostics[0].message,
            "b.toml, line 3: `2x4` already names `2x4` (a.toml, line 3)");
}

TEST(ReadCatalogue, TellsAllFaultsInTheOrderOfTheText) {
  std::string content = changed(good_size, "\"dimension\"", "\"oak\"");
  content = changed(content, "\"3 1/2\"", "3.5");
  content += "colour = \"blue\"\n";
  const auto reading = read(content);
  EXPECT_EQ(codes_of(reading.diagnostics),
            (Codes{"lumber.bad-value", "lumber.bad-value", "lumber.unknown-key"}));
  EXPECT_TRUE(std::is_sorted(
      reading.diagnostics.begin(), reading.diagnostics.end(),
      [](const Diagnostic& a, const Diagnostic& b) { return a.at.begin < b.at.begin; }));
}

TEST(ReadCatalogue, KeepsTheGoodRowsOfABadFile) {
  const std::string content = std::string(good_size) + "[[size]]\nname = \"2x6\"\n";
  const auto reading = read(content);
  EXPECT_FALSE(reading.diagnostics.empty());
  EXPECT_EQ(reading.value.sizes.size(), 1U);
}

TEST(ReadCatalogue, TellsNoMoreThanAHundredFaultsOfAFile) {
  std::string content;
  for (int i = 0; i < 40'000; ++i) content += "[[size]]\nname=7\n";
  EXPECT_EQ(read(content).diagnostics.size(), 100U);
}

TEST(ReadCatalogue, StaysQuickOnAMegabyteOfUnknownKeys) {
  std::string content = "[source]\n";
  for (int i = 0; i < 30'000; ++i) content += "s" + std::to_string(i) + " = \"x\"\n";
  for (int i = 0; i < 20'000; ++i) content += "[[finish]]\nsource = \"t\"\n";
  EXPECT_EQ(read(content).diagnostics.size(), 100U);
}

TEST(ReadCatalogue, StaysQuickOnARowOfAHundredThousandKeys) {
  std::string content = "[[size]]\n";
  for (int i = 0; i < 100'000; ++i) content += "k" + std::to_string(i) + "=1\n";
  EXPECT_EQ(read(content).diagnostics.size(), 100U);
}

TEST(ReadCatalogue, RepeatsOnlyTheBeginningOfALongWord) {
  const std::string word(500'000, 'w');
  const auto reading =
      read("[[size]]\nname = \"" + word + "\"\nkind = \"" + word.substr(9) + "\"\n");
  ASSERT_FALSE(reading.diagnostics.empty());
  for (const Diagnostic& d : reading.diagnostics) EXPECT_LT(d.message.size(), 500U);
}

const std::vector<Text>& tables_of_the_tree() {
  static const std::vector<Text> tables = [] {
    std::vector<Text> texts;
    for (const char* name :
         {"sizes", "species", "screws", "nails", "dowels", "bolts", "adhesives", "finishes"}) {
      std::ifstream file(std::string(KW_SOURCE_DIR) + "/data/" + name + ".toml");
      std::stringstream content;
      content << file.rdbuf();
      texts.push_back({std::string("data/") + name + ".toml", content.str()});
    }
    return texts;
  }();
  return tables;
}

TEST(BuiltInCatalogue, IsWhatTheTablesOfTheTreeSay) {
  const auto reading = read_catalogue(tables_of_the_tree());
  ASSERT_TRUE(reading.diagnostics.empty()) << reading.diagnostics[0].message;
  const auto here = look_up(reading.value, "", LengthUnit::inch);
  const auto built_in = look_up(built_in_catalogue(), "", LengthUnit::inch);
  ASSERT_EQ(here.size(), built_in.size());
  for (std::size_t i = 0; i < here.size(); ++i) {
    EXPECT_EQ(here[i].name, built_in[i].name);
    EXPECT_EQ(here[i].rows, built_in[i].rows) << here[i].name;
    EXPECT_EQ(here[i].sources, built_in[i].sources) << here[i].name;
  }
}

// The build cuts the tables into strings by bytes.
TEST(BuiltInCatalogue, ComesFromPlainAscii) {
  for (const Text& text : tables_of_the_tree()) {
    EXPECT_FALSE(text.content.empty()) << text.name;
    EXPECT_TRUE(std::all_of(text.content.begin(), text.content.end(), [](char c) {
      return (static_cast<unsigned char>(c) & 0x80U) == 0;
    })) << text.name;
  }
}

TEST(BuiltInCatalogue, NamesASourceForEveryFigure) {
  const Catalogue& book = built_in_catalogue();
  for (const NominalSize& size : book.sizes) {
    EXPECT_FALSE(size.source.empty()) << size.name;
    EXPECT_EQ(size.lengths.empty(), size.length_source.empty()) << size.name;
  }
  for (const Species& wood : book.species) {
    EXPECT_EQ(wood.gravity_12 || wood.gravity_nds, !wood.gravity_source.empty()) << wood.name;
    EXPECT_EQ(wood.rupture.has_value(), !wood.strength_source.empty()) << wood.name;
    EXPECT_EQ(wood.shrink_volume.has_value(), !wood.shrinkage_source.empty()) << wood.name;
    EXPECT_EQ(wood.move_radial.has_value(), !wood.movement_source.empty()) << wood.name;
    EXPECT_FALSE(wood.gravity_source.empty() && wood.movement_source.empty()) << wood.name;
  }
  for (const Fastener& each : book.fasteners) {
    EXPECT_FALSE(each.source.empty()) << each.name;
    const bool has_holes = each.pilot_soft != Length() || each.clearance != Length();
    EXPECT_EQ(has_holes, !each.pilot_source.empty()) << each.name;
  }
  for (const Adhesive& each : book.adhesives) EXPECT_FALSE(each.source.empty()) << each.name;
  for (const Finish& each : book.finishes) EXPECT_FALSE(each.source.empty()) << each.name;
}

RC_GTEST_PROP(ReadCatalogue, NeverFailsOnTextThatIsNotATable, ()) {
  static const std::string letters =
      std::string("[]{}=\".,#\n\r\t ab01-:\\'sizename") + '\0' + "\xC3\xA9\xFF";
  const auto content = *rc::gen::container<std::string>(rc::gen::elementOf(letters));
  const auto reading = read(content);
  for (const Diagnostic& d : reading.diagnostics) RC_ASSERT(d.at.begin <= content.size());
}

RC_GTEST_PROP(ReadCatalogue, AnswersADamagedTableWithPlacesInsideIt, ()) {
  const auto& tables = tables_of_the_tree();
  std::string content = tables[*rc::gen::inRange<std::size_t>(0, tables.size())].content;
  content.resize(std::min<std::size_t>(content.size(), 4000));
  for (int i = *rc::gen::inRange(1, 5); i > 0; --i) {
    const auto at = *rc::gen::inRange<std::size_t>(0, content.size());
    content[at] = *rc::gen::arbitrary<char>();
  }
  const auto reading = read(content);
  for (const Diagnostic& d : reading.diagnostics) {
    RC_ASSERT(d.at.begin <= d.at.end);
    RC_ASSERT(d.at.end <= content.size());
    RC_ASSERT(!d.hint.empty());
  }
}

}  // namespace
}  // namespace kw
