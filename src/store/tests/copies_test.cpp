#include "kerfwright/store/copies.h"

#include <algorithm>
#include <fstream>
#include <gtest/gtest.h>
#include <map>
#include <random>
#include <sstream>

#include "kerfwright/store/job_table.h"
#include "kerfwright/store/log.h"
#include "kerfwright/store/published.h"
#include "kerfwright/store/store.h"

#include "places.h"

namespace kw {
namespace {

namespace fs = std::filesystem;
using testing_store::code_of;
using testing_store::Kind;
using testing_store::PostgresServer;

using Files = std::map<std::string, std::string>;

Files files_in(const fs::path& folder) {
  Files files;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    std::ifstream in(entry.path(), std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    files[fs::relative(entry.path(), folder).string()] = bytes.str();
  }
  return files;
}

const std::string odd("\xFF\x00\"\\\n\t\xC3", 7);

void fill_store(const Cabinet& cabinet) {
  Store store(cabinet);
  std::string text = "piece = \"St\xC3\xBChlchen\"\n";
  for (std::int64_t n = 1; n <= 70; ++n) {
    // A change that cuts a letter of two bytes in two.
    Delta delta;
    if (n > 1) delta = {{11, text.substr(11, 1), n % 2 == 0 ? "\xC4" : "\xC3"}, {0, "", "#"}};
    text = *kw::apply(delta, text);
    EXPECT_TRUE(
        store.append("stool", {n, n, RevisionKind::edit, "words " + odd, "g"}, delta, text, n - 1)
            .empty());
  }
  EXPECT_TRUE(store.append("../a b", {1, 1, RevisionKind::first, "", ""}, {}, "other", 0).empty());
  EXPECT_TRUE(*store.keep_tick("stool", {"id", "cut", "done", odd, "2026"}));
  EXPECT_TRUE(*store.keep_tick("bare", {"id", "cut", "done", "", ""}));
}

void fill_rest(const Cabinet& cabinet) {
  Log log(cabinet);
  std::vector<LogRecord> records;
  for (int n = 0; n < 150; ++n) records.push_back({n - 75, "{\"n\": " + std::to_string(n) + "}"});
  records.push_back({INT64_MAX, odd});
  EXPECT_TRUE(log.append("books", 0, records).empty());
  EXPECT_TRUE(log.append(odd, 0, {}).empty());
  JobTable jobs(cabinet);
  for (const char* id : {"a", "b", "c"})
    EXPECT_TRUE(jobs.put({.id = id, .kind = "book", .given = odd, .at = 1}).empty());
  EXPECT_TRUE(*jobs.take("book", "w", 1, 2));
  EXPECT_TRUE(*jobs.finish("a", "w", 3, odd + odd));
  EXPECT_TRUE(*jobs.take("book", "w", 1, 2));
  Published published(cabinet);
  const PublishedPiece piece{.name = "stool",
                             .at = 5,
                             .title = "Stool",
                             .text = "piece = \"Stool\"\n",
                             .terms = "",
                             .sizes = {{"width", "10", "20"}, {"depth", "1", "2"}}};
  EXPECT_TRUE(published.publish(piece));
  EXPECT_TRUE(published.publish(piece));
}

struct CopiesTest : testing_store::OnBoth {
  Cabinet filled() {
    Cabinet cabinet = opened();
    fill_store(cabinet);
    fill_rest(cabinet);
    return cabinet;
  }
  Files exported(const Cabinet& cabinet) {
    const fs::path to = folder.path / ("export-" + std::to_string(++exports_));
    const Diagnostics why = export_all(cabinet, to);
    EXPECT_TRUE(why.empty()) << why.front().message;
    return files_in(to);
  }
  // In the database of the other kind.
  Cabinet of_other_kind() {
    const bool is_to_postgres = GetParam() == Kind::file && PostgresServer::quick().is_running();
    if (!is_to_postgres) return opened({.file = folder.path / "other.db"});
    return opened({.address = PostgresServer::quick().new_address()});
  }
  // That no server is begun for.
  Cabinet in_a_file() { return opened({.file = folder.path / "other.db"}); }
  // A folder as an export made it, but for one file.
  Diagnostics importing(Files files, const std::string& name, const std::string& bytes) {
    const fs::path from = folder.path / ("changed-" + std::to_string(++exports_));
    fs::create_directory(from);
    files[name] = bytes;
    for (const auto& [file, content] : files) {
      if (file.find('/') == std::string::npos)
        std::ofstream(from / file, std::ios::binary) << content;
    }
    const Cabinet empty = opened(another_place());
    const Diagnostics why = import_all(from, empty);
    EXPECT_EQ(*Log(empty).newest("books"), why.empty() ? 152 : 0) << "all of it or nothing";
    return why;
  }

