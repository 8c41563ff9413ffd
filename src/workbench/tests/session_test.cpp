#include "kerfwright/workbench/session.h"

#include <fstream>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace kw {
namespace {

namespace fs = std::filesystem;

struct Shop {
  fs::path folder;
  Shop() {
    std::string pattern = (fs::temp_directory_path() / "kw-session-XXXXXX").string();
    folder = mkdtemp(pattern.data());
  }
  ~Shop() { fs::remove_all(folder); }
  Shop(const Shop&) = delete;
  Shop& operator=(const Shop&) = delete;

  [[nodiscard]] fs::path file() const { return file_of(folder, "piece"); }
  [[nodiscard]] std::unique_ptr<Session> open(std::int64_t now = 1) const {
    auto store = Store::open({.file = folder / ".kerfwright" / "history.db"});
    EXPECT_TRUE(store);
    auto session = Session::open(file(), "piece", *std::move(store), now);
    EXPECT_TRUE(session) << (session ? "" : session.diagnostics().front().message);
    return *std::move(session);
  }
};

std::string trestle() {
  return *starter_text("trestle");
}

bool splice(Session& session, std::uint32_t from, std::uint32_t to, const std::string& with,
            const std::string& group = {}) {
  int failed = -1;
  return static_cast<bool>(
      session.edit({session.revision(), group, {SpliceText{from, to, with}}}, 2, failed));
}

RC_GTEST_PROP(Session, UndoesEverythingAndDoesItAgainOverRestarts, ()) {
  const Shop shop;
  RC_ASSERT(make_piece_file(shop.file(), "format = 1\npiece = \"P\"\nunit = \"in\"\n").empty());
  auto session = shop.open();
  std::vector<std::string> texts = {session->text().content};
  for (int i = *rc::gen::inRange(1, 12); i > 0; --i) {
    const auto size = static_cast<std::uint32_t>(session->text().content.size());
    const auto from = *rc::gen::inRange<std::uint32_t>(0, size + 1);
    const auto to = *rc::gen::inRange<std::uint32_t>(from, size + 1);
    RC_ASSERT(
        splice(*session, from, to, *rc::gen::container<std::string>(rc::gen::inRange('a', 'z'))));
    if (session->text().content != texts.back()) texts.push_back(session->text().content);
    if (*rc::gen::inRange(0, 3) == 0) {
      session.reset();
      session = shop.open();
      RC_ASSERT(session->text().content == texts.back());
    }
  }
  for (std::size_t i = texts.size() - 1; i > 0; --i) {
    RC_ASSERT(static_cast<bool>(session->undo(3)));
    RC_ASSERT(session->text().content == texts[i - 1]);
  }
  RC_ASSERT(session->undo(3).diagnostics().front().code == "workbench.nothing-to-undo");
  session.reset();
  session = shop.open();
  for (std::size_t i = 1; i < texts.size(); ++i) {
    RC_ASSERT(static_cast<bool>(session->redo(4)));
    RC_ASSERT(session->text().content == texts[i]);
  }
  RC_ASSERT(session->redo(4).diagnostics().front().code == "workbench.nothing-to-redo");
  RC_ASSERT(*read_piece_file(shop.file()) == texts.back());
}

TEST(Session, JoinsWhatIsTypedInOneGroup) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  auto session = shop.open();
  for (std::uint32_t i = 0; i < 5; ++i) ASSERT_TRUE(splice(*session, i, i, "#", "typing"));
  ASSERT_TRUE(splice(*session, 5, 5, "\n", "other"));
  ASSERT_TRUE(session->undo(3));
  EXPECT_EQ(session->text().content, "#####" + trestle());
  session.reset();
  session = shop.open();
  ASSERT_TRUE(session->undo(3));
  EXPECT_EQ(session->text().content, trestle());
}

