#include "kerfwright/piece/change.h"

#include <fstream>
#include <gtest/gtest.h>
#include <iterator>

namespace kw {
namespace {

std::string starter(const std::string& name) {
  std::ifstream in(std::string(KW_SOURCE_DIR) + "/starters/" + name + ".toml", std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

Resolved resolved(const Text& text) {
  return resolve(read_piece(text).value, built_in_catalogue()).value;
}

// Made, the inverse edits bringing back every byte.
Changed made(const Text& text, const Change& wish) {
  auto changed = change(text, wish, resolved(text));
  EXPECT_TRUE(changed) << (changed ? "" : changed.diagnostics().front().message);
  if (!changed) return {};
  std::vector<TextEdit> back;
  Text now = text;
  for (const TextEdit& edit : changed->edits) {
    back.push_back(inverse_of(now, edit));
    now = *apply(now, edit);
  }
  EXPECT_EQ(now.content, changed->text.content);
  for (auto edit = back.rbegin(); edit != back.rend(); ++edit) now = *apply(now, *edit);
  EXPECT_EQ(now.content, text.content);
  return *std::move(changed);
}

std::string fault_of(const Text& text, const Change& wish) {
  const auto changed = change(text, wish, resolved(text));
  return changed ? "" : std::string(changed.diagnostics().front().code);
}

std::size_t count_of(const std::string& text, const std::string& word) {
  std::size_t count = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++count;
  return count;
}

const Text trestle{"trestle.toml", starter("trestle")};

TEST(Change, WritesWhatIsTypedAsToml) {
  const auto set = [&](const KeyPath& path, const ValueWish& value) {
    return made(trestle, SetPath{path, value}).text.content;
  };
  EXPECT_NE(set({"size", "height", "is"}, "30 1/2").find("is   = \"30 1/2\"\nfrom = \"26\""),
            std::string::npos);
  EXPECT_NE(set({"size", "height", "is"}, "30 1/2\"").find("is   = '30 1/2\"'"), std::string::npos);
  EXPECT_NE(set({"joint", "crossing", "count"}, "3").find("count  = 3\n"), std::string::npos);
  EXPECT_NE(set({"joint", "crossing", "step"}, "2").find("step = \"2\"\n"), std::string::npos);
  EXPECT_NE(set({"mirror", "low", "joints"}, true).find("joints = true"), std::string::npos);
  EXPECT_NE(set({"board", "leg-a", "end"}, EndWish{}).find("end   = \"square\""),
            std::string::npos);
  EXPECT_NE(set({"board", "leg-a", "end"}, EndWish{{{"against", "leg-b"}, {"add", "1/4"}}})
                .find("end   = { against = \"leg-b\", add = \"1/4\" }"),
            std::string::npos);
  EXPECT_NE(set({"board", "leg-a", "shift"}, std::vector<std::string>{"1/4", "0"})
                .find("shift = [\"1/4\", \"0\"]"),
            std::string::npos);
}

TEST(Change, CountsSplicesInUtf16) {
  const Text text{"t", "# \xF0\x9F\xAA\x9A saw\n"};
  EXPECT_EQ(made(text, SpliceText{5, 8, "axe"}).text.content, "# \xF0\x9F\xAA\x9A axe\n");
  EXPECT_EQ(fault_of(text, SpliceText{5, 99, ""}), "edit.no-place");
  EXPECT_EQ(fault_of(text, SpliceText{5, 4, ""}), "edit.no-place");
}

TEST(Change, LetsASliderGoOnTheTradesFractions) {
  EXPECT_NE(made(trestle, SlideSize{"height", 30.4999}).text.content.find("is   = \"30 1/2\""),
            std::string::npos);
  EXPECT_NE(made(trestle, SlideSize{"height", 99}).text.content.find("is   = \"38\""),
            std::string::npos);
  EXPECT_NE(made(trestle, SlideSize{"lean", 33.33}).text.content.find("is   = \"33.3 deg\""),
            std::string::npos);
  EXPECT_EQ(fault_of(trestle, SlideSize{"width", 1}), "edit.no-such-value");
}

TEST(Change, AddsABoardThatReadsCleanBetweenPlacesPointedAt) {
  AddBoard wish{.stock = "stretcher"};
  wish.from = Pointed{.world = {0, 0, 101.6}, .board = "leg-a", .face = 1, .side = "+z"};
  wish.to = Pointed{.world = {254, 0, 101.6}};
  const Changed changed = made(trestle, wish);
  EXPECT_NE(changed.text.content.find(
                "[board.stretcher]\nstock = \"stretcher\"\nruns = [[\"0\", \"0\", \"4\"], "
                "[\"10\", \"0\", \"4\"]]\n"
                "start = { against = \"leg-a\", face = \"+z\" }\n"),
            std::string::npos)
      << changed.text.content;
  EXPECT_EQ(changed.made, std::vector<KeyPath>({{"board", "stretcher"}}));
}

TEST(Change, CallsAPlacePointedAtByItsPoint) {
  const Resolved piece = resolved(trestle);
  ASSERT_EQ(piece.points.size(), 4U);
  AddBoard wish{.id = "post", .stock = "leg", .from = Pointed{.world = *piece.points[0].at}};
  wish.along = DirectionWish(std::string("up"));
  wish.length = "12";
  EXPECT_NE(made(trestle, wish).text.content.find("at = \"foot\"\nalong = \"up\"\nlength = \"12\""),
            std::string::npos);
  EXPECT_EQ(fault_of(trestle, AddPoint{"here", Pointed{.world = *piece.points[1].at}}),
            "edit.already-there");
}

TEST(Change, RefusesNamesThatTheLanguageDoesNotTake) {
  for (const char* id : {"leg a", "1leg", "leg-", "-leg", "leg--a", "l\xC3\xA4g", ""}) {
    EXPECT_EQ(fault_of(trestle, AddSize{.id = id, .is = "1"}), "edit.bad-id") << id;
    EXPECT_EQ(fault_of(trestle, RenameTable{{"board", "leg-a"}, id}), "edit.bad-id") << id;
  }
  EXPECT_EQ(fault_of(trestle, AddBoard{.id = "b", .stock = "leg", .from = AtPoint{"foot"}}),
            "edit.not-enough");
}

TEST(Change, IsToldInWords) {
  const auto words = [&](const Text& text, const Change& wish) { return made(text, wish).words; };
  EXPECT_EQ(words(trestle, SetPath{{"size", "height", "is"}, "30 1/2"}), "set height to 30 1/2");
  EXPECT_EQ(words(trestle, SetPath{{"size", "height", "to"}, "40"}), "set height, to to 40");
  EXPECT_EQ(words(trestle, SetPath{{"board", "stretcher-middle", "runs", "1", "2"}, "9"}),
            "set stretcher-middle, runs to, up to 9");
  EXPECT_EQ(words(trestle, UnsetPath{{"board", "leg-a", "face"}}), "took leg-a, face away");
  EXPECT_EQ(words(trestle, RemoveTable{{"board", "stretcher-middle"}, true}),
            "took board stretcher-middle away");
}

TEST(Rename, IsFollowedByFormulasEndsAndLists) {
  const auto renamed = [&](const Text& text, const KeyPath& path, const std::string& to) {
    const Resolved before = resolved(text);
    const Changed changed = made(text, RenameTable{path, to});
    const Resolved after = resolved(changed.text);
    EXPECT_EQ(read_piece(changed.text).diagnostics.size(), read_piece(text).diagnostics.size());
    EXPECT_EQ(after.boards.size(), before.boards.size());
    EXPECT_EQ(after.joints.size(), before.joints.size());
    for (std::size_t i = 0; i < std::min(after.boards.size(), before.boards.size()); ++i) {
      EXPECT_EQ(after.boards[i].frame.origin, before.boards[i].frame.origin);
      EXPECT_EQ(after.boards[i].cuts.size(), before.boards[i].cuts.size());
    }
    return changed.text.content;
  };
  const std::string height = renamed(trestle, {"size", "height"}, "tall");
  EXPECT_NE(height.find("[size.tall]"), std::string::npos);
  EXPECT_NE(height.find("reach = \"tall * tan(lean)\""), std::string::npos);
  EXPECT_EQ(height.find("\"height"), std::string::npos);
  EXPECT_NE(renamed(trestle, {"stock", "leg"}, "limb").find("long / 2 - limb.thickness / 2"),
            std::string::npos);
  EXPECT_NE(renamed(trestle, {"point", "foot"}, "base").find("runs  = [\"base\", \"head\"]"),
            std::string::npos);
  EXPECT_NE(renamed(trestle, {"plane", "level"}, "top").find("end   = \"top\""), std::string::npos);
  EXPECT_NE(renamed(trestle, {"derived", "reach"}, "spread").find("\"-spread / 2\""),
            std::string::npos);
  const std::string leg = renamed(trestle, {"board", "leg-a"}, "leg-one");
  EXPECT_EQ(count_of(leg, "\"leg-a\""), 0U);
  EXPECT_NE(leg.find("# Leg-a keeps"), std::string::npos);  // a comment is the maker's
  EXPECT_NE(renamed(trestle, {"joint", "middle"}, "centre").find("[joint.centre]"),
            std::string::npos);
}

TEST(Rename, IsRefusedWhereItWouldChangeThePiece) {
  EXPECT_EQ(fault_of(trestle, RenameTable{{"board", "leg-a"}, "post"}), "edit.pattern");
  EXPECT_EQ(fault_of(trestle, RenameTable{{"board", "leg-a"}, "leg-b"}), "edit.already-there");
  EXPECT_EQ(fault_of(trestle, RenameTable{{"size", "height"}, "reach"}), "edit.already-there");
  EXPECT_EQ(fault_of(trestle, RenameTable{{"size", "width"}, "w"}), "edit.no-such-value");
}

// A pattern of a stranger's file with many stars, on a name that it nearly fits.
TEST(Rename, IsNotHeldUpByAPatternOfManyStars) {
  std::string stars = "*";
  for (int i = 0; i < 20; ++i) stars += "a*";
  const Text text{"stars", trestle.content + "\n[cut.stars]\nof = [\"" + stars + "b\"]\n"};
  const auto changed = change(
      text, RenameTable{{"board", "stretcher-middle"}, std::string(70, 'a')}, resolved(trestle));
  EXPECT_TRUE(changed);
}

TEST(Rename, OfEverythingInEveryStarterLeavesThePieceAsItIs) {
  for (const char* name : {"cold-frame", "garden-bench", "potting-table", "step-stool", "tote",
                           "tree-seat", "wall-shelf"}) {
    const Text text{name, starter(name)};
    const Document document = read_piece(text).value;
    const Resolved before = resolved(text);
    std::vector<KeyPath> paths;
    for (const auto& d : document.sizes) paths.push_back({"size", d.name.text});
    for (const auto& d : document.stocks) paths.push_back({"stock", d.name.text});
    for (const auto& d : document.top.points) paths.push_back({"point", d.name.text});
    for (const auto& d : document.top.boards) paths.push_back({"board", d.name.text});
    for (const auto& d : document.top.panels) paths.push_back({"panel", d.name.text});
    int done = 0;
    for (const KeyPath& path : paths) {
      const auto changed = change(text, RenameTable{path, path[1] + "-new"}, before);
      if (!changed) {
        EXPECT_EQ(changed.diagnostics().front().code, "edit.pattern") << name << ' ' << path[1];
        continue;
      }
      ++done;
      const Reading<Document> read = read_piece(changed->text);
      const Reading<Resolved> after = resolve(read.value, built_in_catalogue());
      EXPECT_TRUE(read.diagnostics.empty()) << name << ' ' << path[1];
      EXPECT_FALSE(has_errors(after.diagnostics)) << name << ' ' << path[1];
      ASSERT_EQ(after.value.boards.size(), before.boards.size()) << name << ' ' << path[1];
      EXPECT_EQ(after.value.joints.size(), before.joints.size()) << name << ' ' << path[1];
      for (std::size_t i = 0; i < before.boards.size(); ++i)
        EXPECT_EQ(after.value.boards[i].frame.origin, before.boards[i].frame.origin) << name;
    }
    EXPECT_GT(done, 0) << name;
  }
}

TEST(Remove, IsRefusedWhileOthersNeedItAndTakesThemAlongWhenTold) {
  EXPECT_EQ(fault_of(trestle, RemoveTable{{"stock", "leg"}, false}), "edit.still-needed");
  EXPECT_EQ(fault_of(trestle, RemoveTable{{"board", "stretcher-middle"}, false}),
            "edit.still-needed");
  const Changed middle = made(trestle, RemoveTable{{"board", "stretcher-middle"}, true});
  EXPECT_EQ(middle.text.content.find("[joint.middle]"), std::string::npos);
  EXPECT_FALSE(
      has_errors(resolve(read_piece(middle.text).value, built_in_catalogue()).diagnostics));
  const Text text{
      "t", "[board.a]\n[board.b]\n[hole.h]\nof = [\"a\", \"b\"] # both\n[cut.c]\nof = \"a\"\n"};
  EXPECT_EQ(made(text, RemoveTable{{"board", "a"}, true}).text.content,
            "[board.b]\n[hole.h]\nof = [\"b\"] # both\n");
  EXPECT_EQ(fault_of(trestle, RemoveTable{{"board", "nothing"}, false}), "edit.no-such-value");
}

// Everything of an assembly that has a name, used by everything that may name it.
const Text trough{"trough.toml", R"(format = 1
piece = "Trough"
unit = "in"
[size.deep]
is = "10"
[stock.wood]
section = "1x6"
species = "spruce-pine-fir"
[derived]
wide = "deep * 2"
[assembly.trough.derived]
width = "wide / 2"
inner = "width - 2 * wood.thickness"
[assembly.trough.point]
left = ["-width / 2", "0", "0"]
[assembly.trough.plane.rim]
at = ["0", "0", "2"]
faces = "up"
[assembly.trough.board.side]
stock = "wood"
at = "left"
along = "y"
length = "24"
face = "right"
[assembly.trough.board.floor]
stock = "wood"
at = ["left.x + side.width / 2 + side.thickness / 2", "0", "0"]
along = "y"
length = "side.length - 2"
[assembly.trough.cut.rim]
of = "side"
plane = "rim"
[assembly.trough.mirror.other]
of = "side"
across = "x"
[assembly.trough.joint.foot]
kind = "butt"
of = ["side", "floor"]
[assembly.trough.hole.peg]
of = ["other/side", "side"]
along = "2"
diameter = "1/4"
[board.rail]
stock = "wood"
at = ["0", "40", "0"]
along = "x"
length = "30"
[use.low]
assembly = "trough"
with = { width = "deep + 2" }
[use.high]
assembly = "trough"
at = ["0", "0", "30"]
[repeat.row]
of = ["low"]
count = 2
step = ["60", "0", "0"]
[hole.drain]
of = ["high/floor", "low/floor"]
face = "+z"
along = "12"
diameter = "1/2"
[load.soil]
on = ["row/low/floor/2"]
kind = "soil"
each = "20 lb"
)"};

TEST(Rename, InAnAssemblyIsFollowedInsideAndFromOutside) {
  const auto renamed = [&](const KeyPath& path, const std::string& to) {
    const Reading<Resolved> before = resolve(read_piece(trough).value, built_in_catalogue());
    EXPECT_TRUE(before.diagnostics.empty())
        << (before.diagnostics.empty() ? "" : before.diagnostics.front().message);
    const Changed changed = made(trough, RenameTable{path, to});
    const Reading<Resolved> after = resolve(read_piece(changed.text).value, built_in_catalogue());
    EXPECT_TRUE(after.diagnostics.empty()) << path.back();
    EXPECT_EQ(after.value.boards.size(), before.value.boards.size());
    return changed.text.content;
  };
  const auto inside = [](const char* table, const char* name) {
    return KeyPath{"assembly", "trough", table, name};
  };
  const std::string side = renamed(inside("board", "side"), "end");
  for (const char* words :
       {"[assembly.trough.board.end]", "left.x + end.width / 2 + end.thickness / 2",
        "\"end.length - 2", "of = \"end\"\nplane", "[\"other/end\", \"end\"]"})
    EXPECT_NE(side.find(words), std::string::npos) << words;
  const std::string floor = renamed(inside("board", "floor"), "base");
  for (const char* words : {"of = [\"high/base\", \"low/base\"]", "[\"row/low/base/2\"]"})
    EXPECT_NE(floor.find(words), std::string::npos) << words;
  EXPECT_NE(renamed(inside("mirror", "other"), "far").find("\"far/side\""), std::string::npos);
  const std::string width = renamed(inside("derived", "width"), "across");
  for (const char* words : {"\nacross = \"wide / 2\"", "\"across - 2 *", "\"-across / 2\"",
                            "with = { across = \"deep + 2\" }"})
    EXPECT_NE(width.find(words), std::string::npos) << words;
  const std::string left = renamed(inside("point", "left"), "west");
  for (const char* words : {"\nwest = [", "at = \"west\"", "\"west.x + side"})
    EXPECT_NE(left.find(words), std::string::npos) << words;
  EXPECT_NE(renamed(inside("plane", "rim"), "top").find("plane = \"top\""), std::string::npos);
  EXPECT_NE(renamed(inside("joint", "foot"), "toe").find("[assembly.trough.joint.toe]"),
            std::string::npos);
  const std::string tub = renamed({"assembly", "trough"}, "tub");
  EXPECT_EQ(tub.find("trough"), std::string::npos);
  EXPECT_EQ(count_of(tub, "assembly = \"tub\""), 2U);
  EXPECT_NE(renamed({"use", "low"}, "deepest").find("\"row/deepest/floor/2\""), std::string::npos);
  EXPECT_NE(renamed({"size", "deep"}, "depth").find("\"depth + 2\""), std::string::npos);
  EXPECT_NE(renamed({"derived", "wide"}, "broad").find("\nwidth = \"broad / 2\""),
            std::string::npos);
  EXPECT_NE(renamed({"stock", "wood"}, "plank").find("2 * plank.thickness"), std::string::npos);
}

TEST(Rename, InAnAssemblyIsRefusedWhereItWouldChangeThePiece) {
  const auto fault = [&](const char* table, const char* name, const std::string& to) {
    return fault_of(trough, RenameTable{{"assembly", "trough", table, name}, to});
  };
  EXPECT_EQ(fault("board", "side", "floor"), "edit.already-there");
  EXPECT_EQ(fault("derived", "width", "deep"), "edit.already-there");
  EXPECT_EQ(fault_of(trough, RenameTable{{"size", "deep"}, "inner"}), "edit.already-there");
  EXPECT_EQ(fault("board", "nothing", "x"), "edit.no-such-value");
  EXPECT_EQ(fault_of(trough, RenameTable{{"assembly", "tub", "board", "side"}, "x"}),
            "edit.cannot-rename");
  Text starred = trough;
  const std::string list = "[\"high/floor\", \"low/floor\"]";
  starred.content.replace(starred.content.find(list), list.size(), "[\"high/fl*\"]");
  EXPECT_EQ(fault_of(starred, RenameTable{{"assembly", "trough", "board", "floor"}, "base"}),
            "edit.pattern");
}

TEST(Remove, InAnAssemblyTakesAlongWhatNamesItInsideAndFromOutside) {
  const KeyPath floor = {"assembly", "trough", "board", "floor"};
  EXPECT_EQ(fault_of(trough, RemoveTable{floor, false}), "edit.still-needed");
  const std::string left = made(trough, RemoveTable{floor, true}).text.content;
  for (const char* gone : {"floor", "[assembly.trough.joint", "[hole.drain]", "[load.soil]"})
    EXPECT_EQ(left.find(gone), std::string::npos) << gone;
  EXPECT_TRUE(resolve(read_piece({"t", left}).value, built_in_catalogue()).diagnostics.empty());
  // A formula cannot be struck out.
  EXPECT_EQ(fault_of(trough, RemoveTable{{"assembly", "trough", "board", "side"}, true}),
            "edit.still-needed");
  EXPECT_EQ(fault_of(trough, RemoveTable{{"assembly", "trough", "derived", "width"}, true}),
            "edit.still-needed");
  const std::string none = made(trough, RemoveTable{{"assembly", "trough"}, true}).text.content;
  for (const char* gone : {"trough.", "[use.", "[repeat.row]", "[hole.", "[load."})
    EXPECT_EQ(none.find(gone), std::string::npos) << gone;
  EXPECT_TRUE(resolve(read_piece({"t", none}).value, built_in_catalogue()).diagnostics.empty());
  EXPECT_EQ(count_of(none, "[board.rail]"), 1U);
}

}  // namespace
}  // namespace kw
