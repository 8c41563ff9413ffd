// A seller's pieces fitted to a buyer's size: a public page for each piece that is offered, where a
// buyer sets sizes within their ranges and gets the plan book for them.
//
// Any number of programs share one cabinet and keep nothing of their own: `serve_fit` answers
// requests and puts work in the job table, `work_on_books` makes the books. Nothing but the pages
// of what is offered can be reached. Bounded: requests of 16 KiB, books of one buyer in an hour,
// books that wait at once, and what a book may cost. It is plain HTTP: put a proxy with TLS before
// it.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/store/published.h"

namespace kw {

// What is to be offered: `sizes` without a range get the piece's own. The piece is worked out with
// each size at either end of its range. Errors: those of the piece, server.bad-offer.
struct OfferOptions {
  std::string name = {};  // of its page's address: small letters, figures, hyphens
  std::string text = {};  // the piece file's
  std::string terms = {};
  std::vector<AllowedSize> sizes = {};
  std::int64_t at = 0;
};
[[nodiscard]] Outcome<PublishedPiece> offer_of(const OfferOptions& options);

struct FitOptions {
  Place store = {};
  std::string address = "127.0.0.1";  // of this machine, to listen at
  std::uint16_t port = 0;             // 0: one that is free
  // The proxy before it says who asks, in X-Forwarded-For; else who connects is who asks.
  bool is_behind_proxy = false;
  std::int64_t per_hour = 20;  // books for one asker
  std::int64_t waiting = 200;  // books that wait at once
  std::function<void(const std::string& address, const Diagnostics& warnings)> on_ready = {};
};
// Serves until SIGINT or SIGTERM; true then. Errors: those of opening the cabinet, server.no-port.
[[nodiscard]] Outcome<bool> serve_fit(const FitOptions& options);

struct WorkOptions {
  Place store = {};
  double seconds = 2;    // for the sawing plans of a book together
  bool is_once = false;  // ends when nothing waits
  std::function<void(const std::string& words)> on_book = {};
};
// Makes books until `is_over` (or nothing waits, with `is_once`); how many were made. Errors: those
// of opening the cabinet, and of taking work from it when that has failed for a minute.
[[nodiscard]] Outcome<int> work_on_books(const WorkOptions& options,
                                         const std::atomic<bool>& is_over);

}  // namespace kw
