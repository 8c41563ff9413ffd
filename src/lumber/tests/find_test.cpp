#include <algorithm>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "kerfwright/lumber/catalogue.h"

namespace kw {
namespace {

const Catalogue& book() {
  return built_in_catalogue();
}

std::vector<std::string> names_found(std::string_view query) {
  std::vector<std::string> names;
  for (const Found& found : look_up(book(), query, LengthUnit::inch)) names.push_back(found.name);
  return names;
}

bool has(const std::vector<std::string>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

TEST(Find, TakesTheWordsInAnyOrder) {
  const Species* oak = find_species(book(), "Oak, white");
  ASSERT_NE(oak, nullptr);
  EXPECT_EQ(find_species(book(), "white oak"), oak);
  EXPECT_EQ(find_species(book(), "WHITE-OAK"), oak);
  EXPECT_EQ(find_species(book(), "  oak ,White"), oak);
}

TEST(Find, TakesASizeAsOneWordHoweverItIsSpaced) {
  const Fastener* screw = find_fastener(book(), "wood screw 8 x 1-1/4");
  ASSERT_NE(screw, nullptr);
  for (const char* name :
       {"screw-8x1-1/4", "screw 8x1 1/4", "wood screw #8 x 1 1/4\"", "8 x 1-1/4 wood screw",
        "wood-screw 8x 1-1/4", "wood screw 8 \xC3\x97 1-1/4"}) {
    EXPECT_EQ(find_fastener(book(), name), screw) << name;
  }
  EXPECT_EQ(find_size(book(), "2 X 4"), find_size(book(), "2x4"));
  EXPECT_EQ(find_size(book(), "picket 5/8 x 5 1/2"), find_size(book(), "1x6 picket"));
}

TEST(Find, TellsASizeFromItsMirrorImage) {
  EXPECT_NE(find_size(book(), "2x4"), nullptr);
  EXPECT_EQ(find_size(book(), "4x2"), nullptr);
  EXPECT_EQ(find_fastener(book(), "wood screw 1 x 8-1/4"), nullptr);
}

TEST(Find, GivesNothingForNothing) {
  for (const char* name : {"", " ", "-", ",,", "no such wood", "x", "\xFF\xFE", "1/"}) {
    EXPECT_EQ(find_size(book(), name), nullptr) << name;
    EXPECT_EQ(find_species(book(), name), nullptr) << name;
    EXPECT_EQ(find_fastener(book(), name), nullptr) << name;
    EXPECT_EQ(find_adhesive(book(), name), nullptr) << name;
    EXPECT_EQ(find_finish(book(), name), nullptr) << name;
  }
}

TEST(Find, ReachesEveryRowByEachOfItsNames) {
  const auto reaches = [](const auto& rows, auto find) {
    for (const auto& row : rows) {
      EXPECT_EQ(find(book(), row.name), &row) << row.name;
      for (const std::string& name : row.aka) EXPECT_EQ(find(book(), name), &row) << name;
    }
  };
  reaches(book().sizes, find_size);
  reaches(book().species, find_species);
  reaches(book().fasteners, find_fastener);
  reaches(book().adhesives, find_adhesive);
  reaches(book().finishes, find_finish);
}

TEST(Names, HoldEachNameAndOtherName) {
  EXPECT_TRUE(has(size_names(book()), "2x4"));
  EXPECT_TRUE(has(size_names(book()), "1x6 picket"));
  EXPECT_TRUE(has(species_names(book()), "SPF"));
  EXPECT_TRUE(has(fastener_names(book()), "screw-8x1-1/4"));
}

TEST(LookUp, FindsPartsOfWordsButWholeFigures) {
  EXPECT_TRUE(has(names_found("cedar western"), "Cedar, western redcedar"));
  EXPECT_FALSE(has(names_found("cedar western"), "Cedar, incense"));
  const auto eights = names_found("wood screw 8");
  EXPECT_TRUE(has(eights, "wood screw 8 x 1-1/4"));
  EXPECT_FALSE(has(eights, "wood screw 10 x 1-3/4"));
  EXPECT_TRUE(has(names_found("screw 1-1/4"), "wood screw 8 x 1-1/4"));
  EXPECT_TRUE(names_found("no such thing").empty());
}

TEST(LookUp, GivesEveryRowForAnEmptyQuestion) {
  EXPECT_EQ(names_found(" ").size(), book().sizes.size() + book().species.size() +
                                         book().fasteners.size() + book().adhesives.size() +
                                         book().finishes.size());
}

TEST(LookUp, WritesEveryRowWithASource) {
  for (const LengthUnit unit : {LengthUnit::inch, LengthUnit::mm}) {
    for (const Found& found : look_up(book(), "", unit)) {
      EXPECT_FALSE(found.kind.empty()) << found.name;
      EXPECT_FALSE(found.rows.empty()) << found.name;
      EXPECT_FALSE(found.sources.empty()) << found.name;
    }
  }
}

TEST(LookUp, WritesFiguresInTheUnitAskedFor) {
  using Row = std::pair<std::string, std::string>;
  const auto rows_of = [](std::string_view query, LengthUnit unit) {
    return look_up(book(), query, unit).at(0).rows;
  };
  const auto inch = rows_of("white oak", LengthUnit::inch);
  const auto metric = rows_of("white oak", LengthUnit::mm);
  const auto holds = [](const std::vector<Row>& rows, const Row& row) {
    return std::find(rows.begin(), rows.end(), row) != rows.end();
  };
  EXPECT_TRUE(holds(inch, {"density at 12 %", "47.5 lb/ft^3"}));
  EXPECT_TRUE(holds(metric, {"density at 12 %", "762 kg/m^3"}));
  EXPECT_TRUE(holds(inch, {"modulus of elasticity", "1.78 million psi"}));
  EXPECT_TRUE(holds(metric, {"modulus of rupture", "105.0 MPa"}));
  EXPECT_TRUE(holds(inch, {"side hardness", "1349 lbf"}));
  EXPECT_TRUE(holds(inch, {"movement per 1 % moisture, tangential", "0.00365"}));
  EXPECT_TRUE(holds(rows_of("2x4", LengthUnit::inch), {"dry", "1 1/2\" x 3 1/2\""}));
  EXPECT_TRUE(holds(rows_of("2x4", LengthUnit::mm), {"dry", "38.1 mm x 88.9 mm"}));
  EXPECT_TRUE(holds(rows_of("wood screw 8 1-1/4", LengthUnit::inch), {"diameter", "0.164\""}));
  EXPECT_TRUE(holds(rows_of("exterior stain new smooth", LengthUnit::inch),
                    {"coverage of a coat", "200 to 225 ft^2/gal"}));
}

RC_GTEST_PROP(Find, IsIndifferentToCaseHyphensAndOrder, ()) {
  const auto& species = book().species;
  const auto& name = species[*rc::gen::inRange<std::size_t>(0, species.size())].name;
  std::vector<std::string> words(1);
  for (const char c : name) {
    if (std::string_view(" ,-()").find(c) != std::string_view::npos) {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += c;
    }
  }
  const auto cut = *rc::gen::inRange<std::size_t>(0, words.size());
  std::rotate(words.begin(), words.begin() + static_cast<std::ptrdiff_t>(cut), words.end());
  std::string turned;
  for (const std::string& word : words) turned += (*rc::gen::arbitrary<bool>() ? "-" : ", ") + word;
  if (*rc::gen::arbitrary<bool>()) {
    std::transform(turned.begin(), turned.end(), turned.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  }
  const Species* found = find_species(book(), turned);
  RC_ASSERT(found != nullptr);
  RC_ASSERT(found->name == name);
}

}  // namespace
}  // namespace kw
