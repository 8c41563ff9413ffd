#include "kerfwright/store/published.h"

#include <gtest/gtest.h>

#include "places.h"

namespace kw {
namespace {

using testing_store::code_of;

struct PublishedTest : testing_store::OnBoth {
  static PublishedPiece stool() {
    return {.name = "stool",
            .at = 5,
            .title = "A \xC3\xA9toile stool",
            .text = "piece = \"Stool\"",
            .terms = "Build as many as you like",
            .sizes = {{"width", "10", "20 1/2"}, {"height", "300 mm", "400 mm"}}};
  }
};
KW_ON_BOTH(PublishedTest);

TEST_P(PublishedTest, KeepsEachVersionAsItWas) {
  Published published(opened());
  PublishedPiece first = stool(), second = stool();
  second.text = "piece = \"Better stool\"";
  second.sizes.pop_back();
  EXPECT_EQ(*published.publish(first), 1);
  EXPECT_EQ(*published.publish(second), 2);
  first.version = 1;
  second.version = 2;
  EXPECT_EQ(**published.find("stool"), second);
  EXPECT_EQ(**published.find("stool", 1), first);
  EXPECT_FALSE(*published.find("stool", 3));
  EXPECT_FALSE(*published.find("stoo"));
}

TEST_P(PublishedTest, OffersNothingThatWasWithdrawn) {
  Published published(opened());
  ASSERT_TRUE(published.publish(stool()));
  PublishedPiece bench = stool();
  bench.name = "bench";
  ASSERT_TRUE(published.publish(bench));
  ASSERT_EQ(published.list()->size(), 2U);
  EXPECT_EQ(published.list()->front().name, "bench");
  EXPECT_TRUE(*published.withdraw("stool"));
  EXPECT_FALSE(*published.withdraw("stool"));
  EXPECT_FALSE(*published.find("stool"));
  EXPECT_TRUE(*published.find("stool", 1)) << "what was begun with it can be ended";
  EXPECT_EQ(published.list()->size(), 1U);
  EXPECT_EQ(*published.publish(stool()), 2);
  EXPECT_EQ((*published.find("stool"))->version, 2);
}

TEST_P(PublishedTest, RefusesWhatIsTooLarge) {
  Published published(opened());
  PublishedPiece nameless = stool(), large = stool(), many = stool();
  nameless.name = "";
  large.text = std::string(1'000'001, 'x');
  many.sizes.assign(101, {"width", "1", "2"});
  for (const PublishedPiece& piece : {nameless, large, many})
    EXPECT_EQ(code_of(published.publish(piece).diagnostics()), "store.too-large");
  EXPECT_TRUE(published.list()->empty());
}

}  // namespace
}  // namespace kw