 private:
  int exports_ = 0;
};
KW_ON_BOTH(CopiesTest);

TEST_P(CopiesTest, GoToTheOtherDatabaseAndBackByteForByte) {
  const Files first = exported(filled());
  EXPECT_EQ(first.size(), 9U + 2 + 2);
  const Cabinet other = of_other_kind();
  ASSERT_EQ(code_of(import_all(folder.path / "export-1", other)), "");
  EXPECT_EQ(exported(other), first);
  const Cabinet back = opened(another_place());
  ASSERT_EQ(code_of(import_all(folder.path / "export-2", back)), "");
  EXPECT_EQ(exported(back), first);
  EXPECT_TRUE(faults_in(back).empty());
  // What came back is gone on with.
  EXPECT_EQ(Store(back).append("stool", {71, 1, RevisionKind::edit, "", ""}, {}, "", 0).size(), 0U);
  EXPECT_TRUE(*Store(back).keep_tick("stool", {"id-2", "", "", "", ""}));
  EXPECT_TRUE(Log(back).append("books", 151, {{1, "next"}}).empty());
  EXPECT_EQ((*JobTable(back).take("book", "v", 2, 9))->id, "b");
}

TEST_P(CopiesTest, AreReadableWithoutTheProgram) {
  const Files files = exported(filled());
  EXPECT_EQ(files.at("about.json"), "{\"kerfwright\":\"cabinet\",\"form\":3}\n");
  const std::string text = files.at("pieces/stool.toml");
  EXPECT_EQ(text, *Store(opened()).text_of("stool", 70));
  EXPECT_EQ(files.at("pieces/%2E.%2Fa%20b.toml"), "other");
  EXPECT_EQ(files.at("published/stool-2.toml"), "piece = \"Stool\"\n");
  EXPECT_TRUE(
      files.at("record.jsonl")
          .starts_with(
              "{\"log\":\"books\",\"number\":1,\"at\":-75,\"bytes\":\"{\\\"n\\\": 0}\"}\n"));
  EXPECT_NE(files.at("record.jsonl").find("\"bytes\":{\"hex\":\"ff00225c0a09c3\"}}\n"),
            std::string::npos);
  EXPECT_NE(files.at("revision.jsonl")
                .find("\"delta\":[[11,{\"hex\":\"c3\"},{\"hex\":\"c4\"}],[0,\"\",\"#\"]],\"whole\":"
                      "null}\n"),
            std::string::npos);
}

TEST_P(CopiesTest, AreOfAnyBytes) {
  std::mt19937 chance(7);
  std::uniform_int_distribution<int> byte(0, 255), size(0, 40);
  const auto some = [&](int least) {
    std::string bytes(static_cast<std::size_t>(least + size(chance)), '\0');
    // Now and then what can be text.
    const int mask = size(chance) < 20 ? 127 : 255;
    for (char& b : bytes) b = static_cast<char>(byte(chance) & mask);
    return bytes;
  };
  std::map<std::string, std::string> logs;
  const Cabinet cabinet = opened(), back = in_a_file();
  for (int n = 0; n < 200; ++n) {
    const auto [log, is_new] = logs.emplace(some(1), some(0));
    if (is_new) {
      ASSERT_TRUE(Log(cabinet).append(log->first, 0, {{n, log->second}}).empty());
    }
  }
  const Files first = exported(cabinet);
  ASSERT_EQ(code_of(import_all(folder.path / "export-1", back)), "");
  for (const auto& [name, bytes] : logs)
    EXPECT_EQ(Log(back).read(name, 0, 10)->front().bytes, bytes);
  EXPECT_EQ(exported(back), first);
}

TEST_P(CopiesTest, AreWrittenOverNothing) {
  const Cabinet cabinet = filled();
  const Files first = exported(cabinet);
  EXPECT_EQ(code_of(export_all(cabinet, folder.path / "export-1")), "store.copy-exists");
  EXPECT_EQ(code_of(back_up(cabinet, folder.path / "export-1" / "about.json")),
            "store.copy-exists");
  EXPECT_EQ(code_of(import_all(folder.path / "export-1", cabinet)), "store.not-empty");
  EXPECT_EQ(code_of(export_all(cabinet, "/proc/none/export")), "store.cannot-copy");
  EXPECT_EQ(code_of(back_up(cabinet, "/proc/none/copy.db")), "store.cannot-copy");
  EXPECT_EQ(files_in(folder.path / "export-1"), first);
}

TEST_P(CopiesTest, ThatAreNotAsTheyWereMadeAreRefusedWhole) {
  const Files files = exported(filled());
  const std::string records = files.at("record.jsonl");
  const std::string good = "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"\"}\n";
  Files more = files;
  more["log.jsonl"].replace(more["log.jsonl"].find("151"), 3, "152");
  EXPECT_EQ(code_of(importing(more, "record.jsonl", records + good)), "");
  for (const char* bad :
       {"", "x", "{", "{\"log\":\"books\"}",
        "{\"log\":\"books\",\"number\":\"152\",\"at\":1,\"bytes\":\"\"}",
        "{\"log\":\"books\",\"number\":9223372036854775808,\"at\":1,\"bytes\":\"\"}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"\"} x",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"\\ud800\"}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"\\q\"}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":{\"hex\":\"0\"}}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":{\"hex\":\"0g\"}}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"\xFF\"}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":\"",
        "{\"log\":\"books\",\"number\":151,\"at\":1,\"bytes\":\"twice\"}",
        "{\"log\":\"nobody's\",\"number\":1,\"at\":1,\"bytes\":\"\"}",
        "{\"log\":\"books\",\"number\":152,\"at\":1,\"bytes\":null}"}) {
    const Diagnostics why = importing(files, "record.jsonl", records + bad + "\n");
    EXPECT_EQ(code_of(why), "store.bad-export") << bad;
    EXPECT_NE(why.front().message.find("record.jsonl`, line 152"), std::string::npos)
        << why.front().message;
  }
  EXPECT_EQ(code_of(importing(files, "about.json", "{}")), "store.bad-export");
  EXPECT_EQ(code_of(importing(files, "about.json", "{\"kerfwright\":\"cabinet\",\"form\":99}")),
            "store.newer");
  EXPECT_EQ(code_of(import_all(folder.path, opened(another_place()))), "store.bad-export");
}

TEST_P(CopiesTest, OfABackupAreRestoredByteForByte) {
  const Cabinet cabinet = filled();
  const fs::path copy = folder.path / "backup.db";
  ASSERT_EQ(code_of(back_up(cabinet, copy)), "");
  const Files first = exported(cabinet);
  ASSERT_TRUE(Log(cabinet).append("books", 151, {{1, "later"}}).empty());
  EXPECT_EQ(code_of(restore(copy, cabinet)), "store.not-empty");
  const std::string before = files_in(folder.path).at("backup.db");
  for (const Cabinet& into : {opened(another_place()), in_a_file()}) {
    ASSERT_EQ(code_of(restore(copy, into)), "");
    EXPECT_EQ(exported(into), first);
  }
  EXPECT_EQ(files_in(folder.path).at("backup.db"), before);
  EXPECT_EQ(exported(opened({.file = copy})), first) << "it is a cabinet itself";
}

TEST_P(CopiesTest, OfADamagedBackupAreRefused) {
  std::ofstream(folder.path / "junk.db") << std::string(5000, 'x');
  const Cabinet into = opened();
  EXPECT_EQ(code_of(restore(folder.path / "junk.db", into)), "store.cannot-copy");
  EXPECT_EQ(code_of(restore(folder.path / "none.db", into)), "store.cannot-copy");
  EXPECT_EQ(*Log(into).newest("books"), 0);
}

TEST_P(CopiesTest, FaultsAreFoundWhereSomebodyMadeThem) {
  { const Cabinet made = filled(); }
  EXPECT_TRUE(faults_in(opened()).empty());
  const auto message = [this] {
    const Diagnostics faults = faults_in(opened());
    return faults.empty() ? "" : std::string(faults.front().code) + ": " + faults.front().message;
  };
  run_sql("DELETE FROM record WHERE number = 100");
  EXPECT_EQ(message(),
            "store.not-whole: the log `books` ends at 151, but has 150 records up to 151");
  run_sql(
      "UPDATE record SET number = 100 WHERE number = 151; UPDATE log SET newest = 150 WHERE newest "
      "= 151");
  EXPECT_EQ(message(), "");
  run_sql("DELETE FROM revision WHERE number = 60");
  EXPECT_EQ(message(),
            "store.not-whole: revision 61 of piece 1 does not follow from the one before");
}

TEST_P(CopiesTest, FaultsOfReferencesAreFoundInAFile) {
  if (GetParam() != Kind::file) return;
  { const Cabinet made = filled(); }
  run_sql("PRAGMA foreign_keys = OFF; DELETE FROM log WHERE name = 'books'", "");
  const Diagnostics faults = faults_in(opened());
  ASSERT_FALSE(faults.empty());
  EXPECT_EQ(faults.front().message, "a row of `record` refers to none of `log`");
  EXPECT_EQ(faults.size(), 100U) << "no more are told";
}

}  // namespace
}  // namespace kw
