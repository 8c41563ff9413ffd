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
  const Text text{"a", "\xEF\xBB\xBF" "ab\r\ncd"};
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
