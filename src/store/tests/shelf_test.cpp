#include "kerfwright/store/shelf.h"

#include <fstream>
#include <gtest/gtest.h>

#include "kerfwright/piece/document.h"

namespace kw {
namespace {

namespace fs = std::filesystem;

struct ShelfTest : testing::Test {
  fs::path folder;
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "kw-shelf-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder = pattern;
  }
  void TearDown() override { fs::remove_all(folder); }
};

TEST_F(ShelfTest, ListsPiecesWithTitlesAndErrors) {
  ASSERT_TRUE(
      make_piece_file(file_of(folder, "stool"), empty_piece("A \"low\" stool", LengthUnit::mm))
          .empty());
  ASSERT_TRUE(make_piece_file(file_of(folder, "broken"), "format = \n").empty());
  std::ofstream(folder / "notes.txt") << "no piece";
  const ShelfList list = list_of(folder);
  ASSERT_EQ(list.pieces.size(), 2U);
  EXPECT_EQ(list.pieces[0].name, "broken");
  EXPECT_GE(list.pieces[0].errors, 1);
  EXPECT_EQ(list.pieces[1].title, "A \"low\" stool");
  EXPECT_EQ(list.pieces[1].errors, 0);
  EXPECT_GE(list.starters.size(), 8U);
}

TEST_F(ShelfTest, NeverWritesOverAnotherPiece) {
  ASSERT_TRUE(make_piece_file(file_of(folder, "a"), "one").empty());
  ASSERT_TRUE(make_piece_file(file_of(folder, "b"), "two").empty());
  EXPECT_EQ(make_piece_file(file_of(folder, "a"), "three").front().code, "shelf.name-taken");
  EXPECT_EQ(rename_piece_file(folder, "a", "b").front().code, "shelf.name-taken");
  EXPECT_EQ(*read_piece_file(file_of(folder, "a")), "one");
  EXPECT_EQ(*read_piece_file(file_of(folder, "b")), "two");
  EXPECT_EQ(rename_piece_file(folder, "c", "d").front().code, "shelf.no-such-piece");
}

TEST_F(ShelfTest, BinsAndTakesBackUnderAFreeName) {
  ASSERT_TRUE(make_piece_file(file_of(folder, "a"), "one").empty());
  const auto first = bin_piece(folder, "a", 1000);
  ASSERT_TRUE(first);
  ASSERT_TRUE(make_piece_file(file_of(folder, "a"), "two").empty());
  const auto second = bin_piece(folder, "a", 1000);
  ASSERT_TRUE(second);
  EXPECT_NE(first->id, second->id);
  EXPECT_EQ(list_of(folder).binned.size(), 2U);
  EXPECT_EQ(*take_back(folder, first->id), "a");
  EXPECT_EQ(*take_back(folder, second->id), "a-2");
  EXPECT_EQ(*read_piece_file(file_of(folder, "a-2")), "two");
  EXPECT_EQ(take_back(folder, "../a").diagnostics().front().code, "shelf.no-such-piece");
}

TEST(Starters, ReadCleanAsTheProgramCarriesThem) {
  for (const Starter& starter : list_of("/nonexistent").starters) {
    const auto text = starter_text(starter.name);
    ASSERT_TRUE(text) << starter.name;
    EXPECT_TRUE(read_piece({starter.name, *text}).diagnostics.empty()) << starter.name;
    EXPECT_FALSE(starter.title.empty());
    EXPECT_FALSE(starter.words.empty());
  }
}

}  // namespace
}  // namespace kw