TEST(Session, NeverTakesAnothersTextForItsOwn) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  {
    auto session = shop.open();
    ASSERT_TRUE(splice(*session, 0, 0, "# a\n"));
    ASSERT_TRUE(splice(*session, 0, 0, "# b\n"));
  }
  const std::string newest = *read_piece_file(shop.file());
  {
    auto session = shop.open();
    ASSERT_TRUE(splice(*session, 0, 0, "# c\n"));
  }
  ASSERT_TRUE(write_piece_file(shop.file(), "# theirs\n").empty());
  auto session = shop.open();
  EXPECT_TRUE(session->is_outside());
  EXPECT_EQ(session->text().content, "# c\n" + newest);
  EXPECT_EQ(*read_piece_file(shop.file()), "# theirs\n");
  // An older text of ours that someone put back on purpose counts as theirs.
  ASSERT_TRUE(write_piece_file(shop.file(), trestle()).empty());
  session.reset();
  session = shop.open();
  EXPECT_TRUE(session->is_outside());
  ASSERT_TRUE(session->settle(true, 5));
  EXPECT_EQ(session->text().content, trestle());
  ASSERT_TRUE(session->undo(6));
  EXPECT_EQ(session->text().content, "# c\n" + newest);
  EXPECT_EQ(*read_piece_file(shop.file()), "# c\n" + newest);
}

TEST(Session, KeepsThePictureWhileTheTextCannotBeRead) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  auto session = shop.open();
  const std::size_t bodies = session->seen().bodies.size();
  ASSERT_TRUE(splice(*session, 0, 0, "= ["));
  EXPECT_TRUE(session->is_earlier());
  EXPECT_EQ(session->seen().bodies.size(), bodies);
  ASSERT_TRUE(session->undo(3));
  EXPECT_FALSE(session->is_earlier());
}

bool set(Session& session, const KeyPath& path, const std::string& value) {
  int failed = -1;
  return static_cast<bool>(
      session.edit({session.revision(), "", {SetPath{path, value}}}, 2, failed));
}

TEST(Session, KeepsAFaultySizeInTheListAndTheLastGoodPicture) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  auto session = shop.open();
  const std::string before = session->view();
  const std::size_t bodies = session->seen().bodies.size();
  ASSERT_TRUE(set(*session, {"size", "height", "is"}, "12 1/0"));
  EXPECT_TRUE(session->is_earlier());
  EXPECT_EQ(session->seen().bodies.size(), bodies);
  const std::string view = session->view();
  EXPECT_NE(view.find(R"("name":"height")"), std::string::npos);
  EXPECT_NE(
      view.find(R"("typed":"12 1/0","figure":{"text":"32\"","value":32},"trouble":"the lower)"),
      std::string::npos);
  ASSERT_TRUE(session->undo(3));
  EXPECT_FALSE(session->is_earlier());
  EXPECT_EQ(session->view().substr(session->view().find("\"text\"")),
            before.substr(before.find("\"text\"")));
}

TEST(Session, ShowsTheNewTextWhenABoardIsTakenAwayBesideAFault) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  auto session = shop.open();
  const std::size_t bodies = session->seen().bodies.size();
  ASSERT_TRUE(set(*session, {"derived", "spare"}, "1 +"));
  EXPECT_FALSE(session->is_earlier()) << "nothing is made from it";
  const std::string text = session->text().content;
  const auto from = static_cast<std::uint32_t>(text.find("[board."));
  const auto to = static_cast<std::uint32_t>(text.find("\n[", from) + 1);
  ASSERT_TRUE(splice(*session, from, to, ""));
  EXPECT_LT(session->seen().bodies.size(), bodies);
}

TEST(Session, TakesNoStepForAChangeThatChangesNothing) {
  const Shop shop;
  ASSERT_TRUE(make_piece_file(shop.file(), trestle()).empty());
  auto session = shop.open();
  ASSERT_TRUE(set(*session, {"size", "height", "is"}, "30"));
  const std::int64_t revision = session->revision();
  ASSERT_TRUE(set(*session, {"size", "height", "is"}, "30"));
  EXPECT_EQ(session->revision(), revision);
  ASSERT_TRUE(session->undo(3));
  EXPECT_EQ(session->text().content, trestle());
}

TEST(Session, RefusesAFileThatIsNoText) {
  const Shop shop;
  std::ofstream(shop.file(), std::ios::binary) << "piece = \"\xFF\xFE\"\n";
  auto store = Store::open({.file = shop.folder / ".kerfwright" / "history.db"});
  const auto session = Session::open(shop.file(), "piece", *std::move(store), 1);
  ASSERT_FALSE(session);
  EXPECT_EQ(session.diagnostics().front().code, "piece.not-utf8");
}

}  // namespace
}  // namespace kw
