// The files of tests/planted: each has one fault, which must be found with the right words, and
// gone when the file is mended.
#include <algorithm>
#include <filesystem>
#include <gtest/gtest.h>

#include "checked_piece.h"

namespace kw {
namespace {

struct Planted {
  std::string text = {}, finds = {}, words = {};
  std::vector<std::pair<std::string, std::string>> mends = {};
};

std::string behind(const std::string& line, const std::string& head) {
  return line.compare(0, head.size(), head) == 0 ? line.substr(head.size()) : "";
}

Planted planted(const std::filesystem::path& file) {
  Planted planted{.text = test::contents_of(file.string())};
  std::stringstream lines(planted.text);
  for (std::string line; std::getline(lines, line);) {
    if (const auto finds = behind(line, "# finds: "); !finds.empty()) planted.finds = finds;
    if (const auto words = behind(line, "# words: "); !words.empty()) planted.words = words;
    const std::string mend = behind(line, "# mend: ");
    if (const auto arrow = mend.find(" => "); arrow != std::string::npos)
      planted.mends.emplace_back(mend.substr(0, arrow), mend.substr(arrow + 4));
  }
  return planted;
}

// With every mend made, in the piece and not in the lines that announce it.
std::string mended(const Planted& planted) {
  std::string text = planted.text.substr(planted.text.find("format = 1"));
  for (const auto& [from, to] : planted.mends) {
    bool is_there = false;
    for (std::size_t at = text.find(from); at != std::string::npos;
         at = text.find(from, at + to.size())) {
      text.replace(at, from.size(), to);
      is_there = true;
    }
    EXPECT_TRUE(is_there) << from;
  }
  return text;
}

std::vector<std::filesystem::path> files() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(KW_SOURCE_DIR) + "/tests/planted"))
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

const Finding* failing(const std::vector<Finding>& findings, const std::string& check) {
  for (const Finding& f : findings)
    if (f.check == check && f.verdict == Verdict::fails) return &f;
  return nullptr;
}

TEST(Planted, FaultsAreEachFoundWithTheRightWords) {
  for (const auto& file : files()) {
    SCOPED_TRACE(file.filename().string());
    const Planted piece = planted(file);
    ASSERT_FALSE(piece.finds.empty());
    ASSERT_FALSE(piece.words.empty());
    const auto findings = test::findings_of(piece.text);
    const Finding* f = failing(findings, piece.finds);
    if (f == nullptr) {
      ADD_FAILURE() << to_text(findings);
      continue;
    }
    EXPECT_NE(f->message.find(piece.words), std::string::npos) << f->message;
    EXPECT_FALSE(f->number.empty());
    EXPECT_FALSE(f->limit.empty());
    EXPECT_FALSE(f->source.empty());
    EXPECT_FALSE(f->assumption.empty());
    EXPECT_FALSE(f->change.empty());
  }
}

TEST(Planted, FaultsAreGoneWhenTheyAreMended) {
  for (const auto& file : files()) {
    SCOPED_TRACE(file.filename().string());
    const Planted piece = planted(file);
    ASSERT_FALSE(piece.mends.empty());
    const auto findings = test::findings_of(mended(piece));
    const Finding* f = failing(findings, piece.finds);
    EXPECT_EQ(f, nullptr) << f->message;
  }
}

TEST(Planted, FaultsAreThoseThatTheChecksArePromisedToFind) {
  std::vector<std::string> found;
  for (const auto& file : files()) found.push_back(planted(file).finds);
  for (const char* check :
       {"screw-comes-out", "screw-splits-edge", "screws-meet", "board-sags", "joint-strength",
        "tips", "slats-swell", "panel-trapped", "part-too-small", "holds-water"})
    EXPECT_NE(std::find(found.begin(), found.end(), check), found.end()) << check;
}

}  // namespace
}  // namespace kw
