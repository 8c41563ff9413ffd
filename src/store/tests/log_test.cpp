#include "kerfwright/store/log.h"

#include <gtest/gtest.h>
#include <set>

#include "apart.h"
#include "places.h"

namespace kw {
namespace {

using testing_store::code_of;

struct LogTest : testing_store::OnBoth {};
KW_ON_BOTH(LogTest);

TEST_P(LogTest, GivesBackWhatWasAddedInOrder) {
  const std::string all_bytes = [] {
    std::string bytes;
    for (int i = 0; i < 256; ++i) bytes += static_cast<char>(i);
    return bytes;
  }();
  {
    Log log(opened());
    EXPECT_EQ(*log.newest("books"), 0);
    EXPECT_TRUE(log.append("books", 0, {{5, all_bytes}, {6, ""}}).empty());
    EXPECT_TRUE(log.append("books", 2, {{7, "c"}}).empty());
    EXPECT_TRUE(log.append("other", 0, {{8, "d"}}).empty());
  }
  const Log log(opened());
  EXPECT_EQ(*log.newest("books"), 3);
  const auto records = log.read("books", 0, 100);
  ASSERT_TRUE(records);
  ASSERT_EQ(records->size(), 3U);
  EXPECT_EQ((*records)[0].bytes, all_bytes);
  EXPECT_EQ((*records)[0].at, 5);
  EXPECT_EQ((*records)[1].bytes, "");
  EXPECT_EQ((*records)[2].number, 3);
  EXPECT_EQ(log.read("books", 1, 1)->front().number, 2);
  EXPECT_TRUE(log.read("books", 3, 10)->empty());
  EXPECT_TRUE(log.read("none", 0, 10)->empty());
  EXPECT_TRUE(log.read("books", 0, 0)->empty());
}

TEST_P(LogTest, RefusesOneThatHasNotSeenTheNewest) {
  const Cabinet cabinet = opened(), other = opened();
  Log first(cabinet), second(other);
  ASSERT_TRUE(first.append("books", 0, {{1, "a"}}).empty());
  EXPECT_EQ(code_of(second.append("books", 0, {{1, "b"}})), "store.log-moved");
  EXPECT_EQ(code_of(second.append("books", 2, {{1, "b"}})), "store.log-moved") << "no gaps";
  EXPECT_EQ(code_of(second.append("none", 1, {{1, "b"}})), "store.log-moved");
  EXPECT_TRUE(second.append("books", 1, {{1, "b"}}).empty());
  EXPECT_EQ(first.read("books", 0, 10)->size(), 2U);
}

TEST_P(LogTest, KeepsAllOrNothing) {
  Log log(opened());
  ASSERT_TRUE(log.append("books", 0, {}).empty());
  std::vector<LogRecord> records(100, LogRecord{1, "small"});
  records.push_back({1, std::string(1'000'001, 'x')});
  EXPECT_EQ(code_of(log.append("books", 0, records)), "store.too-large");
  EXPECT_EQ(*log.newest("books"), 0);
  EXPECT_TRUE(log.read("books", 0, 10)->empty());
  EXPECT_EQ(code_of(log.append("", 0, {{1, "a"}})), "store.too-large");
  EXPECT_EQ(code_of(log.append("books", 0, std::vector<LogRecord>(10'001))), "store.too-large");
  EXPECT_EQ(
      code_of(log.append("books", 0, std::vector<LogRecord>(17, {1, std::string(1'000'000, 'x')}))),
      "store.too-large");
  ASSERT_TRUE(log.append("books", 0, std::vector<LogRecord>(500, {1, "r"})).empty());
  EXPECT_EQ(log.read("books", 0, 1000)->size(), 500U);
}

TEST_P(LogTest, TellsAtMostSixteenMegabytesAtOnce) {
  Log log(opened());
  const LogRecord large{1, std::string(1'000'000, 'x')};
  for (std::int64_t n = 0; n < 20; n += 10)
    ASSERT_TRUE(log.append("books", n, std::vector<LogRecord>(10, large)).empty());
  EXPECT_EQ(log.read("books", 0, 100)->size(), 16U);
  EXPECT_EQ(log.read("books", 16, 100)->size(), 4U);
}

// The rule of the books: a board that nobody has reserved yet may be reserved.
bool reserve_all(const Place& place, const std::string& who, int boards) {
  auto cabinet = Cabinet::open(place, Hands::many);
  if (!cabinet) return false;
  Log log(*cabinet);
  for (int board = 0; board < boards;) {
    const auto records = log.read("rack", 0, 10'000);
    if (!records) return false;
    const std::string wanted = "board " + std::to_string(board) + " for ";
    const bool is_free = std::none_of(records->begin(), records->end(), [&](const LogRecord& r) {
      return r.bytes.starts_with(wanted);
    });
    if (is_free) {
      const auto why =
          log.append("rack", static_cast<std::int64_t>(records->size()), {{1, wanted + who}});
      if (!why.empty() && why.front().code != "store.log-moved") return false;
      if (!why.empty()) continue;
    }
    ++board;
  }
  return true;
}

TEST_P(LogTest, TwoWritersNeverReserveTheSameBoard) {
  constexpr int boards = 60;
  { const Cabinet made = opened(); }
  std::vector<pid_t> writers;
  for (const char* who : {"ann", "bob", "cid"})
    writers.push_back(testing_store::begun_apart([&] { return reserve_all(place, who, boards); }));
  for (const pid_t writer : writers) EXPECT_EQ(testing_store::ended(writer), 0);
  const Log log(opened());
  const auto records = log.read("rack", 0, 10'000);
  ASSERT_EQ(records->size(), static_cast<std::size_t>(boards));
  std::set<std::string> reserved;
  for (const LogRecord& record : *records)
    reserved.insert(record.bytes.substr(0, record.bytes.find(" for ")));
  EXPECT_EQ(reserved.size(), static_cast<std::size_t>(boards));
}

TEST_P(LogTest, IsClosedToOthersWhileOneIsAlone) {
  const Cabinet one = opened(Hands::one);
  // A program of its own: SQLite knows the locks of its own process.
  EXPECT_EQ(testing_store::ended(testing_store::begun_apart([&] {
              return code_of(Cabinet::open(place, Hands::one).diagnostics()) == "store.in-use";
            })),
            0);
}

}  // namespace
}  // namespace kw
