// Cabinets that an older program left, and those of a newer one.
#include <gtest/gtest.h>

#include "kerfwright/store/copies.h"
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

// As the program of form 1 made it, word for word.
constexpr const char* form_1_of_sqlite = R"(
CREATE TABLE piece (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, saved INTEGER NOT NULL DEFAULT 0);
CREATE TABLE revision (
  piece INTEGER NOT NULL REFERENCES piece(id), number INTEGER NOT NULL, at INTEGER NOT NULL,
  kind INTEGER NOT NULL, words TEXT NOT NULL, joined TEXT NOT NULL, delta BLOB NOT NULL,
  whole BLOB, PRIMARY KEY (piece, number));
CREATE TABLE tick (
  piece INTEGER NOT NULL REFERENCES piece(id), number INTEGER PRIMARY KEY, id TEXT NOT NULL,
  cut TEXT NOT NULL, did TEXT NOT NULL, words TEXT NOT NULL, at TEXT NOT NULL,
  UNIQUE (piece, id));
PRAGMA user_version = 1;
)";
constexpr const char* form_1_of_postgres = R"(
CREATE TABLE piece (
  id BIGINT PRIMARY KEY, name BYTEA NOT NULL UNIQUE, saved BIGINT NOT NULL DEFAULT 0);
CREATE TABLE revision (
  piece BIGINT NOT NULL REFERENCES piece(id), number BIGINT NOT NULL, at BIGINT NOT NULL,
  kind BIGINT NOT NULL, words BYTEA NOT NULL, joined BYTEA NOT NULL, delta BYTEA NOT NULL,
  whole BYTEA, PRIMARY KEY (piece, number));
CREATE TABLE tick (
  piece BIGINT NOT NULL REFERENCES piece(id), number BIGINT PRIMARY KEY, id BYTEA NOT NULL,
  cut BYTEA NOT NULL, did BYTEA NOT NULL, words BYTEA NOT NULL, at BYTEA NOT NULL,
  UNIQUE (piece, id));
CREATE TABLE kerfwright_form (number BIGINT PRIMARY KEY);
INSERT INTO kerfwright_form VALUES (1);
)";

// Two revisions of a stool, the second of which puts "x" before "start"; a tick.
constexpr const char* rows_of_sqlite = R"(
INSERT INTO piece VALUES (3, 'stool', 1);
INSERT INTO revision VALUES (3, 1, 1001, 0, 'made', '', x'', x'7374617274');
INSERT INTO revision VALUES (3, 2, 1002, 1, 'typed', 'g', x'00000000000000000100000078', NULL);
INSERT INTO tick VALUES (3, 7, 'id-1', 'cut', 'done', '', '2026-01-01');
)";
constexpr const char* rows_of_postgres = R"(
INSERT INTO piece VALUES (3, 'stool', 1);
INSERT INTO revision VALUES (3, 1, 1001, 0, 'made', '', '\x', '\x7374617274');
INSERT INTO revision VALUES (3, 2, 1002, 1, 'typed', 'g', '\x00000000000000000100000078', NULL);
INSERT INTO tick VALUES (3, 7, 'id-1', 'cut', 'done', '', '2026-01-01');
)";

// What form 2 added, word for word.
constexpr const char* form_2_of_sqlite = R"(
CREATE TABLE log (name TEXT PRIMARY KEY, newest INTEGER NOT NULL);
CREATE TABLE record (
  log TEXT NOT NULL REFERENCES log(name), number INTEGER NOT NULL, at INTEGER NOT NULL,
  bytes BLOB NOT NULL, PRIMARY KEY (log, number));
CREATE TABLE job (
  id TEXT PRIMARY KEY, kind TEXT NOT NULL, state INTEGER NOT NULL, at INTEGER NOT NULL,
  attempts INTEGER NOT NULL, taker TEXT NOT NULL, until INTEGER NOT NULL,
  ended INTEGER NOT NULL, given BLOB NOT NULL, made BLOB NOT NULL);
