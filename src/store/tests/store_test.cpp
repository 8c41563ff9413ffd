#include "kerfwright/store/store.h"

#include <fstream>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <sqlite3.h>

#include "places.h"

namespace kw {
namespace {

namespace fs = std::filesystem;

using testing_store::Folder;

Store opened(const Folder& folder) {
  auto store = Store::open({.file = folder.file()});
  EXPECT_TRUE(store) << store.diagnostics().front().message;
  return *std::move(store);
}

struct StoreTest : testing_store::OnBoth {
  Store open() { return Store(opened(Hands::one)); }
};
KW_ON_BOTH(StoreTest);

Revision revision(std::int64_t number) {
  return {number, 1000 + number, number == 1 ? RevisionKind::first : RevisionKind::edit, "typed",
          "g"};
}

RC_GTEST_PROP(Delta, AndItsInverseBringBackTheText, (const std::string& text)) {
  Delta delta;
  std::string now = text;
  for (int i = *rc::gen::inRange(0, 5); i > 0; --i) {
    const auto begin = *rc::gen::inRange<std::size_t>(0, now.size() + 1);
    const auto size = *rc::gen::inRange<std::size_t>(0, now.size() - begin + 1);
    const auto with = *rc::gen::arbitrary<std::string>();
    delta.push_back({static_cast<std::uint32_t>(begin), now.substr(begin, size), with});
    now.replace(begin, size, with);
  }
  RC_ASSERT(kw::apply(delta, text) == now);
  RC_ASSERT(kw::apply(inverse_of(delta), now) == text);
}

TEST(Delta, IsRefusedByAnotherText) {
  EXPECT_FALSE(kw::apply({{2, "x", "y"}}, "abc"));
  EXPECT_FALSE(kw::apply({{9, "", "y"}}, "abc"));
}

TEST_P(StoreTest, GivesBackEveryRevisionAfterBeingClosed) {
  std::vector<std::string> texts = {""};
  {
    Store store = open();
    std::string text = "start";
    for (std::int64_t n = 1; n <= 200; ++n) {
      Delta delta;
      if (n > 1) {
        delta = {{static_cast<std::uint32_t>(n % 5),
                  text.substr(static_cast<std::size_t>(n % 5), 1), std::to_string(n)}};
        text = *kw::apply(delta, text);
      }
      ASSERT_TRUE(store.append("a", revision(n), delta, text, n - 1).empty());
      texts.push_back(text);
    }
  }
  const Store store = open();
  EXPECT_EQ(store.newest("a"), 200);
  EXPECT_EQ(store.saved("a"), 199);
  for (std::int64_t n = 1; n <= 200; ++n)
    EXPECT_EQ(*store.text_of("a", n), texts[static_cast<std::size_t>(n)]) << n;
  EXPECT_EQ(store.text_of("a", 201).diagnostics().front().code, "store.no-such-revision");
  EXPECT_EQ(store.text_of("b", 1).diagnostics().front().code, "store.no-such-revision");
  const auto some = store.revisions("a", 150, 10);
  ASSERT_EQ(some.size(), 10U);
  EXPECT_EQ(some.front().number, 149);
  EXPECT_EQ(some.front().group, "g");
  EXPECT_EQ(some.front().at, 1149);
}

TEST(Store, HasRoomInItsLogThatIsReadAsEmpty) {
  const Folder folder, copied;
  fs::create_directories(copied.file().parent_path());
  const fs::path log = folder.file().string() + "-wal";
  {
    Store store = opened(folder);
    const auto size = fs::file_size(log);
    EXPECT_GE(size, 4'000'000U);
    const auto begun_anew = std::int64_t{400};  // more than the log takes in one go
    for (std::int64_t n = 1; n <= begun_anew; ++n)
      ASSERT_TRUE(store.append("a", revision(n), {{0, "", "x"}}, "text", n).empty());
    EXPECT_EQ(fs::file_size(log), size);
    // As a program that is killed leaves them.
    fs::copy_file(folder.file(), copied.file());
    fs::copy_file(log, copied.file().string() + "-wal");
  }
  EXPECT_FALSE(fs::exists(log));
  EXPECT_EQ(opened(folder).newest("a"), 400);
  EXPECT_EQ(opened(copied).newest("a"), 400);
}

TEST_P(StoreTest, RefusesARevisionTwiceAndKeepsTheFirst) {
  Store store = open();
  ASSERT_TRUE(store.append("a", revision(1), {}, "one", 0).empty());
  EXPECT_EQ(store.append("a", revision(1), {}, "two", 0).front().code, "store.cannot-keep");
  EXPECT_EQ(*store.text_of("a", 1), "one");
}

TEST_P(StoreTest, KeepsTheHistoryUnderANewName) {
  Store store = open();
  ASSERT_TRUE(store.append("a", revision(1), {}, "one", 1).empty());
  ASSERT_TRUE(store.append("b", revision(1), {}, "two", 1).empty());
  ASSERT_TRUE(store.rename("a", "b").empty());
  EXPECT_EQ(*store.text_of("b", 1), "one");
  EXPECT_FALSE(store.newest("a"));
}

TEST_P(StoreTest, IsHeldByOneAtATime) {
  const Store store = open();
  const auto second = Store::open(place);
  ASSERT_FALSE(second);
  EXPECT_EQ(second.diagnostics().front().code, "store.in-use");
}

TEST(Store, PutsADamagedFileAsideAndLeavesItsBytes) {
  const Folder folder;
  fs::create_directories(folder.file().parent_path());
  const std::string junk(5000, 'x');
  std::ofstream(folder.file()) << junk;
  const auto store = Store::open({.file = folder.file()});
  ASSERT_TRUE(store);
  ASSERT_EQ(store.diagnostics().size(), 1U);
  EXPECT_EQ(store.diagnostics().front().code, "store.damaged");
  std::ifstream aside(folder.file().string() + ".damaged-1");
  EXPECT_EQ(std::string(std::istreambuf_iterator<char>(aside), {}), junk);
}

TEST_P(StoreTest, ForgetsTheOldestAndStillTellsEveryTextOfTheNewest) {
  Store store = open();
  std::string text;
  std::vector<std::string> texts = {""};
  for (std::int64_t n = 1; n <= 300; ++n) {
    const std::string added = "line " + std::to_string(n) + "\n";
    const auto end = static_cast<std::uint32_t>(text.size());
    text += added;
    for (const char* piece : {"a", "b"})
      ASSERT_TRUE(store.append(piece, revision(n), {{end, "", added}}, text, 0).empty());
    texts.push_back(text);
  }
  ASSERT_TRUE(store.forget_oldest("a", 100).empty());
  const auto kept = static_cast<std::int64_t>(store.revisions("a", 0, 1000).size());
  EXPECT_GE(kept, 100);
  EXPECT_LT(kept, 164);
  for (std::int64_t n = 300 - kept + 1; n <= 300; ++n)
    EXPECT_EQ(*store.text_of("a", n), texts[static_cast<std::size_t>(n)]);
  EXPECT_EQ(store.text_of("a", 300 - kept).diagnostics().front().code, "store.no-such-revision");
  EXPECT_EQ(store.revisions("b", 0, 1000).size(), 300U) << "another piece is left alone";
  ASSERT_TRUE(store.forget_oldest("a", 1000).empty());
  EXPECT_EQ(static_cast<std::int64_t>(store.revisions("a", 0, 1000).size()), kept);
  ASSERT_TRUE(store.append("a", revision(301), {{0, "", "x"}}, "x" + text, 0).empty());
  EXPECT_EQ(*store.text_of("a", 301), "x" + text);
}

TEST(Store, NoticesDamageInTheMiddleOfTheFile) {
  const Folder folder;
  {
    Store store = opened(folder);
    for (std::int64_t n = 1; n <= 300; ++n)
      ASSERT_TRUE(store.append("a", revision(n), {{0, "", std::string(500, 'k')}}, "", 0).empty());
  }
  const auto size = fs::file_size(folder.file());
  ASSERT_GT(size, 40'000U);
  {
    std::fstream file(folder.file(), std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(8192);
    file << std::string(16'384, '\x5A');
  }
  const auto store = Store::open({.file = folder.file()});
  ASSERT_TRUE(store);
  ASSERT_EQ(store.diagnostics().size(), 1U);
  EXPECT_EQ(store.diagnostics().front().code, "store.damaged");
  EXPECT_EQ(fs::file_size(folder.file().string() + ".damaged-1"), size);
}

TEST(Store, LeavesAFileOfANewerProgramAlone) {
  const Folder folder;
  { const Store store = opened(folder); }
  sqlite3* database = nullptr;
  ASSERT_EQ(sqlite3_open(folder.file().c_str(), &database), SQLITE_OK);
  sqlite3_exec(database, "PRAGMA user_version = 99", nullptr, nullptr, nullptr);
  sqlite3_close(database);
  EXPECT_EQ(Store::open({.file = folder.file()}).diagnostics().front().code, "store.newer");
}

TEST_P(StoreTest, KeepsATickOnce) {
  Store store = open();
  const BenchTick tick{"id-000001", "cut", "done", "", "2026-01-01T00:00:00Z"};
  EXPECT_TRUE(*store.keep_tick("a", tick));
  EXPECT_FALSE(*store.keep_tick("a", tick));
  EXPECT_TRUE(*store.keep_tick("b", tick));
  ASSERT_EQ(store.ticks("a").size(), 1U);
  EXPECT_EQ(store.ticks("a").front().cut, "cut");
}

}  // namespace
}  // namespace kw
