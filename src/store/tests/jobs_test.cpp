#include <gtest/gtest.h>
#include <map>

#include "kerfwright/store/job_table.h"

#include "apart.h"
#include "places.h"

namespace kw {
namespace {

using testing_store::begun_apart;
using testing_store::code_of;
using testing_store::ended;

struct JobsTest : testing_store::OnBoth {
  static JobSlip job(const std::string& id, std::int64_t at) {
    return {.id = id, .kind = "book", .given = "given " + id, .at = at};
  }
  static std::string taken(JobTable& jobs, const std::string& taker, std::int64_t now) {
    const auto found = jobs.take("book", taker, now, now + 100);
    if (!found) return "error";
    return *found ? (*found)->id : "";
  }
};
KW_ON_BOTH(JobsTest);

TEST_P(JobsTest, AreTakenOldestFirstAndGiveBackWhatWasMade) {
  JobTable jobs(opened());
  EXPECT_EQ(taken(jobs, "w", 0), "");
  ASSERT_TRUE(jobs.put(job("b", 2)).empty());
  ASSERT_TRUE(jobs.put(job("a", 1)).empty());
  ASSERT_TRUE(jobs.put({.id = "x", .kind = "other", .at = 0}).empty());
  ASSERT_TRUE(jobs.put(job("a", 9)).empty()) << "a known id changes nothing";
  EXPECT_EQ(*jobs.before(**jobs.find("b")), 1);
  const auto first = jobs.take("book", "w", 10, 110);
  ASSERT_TRUE(first && *first);
  EXPECT_EQ((*first)->id, "a");
  EXPECT_EQ((*first)->given, "given a");
  EXPECT_EQ((*first)->attempts, 1);
  EXPECT_EQ((*first)->until, 110);
  EXPECT_EQ(*jobs.before(**jobs.find("b")), 0);
  EXPECT_EQ(taken(jobs, "v", 10), "b");
  EXPECT_EQ(taken(jobs, "v", 10), "");
  EXPECT_FALSE(*jobs.finish("a", "v", 20, "not its")) << "another's";
  EXPECT_TRUE(*jobs.finish("a", "w", 20, std::string("p\0df", 4)));
  EXPECT_FALSE(*jobs.finish("a", "w", 20, "again"));
  EXPECT_TRUE(*jobs.fail("b", "v", 21, "why"));
  EXPECT_EQ((*jobs.find("a"))->made, std::string("p\0df", 4));
  EXPECT_EQ((*jobs.find("a"))->state, JobState::done);
  EXPECT_EQ((*jobs.find("b"))->made, "why");
  EXPECT_FALSE(*jobs.find("none"));
  const auto counts = jobs.counts("book");
  EXPECT_EQ(counts->done, 1);
  EXPECT_EQ(counts->failed, 1);
  EXPECT_EQ(counts->waiting + counts->taken, 0);
  EXPECT_EQ(jobs.counts("other")->waiting, 1);
}

TEST_P(JobsTest, OfATakerThatDiedAreTakenAgainThreeTimesAtMost) {
  JobTable jobs(opened());
  ASSERT_TRUE(jobs.put(job("a", 1)).empty());
  EXPECT_EQ(taken(jobs, "w", 1000), "a");
  EXPECT_EQ(taken(jobs, "v", 1099), "");
  EXPECT_TRUE(*jobs.extend("a", "w", 1200));
  EXPECT_EQ(taken(jobs, "v", 1199), "");
  EXPECT_EQ(taken(jobs, "v", 1200), "a");
  EXPECT_FALSE(*jobs.extend("a", "w", 9999));
  EXPECT_FALSE(*jobs.finish("a", "w", 1201, "too late"));
  EXPECT_EQ(taken(jobs, "u", 1300), "a");
  EXPECT_EQ(taken(jobs, "t", 1400), "");
  EXPECT_EQ((*jobs.find("a"))->state, JobState::failed);
  EXPECT_EQ((*jobs.find("a"))->attempts, JobTable::most_attempts);
}

TEST_P(JobsTest, CanBeCancelledUntilTheyAreDone) {
  JobTable jobs(opened());
  for (const char* id : {"a", "b", "c"}) ASSERT_TRUE(jobs.put(job(id, 1)).empty());
  EXPECT_EQ(taken(jobs, "w", 10), "a");
  EXPECT_TRUE(*jobs.cancel("a"));
  EXPECT_FALSE(*jobs.extend("a", "w", 500));
  EXPECT_FALSE(*jobs.finish("a", "w", 11, "made"));
  EXPECT_TRUE(*jobs.cancel("b"));
  EXPECT_EQ(taken(jobs, "w", 12), "c");
  EXPECT_TRUE(*jobs.finish("c", "w", 13, "made"));
  EXPECT_FALSE(*jobs.cancel("c"));
  EXPECT_EQ((*jobs.find("c"))->made, "made");
}

TEST_P(JobsTest, AreBoundedAndTheOldestDoneAreForgotten) {
  JobTable jobs(opened(), {.waiting = 3, .ended = 2});
  for (int n = 0; n < 6; ++n) {
    const std::string id = std::to_string(n);
    ASSERT_TRUE(jobs.put(job(id, n)).empty());
    EXPECT_EQ(taken(jobs, "w", n), id);
    EXPECT_TRUE(*jobs.finish(id, "w", 10 + n, "made"));
  }
  EXPECT_FALSE(*jobs.find("3"));
  EXPECT_TRUE(*jobs.find("4"));
  for (const char* id : {"a", "b", "c"}) ASSERT_TRUE(jobs.put(job(id, 20)).empty());
  EXPECT_EQ(taken(jobs, "w", 20), "a");
  EXPECT_EQ(code_of(jobs.put(job("d", 21))), "store.queue-full") << "what is taken counts too";
  EXPECT_TRUE(jobs.put(job("b", 21)).empty()) << "it is in the line already";
  EXPECT_EQ(code_of(jobs.put({.id = "", .kind = "book"})), "store.too-large");
  EXPECT_EQ(code_of(jobs.put({.id = "e", .given = std::string(1'000'001, 'x')})),
            "store.too-large");
  EXPECT_EQ(code_of(jobs.finish("a", "w", 22, std::string(32'000'001, 'x')).diagnostics()),
            "store.too-large");
}

TEST_P(JobsTest, OfOneAskerAreBoundedInATime) {
  JobTable jobs(opened(), {.of_asker = 2, .window = 100});
  const auto put = [&jobs](const std::string& id, const std::string& asker, std::int64_t at) {
    return code_of(jobs.put({.id = id, .kind = "book", .at = at, .asker = asker}));
  };
  EXPECT_EQ(put("a", "ann", 1000), "");
  EXPECT_EQ(put("b", "ann", 1050), "");
  EXPECT_EQ(put("c", "ann", 1099), "store.asked-too-often");
  EXPECT_EQ(put("b", "ann", 1099), "") << "it is there already";
  EXPECT_EQ(put("c", "bob", 1099), "");
  EXPECT_EQ(put("d", "ann", 1101), "");
  EXPECT_EQ(put("e", "ann", 1102), "store.asked-too-often");
  for (int n = 0; n < 5; ++n) EXPECT_EQ(put("nobody " + std::to_string(n), "", 1102), "");
  EXPECT_EQ((*jobs.find("c"))->asker, "bob");
}

// Each taker notes in `made` who it is; a job that two had would be ended by one only, and the
// other told so.
bool work_off(const Place& place, const std::string& taker) {
  auto cabinet = Cabinet::open(place, Hands::many);
  if (!cabinet) return false;
  JobTable jobs(*cabinet);
  for (;;) {
    const auto job = jobs.take("book", taker, 1000, 1'000'000);
    if (!job) return false;
    if (!*job) return true;
    const auto is_its = jobs.finish((*job)->id, taker, 2000, taker);
    if (!is_its || !*is_its) return false;
  }
}

TEST_P(JobsTest, AreEachTakenByOneOfManyPrograms) {
  constexpr int count = 120;
  {
    JobTable jobs(opened());
    for (int n = 0; n < count; ++n) ASSERT_TRUE(jobs.put(job(std::to_string(n), n)).empty());
  }
  std::vector<pid_t> takers;
  for (const char* taker : {"u", "v", "w"})
    takers.push_back(begun_apart([&] { return work_off(place, taker); }));
  for (const pid_t taker : takers) EXPECT_EQ(ended(taker), 0);
  const JobTable jobs(opened());
  EXPECT_EQ(jobs.counts("book")->done, count);
  for (int n = 0; n < count; ++n) EXPECT_EQ((*jobs.find(std::to_string(n)))->attempts, 1);
}

}  // namespace
}  // namespace kw
