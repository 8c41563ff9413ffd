#include "kerfwright/diag/utf16.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <string>

namespace kw {
namespace {

TEST(Utf16Index, CountsOneUnitForACharacterAndTwoBeyondTheBasicPlane) {
  const std::string text = "a\xC2\xBC\xE2\x80\xB3\xF0\x9F\xAA\x9Az";  // a ¼ ″ saw z
  const Utf16Index index(text);
  EXPECT_EQ(index.size(), 6U);
  EXPECT_EQ(index.units_at(1), 1U);
  EXPECT_EQ(index.units_at(3), 2U);
  EXPECT_EQ(index.units_at(6), 3U);
  EXPECT_EQ(index.units_at(8), 3U);  // within the saw
  EXPECT_EQ(index.units_at(10), 5U);
  EXPECT_EQ(index.units_at(99), 6U);
  EXPECT_EQ(index.byte_at(3), 6U);
  EXPECT_EQ(index.byte_at(4), 6U);
  EXPECT_EQ(index.byte_at(5), 10U);
  EXPECT_EQ(index.byte_at(99), 11U);
}

TEST(Utf16Index, TakesAnEmptyText) {
  const Utf16Index index("");
  EXPECT_EQ(index.size(), 0U);
  EXPECT_EQ(index.units_at(3), 0U);
  EXPECT_EQ(index.byte_at(3), 0U);
}

RC_GTEST_PROP(Utf16Index, ComesBackToTheSameByteOfAnyText, (const std::u32string& drawn)) {
  std::string text;
  std::vector<std::uint32_t> begins;
  std::uint32_t units = 0;
  std::vector<std::uint32_t> units_before;
  for (const char32_t any : drawn) {
    const auto c = static_cast<std::uint32_t>(any) % 0x110000U;
    if (c >= 0xD800U && c < 0xE000U) continue;
    begins.push_back(static_cast<std::uint32_t>(text.size()));
    units_before.push_back(units);
    units += c > 0xFFFFU ? 2 : 1;
    const auto add = [&](std::uint32_t byte) { text += static_cast<char>(byte); };
    if (c < 0x80U) {
      add(c);
    } else if (c < 0x800U) {
      add(0xC0U | (c >> 6));
      add(0x80U | (c & 0x3FU));
    } else if (c < 0x10000U) {
      add(0xE0U | (c >> 12));
      add(0x80U | ((c >> 6) & 0x3FU));
      add(0x80U | (c & 0x3FU));
    } else {
      add(0xF0U | (c >> 18));
      add(0x80U | ((c >> 12) & 0x3FU));
      add(0x80U | ((c >> 6) & 0x3FU));
      add(0x80U | (c & 0x3FU));
    }
  }
  const Utf16Index index(text);
  RC_ASSERT(index.size() == units);
  for (std::size_t i = 0; i < begins.size(); ++i) {
    RC_ASSERT(index.units_at(begins[i]) == units_before[i]);
    RC_ASSERT(index.byte_at(units_before[i]) == begins[i]);
  }
}

}  // namespace
}  // namespace kw
