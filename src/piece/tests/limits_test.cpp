// A stranger's file costs bounded time and memory, whatever it holds.
#include <algorithm>
#include <chrono>
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "reading.h"

namespace kw {
namespace {

using namespace testing_piece;

std::string repeated(std::string_view part, std::size_t count) {
  std::string out;
  for (std::size_t i = 0; i < count; ++i) out += part;
  return out;
}

// `make(0)`, `make(1)` ... as long as they fit in a piece file.
template <class Make>
Text filled(Make make) {
  Text text = piece("");
  for (std::size_t i = 0;; ++i) {
    const std::string part = make(i);
    if (text.content.size() + part.size() > most_bytes) return text;
    text.content += part;
  }
}

std::string only_code(const Reading<Document>& reading) {
  return reading.diagnostics.size() == 1 ? std::string(reading.diagnostics[0].code)
                                         : fmt::format("{} faults", reading.diagnostics.size());
}

TEST(Limits, AFileOfTheMostBytesIsReadAndOneByteMoreIsNot) {
  Text text = piece("#");
  text.content.resize(most_bytes, 'x');
  EXPECT_TRUE(read_piece(text).diagnostics.empty());
  text.content += 'x';
  EXPECT_EQ(only_code(read_piece(text)), "piece.too-large");
}

TEST(Limits, BytesThatAreNotUtf8AreToldWhereTheyStand) {
  for (const std::string bad : {"\xFF", "\xC0\xAF", "\xC3", "\xE0\x80\x80", "\xED\xA0\x80",
                                "\xF4\x90\x80\x80", "\xF8\x88\x80\x80\x80", "\x80"}) {
    const Text text = piece("note = \"é" + bad + "\"\n");
    const Reading<Document> reading = read_piece(text);
    ASSERT_EQ(only_code(reading), "piece.not-utf8");
    EXPECT_EQ(slice(text, reading.diagnostics[0].at), bad.substr(0, 1));
  }
}

TEST(Limits, AllOfUnicodeButSurrogatesIsText) {
  const Text text = piece(
      "note = \"\x7E\xC2\x80\xDF\xBF\xE0\xA0\x80\xED\x9F\xBF\xEE\x80\x80"
      "\xF0\x90\x80\x80\xF4\x8F\xBF\xBF\"\n");
  EXPECT_TRUE(read_piece(text).diagnostics.empty());
}

TEST(Limits, DeepNestingIsRefusedBeforeItCanOverflowTheStack) {
  const std::vector<std::string> deep = {
      "a = " + repeated("[", 900'000),
      "a = " + repeated("{a=", 300'000),
      repeated("a.", 450'000) + "a = 1",
      repeated("\"a\" . ", 150'000) + "a = 1",
      "[" + repeated("a.", 450'000) + "a]",
      "a = '''x''''" + repeated("[", 900'000),
      "a = \"\"\"x\\\"\"\"\"" + repeated("[", 900'000),
  };
  for (const std::string& rest : deep)
    EXPECT_EQ(only_code(read_piece(piece(rest))), "piece.too-deep");
}

TEST(Limits, NestingAtTheLimitIsReadAndBracketsInStringsAndCommentsAreNotCounted) {
  const std::string brackets = repeated("[", 100);
  const Text text = piece("# " + brackets + repeated("a.", 100) + "\nnote = \"" + brackets +
                          "\"\n" + "licence = '''" + brackets + "'''\nauthor = \"\"\"" + brackets +
                          "\"\"\"\n" + "tags = " + repeated("[", 32) + repeated("]", 32) + "\n");
  EXPECT_EQ(only_code(read_piece(text)), "piece.wrong-type") << "of the tags; nothing is too deep";
}

TEST(Limits, DeclarationsAreCountedOverAllKinds) {
  std::string rest = "[derived]\n";
  for (std::size_t i = 0; i < most_declarations - 1; ++i) rest += fmt::format("d{} = 1\n", i);
  rest += "[size.s]\nis = 1\n";
  EXPECT_TRUE(read_piece(piece(rest)).diagnostics.empty());
  const Text over = piece(rest + "[point]\np = [0, 0, 0]\nq = [0, 0, 0]\n");
  const Reading<Document> reading = read_piece(over);
  ASSERT_EQ(only_code(reading), "piece.too-many");
  EXPECT_EQ(slice(over, reading.diagnostics[0].at), "p");
  EXPECT_TRUE(reading.value.top.points.empty());
}

TEST(Limits, FaultsPastFiveHundredAreNotTold) {
  std::string rest;
  for (int i = 0; i < 600; ++i) rest += fmt::format("k{} = 1\n", i);
  const Reading<Document> reading = read_piece(piece(rest));
  ASSERT_EQ(reading.diagnostics.size(), 501U);
  EXPECT_EQ(reading.diagnostics.back().code, "piece.too-many-faults");
}

// The time is a fence against costs that grow with the square, not a measurement: bench has that.
TEST(Limits, NoFileOfTheMostBytesTakesLong) {
  const auto numbered = [](std::string_view pattern) {
    return filled([=](std::size_t i) { return fmt::format(fmt::runtime(pattern), i); });
  };
  const std::vector<Text> files = {
      numbered("k{} = 1\n"),        numbered("[size.s{}]\nis = 1\n"),
      numbered("[board.b{}]\n"),    numbered("[[board]]\n"),
      numbered("a{}.b.is = 1\n"),   numbered("[size.s{}.x]\n"),
      numbered("size.s.k{} = 1\n"), numbered("[joint.j{}]\nkind = \"x\"\n"),
      numbered("# {}\n"),           numbered("\n"),
  };
  for (const Text& text : files) {
    const auto start = std::chrono::steady_clock::now();
    const Reading<Document> reading = read_piece(text);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    EXPECT_LT(took.count(), 10.0) << text.content.substr(40, 40);
    EXPECT_LE(reading.diagnostics.size(), 501U);
  }
}

TEST(Limits, ALongLineOfManyValuesTakesNoLongerThanManyLines) {
  const std::vector<Text> files = {
      piece("tags = [" + repeated("\"é\", ", 160'000) + "]\n"),
      piece("[panel.p]\noutline = [" + repeated("[1,2],", 160'000) + "]\n"),
      piece("[cut.c]\nof = [" + repeated("\"é\", ", 140'000) + "]\n"),
  };
  for (const Text& text : files) {
    const auto start = std::chrono::steady_clock::now();
    (void)read_piece(text);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    EXPECT_LT(took.count(), 10.0);
  }
}

}  // namespace
}  // namespace kw
