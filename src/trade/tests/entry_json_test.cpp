#include "kerfwright/wire/entry_json.h"

#include <fstream>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "draw_events.h"

namespace kw::trade {
namespace {

RC_GTEST_PROP(EntryJson, ReadsBackWhatItWrote, ()) {
  Dice dice{*rc::gen::arbitrary<std::uint64_t>()};
  Journal journal = draw_journal(dice, 20);
  for (int i = 0; i < 20; ++i) {
    const Entry entry = draw_entry(dice, journal.books);
    const std::string json = entry_json(entry);
    RC_ASSERT(json.find('\n') == json.npos);
    const auto again = read_entry(json);
    RC_ASSERT(bool(again));
    RC_ASSERT(*again == entry);
    RC_ASSERT(entry_json(*again) == json);
  }
}

std::string fault_of(const std::string& json) {
  const auto entry = read_entry(json);
  if (entry) return "";
  return std::string(entry.diagnostics()[0].code) + ": " + entry.diagnostics()[0].message;
}

const std::string gone = R"("day":"2026-11-30","event":"boards-gone","boards":[12])";

TEST(EntryJson, IsAsTheManualShowsIt) {
  const Entry entry{*parse_day("2026-11-30"), BoardsGone{{12}, "rot"}};
  EXPECT_EQ(entry_json(entry),
            R"({"form":1,"day":"2026-11-30","event":"boards-gone","boards":[12],"why":"rot"})");
  EXPECT_EQ(*read_entry(entry_json(entry)), entry);
}

TEST(EntryJson, NamesThePlaceOfWhatIsWrong) {
  EXPECT_EQ(fault_of("{\"form\":1," + gone + "}"), "");
  EXPECT_EQ(fault_of("[]"), "wire.bad-entry: the entry lacks `form`");
  EXPECT_EQ(fault_of("{"), "wire.bad-entry: the entry is no JSON (RFC 8259)");
  EXPECT_EQ(fault_of("{\"form\":2," + gone + "}"),
            "wire.newer-entry: this entry has form 2, which a newer version wrote");
  EXPECT_EQ(fault_of("{\"form\":1," + gone + ",\"whi\":\"x\"}"),
            "wire.bad-entry: the entry has an unknown key `whi`");
  EXPECT_EQ(fault_of("{\"form\":1," + gone + ",\"form\":1}"),
            "wire.bad-entry: the entry has the key `form` twice");
  EXPECT_EQ(fault_of(R"({"form":1,"day":"2026-02-30","event":"delivered","order":1})"),
            "wire.bad-entry: /day must be a day like 2026-03-01");
  EXPECT_EQ(fault_of(R"({"form":1,"day":"2026-02-03","event":"sold","order":1})"),
            "wire.bad-entry: /event is no event that the books know");
  EXPECT_EQ(fault_of(R"({"form":1,"day":"2026-02-03","event":"delivered"})"),
            "wire.bad-entry: the entry lacks `order`");
  EXPECT_EQ(fault_of(R"({"form":1,"day":"2026-02-03","event":"boards-gone","boards":[1,"2"]})"),
            "wire.bad-entry: /boards/1 must be a whole number from -2147483647 to 2147483647");
  EXPECT_EQ(
      fault_of(
          R"({"form":1,"day":"2026-02-03","event":"boards-found","boards":[{"length":"8 foo"}]})")
          .substr(0, 40),
      "wire.bad-entry: /boards/0/length is no l");
}

TEST(EntryJson, TakesLengthsAsTypedWithTheirUnit) {
  const auto found = [](const std::string& length) {
    return R"({"form":1,"day":"2026-02-03","event":"boards-found","boards":[{"stock":"2x4","length":)" +
           length + "}]}";
  };
  const auto entry = read_entry(found(R"("8 ft")"));
  ASSERT_TRUE(entry);
  EXPECT_EQ(std::get<BoardsFound>(entry->event).boards[0].length, Length::inches(96));
  EXPECT_EQ(fault_of(found(R"("8")")), "wire.bad-entry: /boards/0/length needs its unit behind it");
}

// Seeds for fuzz/entries_fuzz.cpp are real entries of every kind.
TEST(EntryJson, EveryKindHasItsSeed) {
  const std::string folder = std::string(KW_SOURCE_DIR) + "/fuzz/corpus/entries/";
  std::set<std::size_t> kinds;
  for (std::size_t i = 0; i < std::variant_size_v<Event>; ++i) {
    std::ifstream file(folder + std::to_string(i) + ".json");
    const std::string json((std::istreambuf_iterator<char>(file)), {});
    const auto entry = read_entry(json);
    ASSERT_TRUE(entry) << i << " " << json;
    kinds.insert(entry->event.index());
  }
  EXPECT_EQ(kinds.size(), std::variant_size_v<Event>);
}

}  // namespace
}  // namespace kw::trade
