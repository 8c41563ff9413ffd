// kill -9 at random points during a thousand operations: nothing that was acknowledged is lost.
#include <algorithm>
#include <chrono>
#include <csignal>
#include <gtest/gtest.h>
#include <random>
#include <thread>

#include "kerfwright/store/job_table.h"
#include "kerfwright/store/log.h"
#include "kerfwright/store/store.h"

#include "apart.h"
#include "places.h"

namespace kw {
namespace {

using testing_store::begun_apart;
using testing_store::ended;
using testing_store::PostgresServer;

constexpr int operations = 1000;

std::string words_of(int n) {
  return "operation " + std::to_string(n) + std::string(static_cast<std::size_t>(n % 200), '.');
}

// Operation n, from 0: in turn a record of a log, a revision of a piece, a job.
bool keep(const Cabinet& cabinet, int n) {
  const std::int64_t before = n / 3;
  switch (n % 3) {
    case 0:
      return Log(cabinet).append("books", before, {{n, words_of(n)}}).empty();
    case 1: {
      const Delta delta = {{0, before == 0 ? "" : words_of(n - 3), words_of(n)}};
      const Revision revision{before + 1, n, RevisionKind::edit, "typed", ""};
      return Store(cabinet).append("stool", revision, delta, words_of(n), before).empty();
    }
    default:
      return JobTable(cabinet)
          .put({.id = std::to_string(n), .kind = "book", .given = words_of(n), .at = n})
          .empty();
  }
}

bool is_kept(const Cabinet& cabinet, int n) {
  switch (n % 3) {
    case 0: {
      const auto records = Log(cabinet).read("books", n / 3, 1);
      return records && records->size() == 1 && records->front().bytes == words_of(n);
    }
    case 1: {
      const auto text = Store(cabinet).text_of("stool", n / 3 + 1);
      return text && *text == words_of(n);
    }
    default: {
      const auto job = JobTable(cabinet).find(std::to_string(n));
      return job && *job && (*job)->given == words_of(n);
    }
  }
}

// From `next` on, each that is kept reported on `out`. False when one could not be kept.
bool keep_from(const Place& place, Hands hands, int next, int out) {
  auto cabinet = Cabinet::open(place, hands);
  if (!cabinet) return false;
  for (int n = next; n < operations; ++n) {
    // The one before it may have been kept without having been reported.
    if (!(n == next && is_kept(*cabinet, n)) && !keep(*cabinet, n)) return false;
    if (::write(out, &n, sizeof n) != sizeof n) return false;
  }
  return true;
}

struct Chance {
  std::mt19937 engine{7};
  int between(int least, int most) {
    return std::uniform_int_distribution<int>(least, most)(engine);
  }
};

// Runs `keep_from` apart until some more are reported, and does `kill` to it a moment later; the
// last number that was reported.
template <class Kill>
int reported_until(const Place& place, Hands hands, int next, int some, Kill kill) {
  int ends[2] = {};
  if (::pipe(ends) != 0) return -1;
  const pid_t child = begun_apart([&] { return keep_from(place, hands, next, ends[1]); });
  ::close(ends[1]);
  int last = next - 1, n = 0;
  while (last < next + some && ::read(ends[0], &n, sizeof n) == sizeof n) last = n;
  kill(child);
  ended(child);
  while (::read(ends[0], &n, sizeof n) == sizeof n) last = n;
  ::close(ends[0]);
  return last;
}

void expect_kept(const Place& place, Hands hands, int last) {
  auto cabinet = Cabinet::open(place, hands);
  ASSERT_TRUE(cabinet) << cabinet.diagnostics().front().message;
  for (int n = 0; n <= last; ++n) ASSERT_TRUE(is_kept(*cabinet, n)) << n << " of " << last;
  for (int n = last + 2; n < last + 5; ++n) EXPECT_FALSE(is_kept(*cabinet, n)) << n;
}

// `kill` after every `least` to `most` operations, until all are done.
template <class Kill>
void kill_until_done(const Place& place, int least, int most, Kill kill) {
  Chance chance;
  int last = -1;
  for (int kills = 0; last + 1 < operations && !testing::Test::HasFatalFailure(); ++kills) {
    const Hands hands = kills % 2 == 0 ? Hands::many : Hands::one;
    last = reported_until(place, hands, last + 1, chance.between(least, most), [&](pid_t child) {
      std::this_thread::sleep_for(std::chrono::microseconds(chance.between(0, 4000)));
      kill(child);
    });
    expect_kept(place, hands, last);
  }
  EXPECT_EQ(last, operations - 1);
}

TEST(KilledInAFile, LosesNothingAcknowledged) {
  const testing_store::Folder folder;
  kill_until_done({.file = folder.file()}, 0, 50, [](pid_t child) { ::kill(child, SIGKILL); });
}

struct KilledInPostgres : testing::Test {
  // As it is set when nobody changes it: it waits for its disk.
  PostgresServer server{"-c recovery_init_sync_method=syncfs"};
  void SetUp() override {
    if (!server.is_running()) GTEST_SKIP() << server.why_not();
  }
};

TEST_F(KilledInPostgres, LosesNothingAcknowledgedWhenTheProgramIsKilled) {
  kill_until_done({.address = server.new_address()}, 0, 80,
                  [](pid_t child) { ::kill(child, SIGKILL); });
}

TEST_F(KilledInPostgres, LosesNothingAcknowledgedWhenTheServerIsKilled) {
  kill_until_done({.address = server.new_address()}, 50, 250, [this](pid_t) {
    server.kill();
    server.start();
  });
}

TEST_F(KilledInPostgres, ConnectsAnewAfterTheServerWasAway) {
  const Place place{.address = server.new_address()};
  auto cabinet = Cabinet::open(place, Hands::one);
  ASSERT_TRUE(cabinet);
  EXPECT_TRUE(cabinet.diagnostics().empty()) << "this server waits for its disk";
  Log log(*cabinet);
  ASSERT_TRUE(log.append("books", 0, {{1, "a"}}).empty());
  server.kill();
  EXPECT_EQ(testing_store::code_of(log.append("books", 1, {{1, "b"}})), "store.cannot-keep");
  EXPECT_EQ(testing_store::code_of(log.newest("books").diagnostics()), "store.cannot-read");
  server.start();
  EXPECT_EQ(*log.newest("books"), 1);
  EXPECT_TRUE(log.append("books", 1, {{1, "b"}}).empty());
  EXPECT_EQ(testing_store::code_of(Cabinet::open(place, Hands::one).diagnostics()), "store.in-use");
}

}  // namespace
}  // namespace kw
