// The books that buyers ordered, made one after the other.
#include <charconv>
#include <chrono>
#include <fmt/core.h>
#include <thread>
#include <unistd.h>

#include "kerfwright/workbench/recompute.h"

#include "bench.h"
#include "desk.h"
#include "fit_desk.h"

namespace kw {
namespace serving {
namespace {

using namespace std::chrono_literals;

constexpr std::int64_t taken_for = 300'000;  // milliseconds: far more than a book takes
constexpr auto look_again = 200ms;
constexpr int most_failures = 60;

std::string words_of_all(const Diagnostics& faults) {
  std::string words;
  int told = 0;
  for (const Diagnostic& fault : faults) {
    if (fault.severity != Severity::error || ++told > 5) continue;
    if (!words.empty()) words += "; ";
    words += fault.message;
  }
  return "With these sizes the piece cannot be built: " + words;
}

// The book, or why not, in words for the buyer.
struct Made {
  bool is_good = false;
  std::string bytes = {};
};

Made book_of(const Offer& offer, const FitOrder& order, double seconds) {
  ShapeCache cache;
  Snapshot snapshot = recompute({offer.piece.name, offer.piece.text}, built_in_catalogue(), cache,
                                order.sizes, order.unit);
  if (has_errors(snapshot.diagnostics)) return {false, words_of_all(snapshot.diagnostics)};
  const ShopPlan plan = plan_of(snapshot, {.seconds = seconds});
  const BookOptions options{
      .paper = order.paper, .length = {.unit = order.unit}, .buyer = order.buyer};
  auto pdf = to_pdf(kw::book_of(data_of(snapshot, plan), options));
  if (!pdf) return {false, "The pages could not be made."};
  return {true, *std::move(pdf)};
}

Made made_of(const Published& published, const JobSlip& job, double seconds) {
  const Made unreadable{false, "The order cannot be read."};
  auto form = read_form(job.given);
  if (!form) return unreadable;
  const std::string name = (*form)["piece"], number = (*form)["version"];
  std::int64_t version = 0;
  std::from_chars(number.data(), number.data() + number.size(), version);
  form->erase("piece");
  form->erase("version");
  auto piece = published.find(name, version);
  if (!piece || !*piece) return {false, "The piece is not offered any more."};
  const auto offer = read_offer(**std::move(piece));
  if (!offer) return unreadable;
  const ReadOrder read = read_order(*offer, *form);
  if (!read.faults.empty()) return unreadable;
  return book_of(*offer, read.order, seconds);
}

Made made_safely(const Published& published, const JobSlip& job, double seconds) {
  try {
    return made_of(published, job, seconds);
  } catch (const std::exception&) {
    return {false, "A fault of the program: choose other sizes, and tell the seller."};
  }
}

}  // namespace
}  // namespace serving

Outcome<int> work_on_books(const WorkOptions& options, const std::atomic<bool>& is_over) {
  using namespace serving;
  const auto cabinet = Cabinet::open(options.store, Hands::many);
  if (!cabinet) return cabinet.diagnostics();
  const Published published(*cabinet);
  JobTable jobs(*cabinet);
  const std::string taker = fmt::format("{}-{}", ::getpid(), new_token());
  int made = 0, failures = 0;
  while (!is_over) {
    const auto job =
        jobs.take(job_of_a_book, taker, now_in_milliseconds(), now_in_milliseconds() + taken_for);
    if (!job && ++failures > most_failures) return job.diagnostics();
    if (!job) {
      std::this_thread::sleep_for(1s);
      continue;
    }
    failures = 0;
    if (!*job && options.is_once) break;
    if (!*job) {
      std::this_thread::sleep_for(look_again);
      continue;
    }
    const Made book = made_safely(published, **job, options.seconds);
    const auto kept = book.is_good
                          ? jobs.finish((*job)->id, taker, now_in_milliseconds(), book.bytes)
                          : jobs.fail((*job)->id, taker, now_in_milliseconds(), book.bytes);
    if (kept && *kept) ++made;
    if (options.on_book)
      options.on_book(book.is_good ? fmt::format("a book of {} bytes", book.bytes.size())
                                   : "no book: " + book.bytes);
  }
  return made;
}

}  // namespace kw