CREATE INDEX job_by_turn ON job (kind, state, at, id);
CREATE INDEX job_by_end ON job (kind, ended);
CREATE TABLE published (
  name TEXT NOT NULL, version INTEGER NOT NULL, at INTEGER NOT NULL, title TEXT NOT NULL,
  text BLOB NOT NULL, terms BLOB NOT NULL, offered INTEGER NOT NULL,
  PRIMARY KEY (name, version));
CREATE TABLE published_size (
  name TEXT NOT NULL, version INTEGER NOT NULL, place INTEGER NOT NULL,
  size TEXT NOT NULL, least TEXT NOT NULL, most TEXT NOT NULL,
  PRIMARY KEY (name, version, place), FOREIGN KEY (name, version) REFERENCES published);
PRAGMA user_version = 2;
)";
constexpr const char* form_2_of_postgres = R"(
CREATE TABLE log (name BYTEA PRIMARY KEY, newest BIGINT NOT NULL);
CREATE TABLE record (
  log BYTEA NOT NULL REFERENCES log(name), number BIGINT NOT NULL, at BIGINT NOT NULL,
  bytes BYTEA NOT NULL, PRIMARY KEY (log, number));
CREATE TABLE job (
  id BYTEA PRIMARY KEY, kind BYTEA NOT NULL, state BIGINT NOT NULL, at BIGINT NOT NULL,
  attempts BIGINT NOT NULL, taker BYTEA NOT NULL, until BIGINT NOT NULL,
  ended BIGINT NOT NULL, given BYTEA NOT NULL, made BYTEA NOT NULL);
CREATE INDEX job_by_turn ON job (kind, state, at, id);
CREATE INDEX job_by_end ON job (kind, ended);
CREATE TABLE published (
  name BYTEA NOT NULL, version BIGINT NOT NULL, at BIGINT NOT NULL, title BYTEA NOT NULL,
  text BYTEA NOT NULL, terms BYTEA NOT NULL, offered BIGINT NOT NULL,
  PRIMARY KEY (name, version));
CREATE TABLE published_size (
  name BYTEA NOT NULL, version BIGINT NOT NULL, place BIGINT NOT NULL,
  size BYTEA NOT NULL, least BYTEA NOT NULL, most BYTEA NOT NULL,
  PRIMARY KEY (name, version, place), FOREIGN KEY (name, version) REFERENCES published);
INSERT INTO kerfwright_form VALUES (2);
)";
constexpr const char* more_rows = R"(
INSERT INTO log VALUES ('books', 1);
INSERT INTO record VALUES ('books', 1, 5, 'entry');
INSERT INTO job VALUES ('a', 'book', 0, 1, 0, '', 0, 0, 'given', '');
INSERT INTO published VALUES ('stool', 1, 5, 'Stool', 'text', 'terms', 1);
INSERT INTO published_size VALUES ('stool', 1, 1, 'width', '10', '20');
)";

struct FormsTest : testing_store::OnBoth {};
KW_ON_BOTH(FormsTest);

void expect_the_stool(const Store& store) {
  EXPECT_EQ(store.newest("stool"), 2);
  EXPECT_EQ(store.saved("stool"), 1);
  EXPECT_EQ(*store.text_of("stool", 1), "start");
  EXPECT_EQ(*store.text_of("stool", 2), "xstart");
  ASSERT_EQ(store.ticks("stool").size(), 1U);
  EXPECT_EQ(store.ticks("stool").front().id, "id-1");
}

TEST_P(FormsTest, OfTheFirstProgramAreBroughtUpToDate) {
  run_sql(std::string(form_1_of_sqlite) + rows_of_sqlite,
          std::string(form_1_of_postgres) + rows_of_postgres);
  {
    const Cabinet cabinet = opened(Hands::one);
    Store store(cabinet);
    expect_the_stool(store);
    EXPECT_TRUE(store.append("stool", {3, 1, RevisionKind::edit, "", ""}, {}, "xstart", 2).empty());
    EXPECT_TRUE(*store.keep_tick("stool", {"id-2", "cut", "done", "", ""}));
    EXPECT_TRUE(Log(cabinet).append("books", 0, {{1, "a"}}).empty());
  }
  const Cabinet again = opened(Hands::one);
  EXPECT_EQ(Store(again).newest("stool"), 3);
  EXPECT_EQ(*Log(again).newest("books"), 1);
}

