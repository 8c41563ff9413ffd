// A seller's pieces, fitted to the sizes of those who buy their plans: what is offered, the public
// pages, and the programs that make the books.
#include "kerfwright/server/fit.h"

#include <chrono>
#include <csignal>
#include <fmt/core.h>

#include "commands.h"
#include "files.h"
#include "opening.h"

namespace kw::cli {
namespace {

std::atomic<bool> is_over = false;

// "width" or "width=24..36".
Outcome<std::vector<AllowedSize>> sizes_of(const std::vector<std::string>& words) {
  std::vector<AllowedSize> sizes;
  for (const std::string& word : words) {
    const std::size_t equals = word.find('=');
    const std::size_t dots = word.find("..", equals == std::string::npos ? 0 : equals);
    if (equals == std::string::npos) {
      sizes.push_back({word});
    } else if (dots == std::string::npos) {
      return Diagnostic{.code = "cli.bad-range",
                        .message = fmt::format("`--size {}` is no range", word),
                        .hint = "write --size width, or --size \"width=24..36\""};
    } else {
      sizes.push_back({word.substr(0, equals), word.substr(equals + 1, dots - equals - 1),
                       word.substr(dots + 2)});
    }
  }
  return sizes;
}

std::int64_t now_in_milliseconds() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

// What is to be offered, checked; says itself what is wrong.
std::optional<PublishedPiece> checked(const OfferCommand& options) {
  Diagnostics faults;
  const auto text = keep(read_file(options.piece, most_bytes), faults);
  const auto sizes = keep(sizes_of(options.sizes), faults);
  std::string terms;
  if (!options.terms.empty()) {
    const auto read = keep(read_file(options.terms, most_bytes), faults);
    if (read) terms = read->content;
  }
  print_plain(faults);
  if (!faults.empty()) return std::nullopt;
  const auto piece = offer_of({.name = options.name,
                               .text = text->content,
                               .terms = terms,
                               .sizes = *sizes,
                               .at = now_in_milliseconds()});
  if (piece) return *piece;
  // What is wrong with the offer has no place in the piece's text.
  if (piece.diagnostics().front().code == "server.bad-offer")
    print_plain(piece.diagnostics());
  else
    print_faults(*text, piece.diagnostics());
  return std::nullopt;
}

}  // namespace

int offer(const OfferCommand& options) {
  std::optional<PublishedPiece> piece;
  if (!options.withdraws) {
    piece = checked(options);
    if (!piece) return not_done;
  }
  const auto cabinet = Cabinet::open(place_of(options.store), Hands::many);
  print_plain(cabinet.diagnostics());
  if (!cabinet) return not_done;
  Published published(*cabinet);
  if (options.withdraws) {
    const auto was = published.withdraw(options.name);
    print_plain(was.diagnostics());
    if (was) fmt::print("{} is {}\n", options.name, *was ? "offered no more" : "not offered");
    return was ? all_well : not_done;
  }
  const auto version = published.publish(*piece);
  print_plain(version.diagnostics());
  if (version) fmt::print("{}: version {} is offered\n", options.name, *version);
  return version ? all_well : not_done;
}

int fit(const FitCommand& options) {
  const auto done =
      serve_fit({.store = place_of(options.store),
                 .address = options.address,
                 .port = static_cast<std::uint16_t>(options.port),
                 .is_behind_proxy = options.is_behind_proxy,
                 .per_hour = options.per_hour,
                 .waiting = options.waiting,
                 .on_ready = [](const std::string& address, const Diagnostics& warnings) {
                   print_plain(warnings);
                   fmt::print("What is offered is at {}\n", address);
                   std::fflush(stdout);
                 }});
  print_plain(done.diagnostics());
  return done ? all_well : not_done;
}

int work(const WorkCommand& options) {
  for (const int signal : {SIGINT, SIGTERM}) std::signal(signal, [](int) { is_over = true; });
  const auto made = work_on_books({.store = place_of(options.store),
                                   .seconds = options.seconds,
                                   .is_once = options.is_once,
                                   .on_book =
                                       [](const std::string& words) {
                                         fmt::print("{}\n", words);
                                         std::fflush(stdout);
                                       }},
                                  is_over);
  print_plain(made.diagnostics());
  return made ? all_well : not_done;
}

}  // namespace kw::cli
