#include "kerfwright/piece/edit.h"

#include <gtest/gtest.h>

#include "reading.h"

namespace kw {
namespace {

using Path = std::vector<std::string>;
using testing_piece::slice;

std::string applied(const Text& text, const Outcome<TextEdit>& edit) {
  if (!edit) return render(text, edit.diagnostics());
  const auto after = apply(text, *edit);
  if (!after) return render(text, after.diagnostics());
  const auto back = apply(*after, inverse_of(text, *edit));
  EXPECT_TRUE(back && back->content == text.content) << "the inverse does not restore the text";
  return after->content;
}

std::string set(const std::string& content, const Path& path, const std::string& toml) {
  const Text text{"a.toml", content};
  return applied(text, set_value(text, path, toml));
}

std::string added(const std::string& content, const Path& table, const std::string& key,
                  const std::string& toml) {
  const Text text{"a.toml", content};
  return applied(text, add_value(text, table, key, toml));
}

std::string removed(const std::string& content, const Path& path) {
  const Text text{"a.toml", content};
  return applied(text, remove_value(text, path));
}

std::string found(const std::string& content, const Path& path) {
  const Text text{"a.toml", content};
  const auto at = find_value(text, path);
  return at ? slice(text, *at) : render(text, at.diagnostics());
}

template <class T>
std::string code_of(const Outcome<T>& outcome) {
  return outcome ? "" : std::string(outcome.diagnostics().at(0).code);
}

const std::string some = R"(# a stool
title = "é"   # ï

[size.height]   # how tall
is = "30"       # inches
from = "24"

# the legs
[board.leg-a]
runs = ["foot", ["0", "1", "2"]]
start = { plane = "floor", add.x = [1, 2] }
face.is = "x"
face.turn = "15 deg"
)";

TEST(FindValue, FindsValuesHoweverTheyAreWritten) {
  EXPECT_EQ(found(some, {"title"}), "\"é\"");
  EXPECT_EQ(found(some, {"size", "height", "is"}), "\"30\"");
  EXPECT_EQ(found(some, {"board", "leg-a", "runs", "1"}), "[\"0\", \"1\", \"2\"]");
  EXPECT_EQ(found(some, {"board", "leg-a", "runs", "1", "2"}), "\"2\"");
  EXPECT_EQ(found(some, {"board", "leg-a", "start", "add", "x", "1"}), "2");
  EXPECT_EQ(found(some, {"board", "leg-a", "face", "turn"}), "\"15 deg\"");
  EXPECT_EQ(found(some, {"size", "height"}), "[size.height]");
  EXPECT_EQ(found(some, {}), some);
}

TEST(FindValue, FindsValuesBehindAByteOrderMarkAndLongLineEnds) {
  EXPECT_EQ(found("\xEF\xBB\xBF"
                  "a = 'é'\r\nb.c = [1,\r\n 2]\r\n",
                  {"a"}),
            "'é'");
  EXPECT_EQ(found("\xEF\xBB\xBF"
                  "a = 'é'\r\nb.c = [1,\r\n 2]\r\n",
                  {"b", "c"}),
            "[1,\r\n 2]");
  EXPECT_EQ(found("a = { b = \"椅子\", c = \"🪑\" }", {"a", "c"}), "\"🪑\"");
}

TEST(FindValue, TellsTheNearestPath) {
  const auto missing = find_value({"a.toml", some}, {"board", "leg-b", "runs"});
  ASSERT_EQ(code_of(missing), "edit.no-such-value");
  EXPECT_EQ(missing.diagnostics()[0].hint, "did you mean `board.leg-a`?");
  EXPECT_EQ(code_of(find_value({"a.toml", some}, {"board", "leg-a", "runs", "2"})),
            "edit.no-such-value");
  EXPECT_EQ(code_of(find_value({"a.toml", some}, {"board", "leg-a", "runs", "x"})),
            "edit.no-such-value");
  EXPECT_EQ(code_of(find_value({"a.toml", some}, {"title", "x"})), "edit.no-such-value");
}

TEST(FindValue, PassesOnWhatIsWrongWithTheFile) {
  EXPECT_EQ(code_of(find_value({"a.toml", "a = "}, {"a"})), "piece.syntax");
}

TEST(SetValue, ChangesTheValueAndNothingElse) {
  std::string wanted = some;
  wanted.replace(wanted.find("\"30\""), 4, "\"30 1/2\"");
  EXPECT_EQ(set(some, {"size", "height", "is"}, "\"30 1/2\""), wanted);
  EXPECT_EQ(set("a = [1, 22, 3]", {"a", "1"}, " 4\n"), "a = [1, 4, 3]");
  EXPECT_EQ(set("a = { b.c = 'é' } # x", {"a", "b", "c"}, "[\n 1,\n]"),
            "a = { b.c = [\n 1,\n] } # x");
  EXPECT_EQ(set("a = \"\"\"\nx\n\"\"\"\r\nb = 1", {"a"}, "{}"), "a = {}\r\nb = 1");
}

TEST(SetValue, RefusesWhatIsNotOneValue) {
  for (const std::string toml : {"", "  ", "1 # one", "1\nb = 2", "x", "[1", "1, 2", "\"a", "1]",
                                 "1\n[t]", "1 }", "'a'\n\n\nb = 1 #"}) {
    EXPECT_EQ(code_of(set_value({"a.toml", "a = 1\n"}, {"a"}, toml)), "edit.bad-toml") << toml;
  }
}

TEST(SetValue, RefusesATableWithLinesOfItsOwn) {
  const Text text{"a.toml", "[a.b]\nx.y = 1\n[[c]]\nd = 1\n"};
  for (const Path& path :
       {Path{"a"}, Path{"a", "b"}, Path{"a", "b", "x"}, Path{"c"}, Path{"c", "0"}, Path{}}) {
    EXPECT_EQ(code_of(set_value(text, path, "1")), "edit.not-a-value");
  }
  EXPECT_EQ(set(text.content, {"c", "0", "d"}, "2"), "[a.b]\nx.y = 1\n[[c]]\nd = 2\n");
}

TEST(AddValue, AddsALineBehindTheTablesOwn) {
  EXPECT_EQ(added("[a]\nx = 1 # one\n\n[b]\n", {"a"}, "y", "2"),
            "[a]\nx = 1 # one\ny = 2\n\n[b]\n");
  EXPECT_EQ(added("[a] # empty\n[b]\n", {"a"}, "y", "2"), "[a] # empty\ny = 2\n[b]\n");
  EXPECT_EQ(added("[a]\nx = [\n 1,\n]\n", {"a"}, "y", "2"), "[a]\nx = [\n 1,\n]\ny = 2\n");
  EXPECT_EQ(added("[a]\nx = 1", {"a"}, "y", "2"), "[a]\nx = 1\ny = 2");
  EXPECT_EQ(added("[a]\r\nx = 1\r\n[b]", {"a"}, "y", "2"), "[a]\r\nx = 1\r\ny = 2\r\n[b]");
  EXPECT_EQ(added("[a]\nx.z = 1\n[a.b]\nc = 1\n", {"a"}, "y", "2"),
            "[a]\nx.z = 1\ny = 2\n[a.b]\nc = 1\n");
}

TEST(AddValue, AddsToTheFileItself) {
  EXPECT_EQ(added("a = 1\n[b]\nc = 1\n", {}, "y", "2"), "a = 1\ny = 2\n[b]\nc = 1\n");
  EXPECT_EQ(added("\xEF\xBB\xBF[b]\n", {}, "y", "2"), "\xEF\xBB\xBFy = 2\n[b]\n");
  EXPECT_EQ(added("", {}, "y", "2"), "y = 2\n");
}

TEST(AddValue, AddsInsideBraces) {
  EXPECT_EQ(added("a = { b = 1 }", {"a"}, "y", "2"), "a = { b = 1, y = 2 }");
  EXPECT_EQ(added("a = {}", {"a"}, "y", "2"), "a = { y = 2 }");
  EXPECT_EQ(added("a = [{ b = 1 }, {  }]", {"a", "1"}, "y", "2"), "a = [{ b = 1 }, { y = 2 }]");
  EXPECT_EQ(added("a = { b.c = 1, d = 2 }", {"a", "b"}, "y", "2"),
            "a = { b.c = 1, b.y = 2, d = 2 }");
}

TEST(AddValue, AddsBesideDottedKeys) {
  EXPECT_EQ(added("[s]\n\"h é\".is = 1\nx = 2\n", {"s", "h é"}, "to", "2"),
            "[s]\n\"h é\".is = 1\n\"h é\".to = 2\nx = 2\n");
  EXPECT_EQ(added("a . b . c = 1\na.d = 2\n", {"a", "b"}, "y", "2"),
            "a . b . c = 1\na.b.y = 2\na.d = 2\n");
}

TEST(AddValue, MakesATableThatIsNotThere) {
  EXPECT_EQ(added("a = 1\n", {"size", "a b"}, "is", "2"), "a = 1\n\n[size.\"a b\"]\nis = 2\n");
  EXPECT_EQ(added("a = 1", {"size", "w"}, "is", "2"), "a = 1\n\n[size.w]\nis = 2\n");
  EXPECT_EQ(added("", {"w"}, "is", "2"), "[w]\nis = 2\n");
  EXPECT_EQ(added("[a.b]\nc = 1\n", {"a"}, "y", "2"), "[a.b]\nc = 1\n\n[a]\ny = 2\n");
  EXPECT_EQ(added("[a.b]\r\nc = 1\r\n", {"a", "d"}, "y", "2"),
            "[a.b]\r\nc = 1\r\n\r\n[a.d]\r\ny = 2\r\n");
}

TEST(AddValue, QuotesAKeyThatNeedsIt) {
  EXPECT_EQ(added("[a]\n", {"a"}, "b \"c\\\n", "2"), "[a]\n\"b \\\"c\\\\\\u000A\" = 2\n");
  EXPECT_EQ(added("[a]\n", {"a"}, "", "2"), "[a]\n\"\" = 2\n");
}

TEST(AddValue, RefusesAKeyThatIsThereAndATableThatIsNone) {
  EXPECT_EQ(code_of(add_value({"a.toml", some}, {"size", "height"}, "is", "1")),
            "edit.already-there");
  EXPECT_EQ(code_of(add_value({"a.toml", some}, {"title"}, "x", "1")), "edit.not-a-table");
  EXPECT_EQ(code_of(add_value({"a.toml", some}, {"title", "x"}, "y", "1")), "edit.not-a-table");
  EXPECT_EQ(code_of(add_value({"a.toml", some}, {"board", "leg-a", "start", "new"}, "y", "1")),
            "edit.not-a-table");
  EXPECT_EQ(code_of(add_value({"a.toml", some}, {"size", "height"}, "x", "1 2")), "edit.bad-toml");
}

TEST(RemoveValue, TakesAKeyWithItsLine) {
  EXPECT_EQ(removed("a = 1\nb = 2 # two\nc = 3\n", {"b"}), "a = 1\nc = 3\n");
  EXPECT_EQ(removed("a = [\n1,\n] # x\r\nc = 3", {"a"}), "c = 3");
  EXPECT_EQ(removed("a = 1\nb = 2", {"b"}), "a = 1\n");
  EXPECT_EQ(removed("\xEF\xBB\xBF"
                    "a = 1\nb = 2",
                    {"a"}),
            "\xEF\xBB\xBF"
            "b = 2");
  EXPECT_EQ(removed("[s]\nh.is = 1\nx = 2\nh.to = 3\n", {"s", "h"}), "[s]\nx = 2\n");
}

TEST(RemoveValue, TakesAKeyOutOfBraces) {
  const std::string text = "a = { b = 1, c.d = 2, e = 3 }";
  EXPECT_EQ(removed(text, {"a", "b"}), "a = { c.d = 2, e = 3 }");
  EXPECT_EQ(removed(text, {"a", "c"}), "a = { b = 1, e = 3 }");
  EXPECT_EQ(removed(text, {"a", "c", "d"}), "a = { b = 1, e = 3 }");
  EXPECT_EQ(removed(text, {"a", "e"}), "a = { b = 1, c.d = 2 }");
  EXPECT_EQ(removed("a = { b = 1 }", {"a", "b"}), "a = { }");
  EXPECT_EQ(removed("a = { b.x = 1, b.y = 2, c = 3, b.z = 4 }", {"a", "b"}), "a = { c = 3 }");
  EXPECT_EQ(removed("a = { b.x = 1, b.y = 2 }", {"a", "b"}), "a = { }");
}

TEST(RemoveValue, TakesAnItemOutOfAList) {
  EXPECT_EQ(removed("a = [1, 2, 3]", {"a", "0"}), "a = [2, 3]");
  EXPECT_EQ(removed("a = [1, 2, 3]", {"a", "1"}), "a = [1, 3]");
  EXPECT_EQ(removed("a = [1, 2, 3]", {"a", "2"}), "a = [1, 2]");
  EXPECT_EQ(removed("a = [1]", {"a", "0"}), "a = []");
  EXPECT_EQ(removed("a = [1, 2,]", {"a", "1"}), "a = [1, ]");
  EXPECT_EQ(removed("a = [\n  1, # one\n  2, # two\n]", {"a", "0"}), "a = [\n  2, # two\n]");
  EXPECT_EQ(removed("a = [\n  1, # one\n  2 # two\n]", {"a", "1"}), "a = [\n  1, # one\n]");
  EXPECT_EQ(removed("a = [\n  1, 2, # both\n  3\n]", {"a", "1"}), "a = [\n  1,  # both\n  3\n]");
  EXPECT_EQ(removed("a = [1 # , one\n, 2]", {"a", "0"}), "a = [2]");
}

TEST(RemoveValue, TakesAWholeTableWithItsOwnComments) {
  EXPECT_EQ(
      removed("# top\n\n# the legs\n# two of them\n[a]\nx = 1\n# within\ny = 2\n\n# next\n[b]\n",
              {"a"}),
      "# top\n\n# next\n[b]\n");
  EXPECT_EQ(removed("[a]\nx = 1\n# about b\n[b]\n", {"a"}), "# about b\n[b]\n");
  EXPECT_EQ(removed("[a]\nx = 1\n\n[b]\ny = 1\n\n[a.c]\nz = 1\n\n[d]\n", {"a"}),
            "[b]\ny = 1\n\n[d]\n");
  EXPECT_EQ(removed("[a.b]\nx = 1\n[a.c]\ny = 1\n", {"a", "b"}), "[a.c]\ny = 1\n");
  EXPECT_EQ(removed("[[t]]\nx = 1\n[[t]]\nx = 2\n[[t]]\nx = 3\n", {"t", "1"}),
            "[[t]]\nx = 1\n[[t]]\nx = 3\n");
  EXPECT_EQ(removed("[a]", {"a"}), "");
}

TEST(RemoveValue, LeavesTheWholeFile) {
  EXPECT_EQ(code_of(remove_value({"a.toml", some}, {})), "edit.not-a-value");
}

TEST(Apply, RefusesAPlaceOutsideTheText) {
  EXPECT_EQ(code_of(apply({"a.toml", "abc"}, {{2, 4}, "x"})), "edit.bad-span");
  EXPECT_EQ(code_of(apply({"a.toml", "abc"}, {{2, 1}, "x"})), "edit.bad-span");
  EXPECT_EQ(apply({"a.toml", "abc"}, {{3, 3}, "x"})->content, "abcx");
}

}  // namespace
}  // namespace kw