TEST_P(FormsTest, OfTheSecondAreBroughtUpToDate) {
  run_sql(std::string(form_1_of_sqlite) + rows_of_sqlite + form_2_of_sqlite + more_rows,
          std::string(form_1_of_postgres) + rows_of_postgres + form_2_of_postgres + more_rows);
  const Cabinet cabinet = opened(Hands::one);
  expect_the_stool(Store(cabinet));
  EXPECT_EQ(Log(cabinet).read("books", 0, 10)->front().bytes, "entry");
  const auto job = JobTable(cabinet).take("book", "w", 1, 2);
  ASSERT_TRUE(job && *job);
  EXPECT_EQ((*job)->given, "given");
  EXPECT_EQ((*job)->asker, "");
  EXPECT_EQ((*Published(cabinet).find("stool"))->sizes.size(), 1U);
  EXPECT_TRUE(faults_in(cabinet).empty());
}

TEST_P(FormsTest, OfAFileAreCopiedBeforeTheyAreChanged) {
  if (GetParam() != Kind::file) return;
  run_sql(std::string(form_1_of_sqlite) + rows_of_sqlite, "");
  { const Cabinet changed = opened(Hands::one); }
  { const Cabinet not_again = opened(Hands::one); }
  const fs::path copy = place.file.string() + ".form-1-1";
  ASSERT_TRUE(fs::exists(copy));
  EXPECT_FALSE(fs::exists(place.file.string() + ".form-1-2"));
  expect_the_stool(Store(opened({.file = copy}, Hands::one)));
}

TEST_P(FormsTest, ThatCannotBeChangedAreLeftAsTheyWere) {
  // A table is in the way of those of form 2.
  run_sql(
      std::string(form_1_of_sqlite) + rows_of_sqlite + "CREATE TABLE record (other INTEGER);",
      std::string(form_1_of_postgres) + rows_of_postgres + "CREATE TABLE record (other BIGINT);");
  EXPECT_EQ(code_of(Cabinet::open(place, Hands::one).diagnostics()), "store.cannot-open");
  run_sql("DROP TABLE record;", "DROP TABLE record;");
  expect_the_stool(Store(opened(Hands::one)));
}

TEST_P(FormsTest, OfANewerProgramAreLeftAlone) {
  { const Cabinet made = opened(); }
  run_sql("PRAGMA user_version = 99", "INSERT INTO kerfwright_form VALUES (99)");
  EXPECT_EQ(code_of(Cabinet::open(place, Hands::one).diagnostics()), "store.newer");
  EXPECT_EQ(code_of(Cabinet::open(place, Hands::many).diagnostics()), "store.newer");
}

TEST(Place, IsAFileOrAnAddressAndShowsNoPassword) {
  EXPECT_EQ(place_of("a/b.db").file, "a/b.db");
  EXPECT_EQ(words_of(place_of("a/b.db")), "a/b.db");
  EXPECT_TRUE(place_of("postgresql://h/d").file.empty());
  EXPECT_EQ(words_of(place_of("postgresql://ann:secret@h:5432/d")), "postgresql://ann@h:5432/d");
  EXPECT_EQ(words_of(place_of("postgres://h:5432/d?user=ann&password=secret&x=1")),
            "postgres://h:5432/d?user=ann&x=1");
  EXPECT_EQ(words_of(place_of("postgresql://h/d?password=secret")), "postgresql://h/d?");
  EXPECT_EQ(words_of(place_of("postgresql://")), "postgresql://");
}

TEST(Cabinet, TellsOfAServerThatIsNotThere) {
  const auto cabinet =
      Cabinet::open(place_of("postgresql:///d?host=/nonexistent&password=secret"), Hands::many);
  ASSERT_FALSE(cabinet);
  EXPECT_EQ(code_of(cabinet.diagnostics()), "store.cannot-open");
  EXPECT_EQ(cabinet.diagnostics().front().message.find("secret"), std::string::npos);
  EXPECT_FALSE(Cabinet::open(place_of("postgresql://%zz"), Hands::many));
}

}  // namespace
}  // namespace kw
