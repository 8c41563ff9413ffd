#include "kerfwright/diag/diagnostic.h"

#include <gtest/gtest.h>

#include "kerfwright/diag/outcome.h"

namespace kw {
namespace {

TEST(Render, UnderlinesTheWordsInTheirLine) {
  const Text text{"a.toml", "x = 1\nwidth = \"12 1/0\"\n"};
  const Diagnostic d{.code = "measure.zero-below", .at = {15, 21}, .message = "no", .hint = "do"};
  EXPECT_EQ(render(text, d),
            "a.toml:2:10: error: no [measure.zero-below]\n"
            "  | width = \"12 1/0\"\n"
            "  |          ^^^^^^\n"
            "  = hint: do\n");
}

TEST(Render, CountsCodePointsNotBytes) {
  const Text text{"a", "s = \"½\" z"};
  const Position p = position_of(text, 9);
  EXPECT_EQ(p, (Position{1, 9}));
}

TEST(Render, SkipsAByteOrderMarkAndCarriageReturns) {
  const Text text{"a",
                  "\xEF\xBB\xBF"
                  "ab\r\ncd"};
  EXPECT_EQ(position_of(text, 3), (Position{1, 1}));
  EXPECT_EQ(position_of(text, 7), (Position{2, 1}));
  const auto shown = render(text, Diagnostic{.code = "c", .at = {3, 5}, .message = "m"});
  EXPECT_NE(shown.find("  | ab\n  | ^^\n"), std::string::npos);
}

TEST(Render, TakesAPlacePastTheEnd) {
  const Text text{"a", "short"};
  EXPECT_NO_FATAL_FAILURE(static_cast<void>(render(text, Diagnostic{.code = "c", .at = {90, 99}})));
  EXPECT_EQ(position_of(text, 90), (Position{1, 6}));
}

TEST(Render, ShortensALongLine) {
  const Text text{"a", std::string(5000, 'x')};
  const auto shown = render(text, Diagnostic{.code = "c", .at = {4000, 4004}, .message = "m"});
  EXPECT_LT(shown.size(), 600U);
}

TEST(Render, GivesATerminalNothingToObey) {
  const Text text{"a\x1b]0;t\a",
                  "x\x1b[31m\xC2\x9B"
                  "31m"};
  const Diagnostic d{.code = "c",
                     .at = {0, 1},
                     .message = "no \x1b[2J such\nname",
                     .notes = {{.at = {0, 1}, .message = "\r\x7f"}},
                     .hint = "\b"};
  const auto shown = render(text, d);
  EXPECT_EQ(shown.find_first_of("\x1b\x07\r\x7f\b"), std::string::npos);
  EXPECT_EQ(shown.find("\xC2\x9B"), std::string::npos);
  EXPECT_NE(shown.find("error: no  [2J such name [c]\n"), std::string::npos);
}

TEST(Render, CutsALongLineBetweenCodePoints) {
  std::string long_line = "x";
  for (int i = 0; i < 400; ++i) long_line += "½";
  const auto shown = render(Text{"a", long_line}, Diagnostic{.code = "c", .at = {0, 1}});
  const auto end_of_line = shown.find("\n  | ^");
  ASSERT_NE(end_of_line, std::string::npos);
  EXPECT_EQ(shown.substr(end_of_line - 2, 2), "½");
}

TEST(NearestName, FindsATransposition) {
  EXPECT_EQ(nearest_name("hieght", {"width", "height"}), "height");
  EXPECT_EQ(nearest_name("zzzz", {"width", "height"}), "");
}

TEST(Outcome, HoldsAValueOrReasons) {
  const Outcome<int> good = 3;
  const Outcome<int> bad = Diagnostic{.code = "x"};
  EXPECT_TRUE(good);
  EXPECT_FALSE(bad);
  Diagnostics all;
  EXPECT_EQ(keep(good, all), 3);
  EXPECT_EQ(keep(bad, all), std::nullopt);
  EXPECT_EQ(all.size(), 1U);
  EXPECT_TRUE(has_errors(all));
}

}  // namespace
}  // namespace kw
