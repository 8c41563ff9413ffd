#include "fit_desk.h"

#include <fmt/core.h>

#include "bench.h"
#include "desk.h"
#include "fit_pages.h"

namespace kw::serving {

namespace {

constexpr std::size_t most_offers_held = 100;

Reply html(std::string body, int status = 200) {
  return {.status = status, .type = "text/html; charset=utf-8", .body = std::move(body)};
}

Reply words(int status, const std::string& title, const Diagnostic& why) {
  return html(words_page(title, why), status);
}

Reply nothing_here() {
  return words(404, "Nothing here",
               {.code = "server.no-such-page",
                .message = "There is nothing at this address.",
                .hint = "Begin at the list of what is offered."});
}

Reply only(const std::string& methods) {
  Reply reply = words(405, "Not that way",
                      {.code = "server.wrong-method",
                       .message = fmt::format("This address takes {}.", methods),
                       .hint = "Use the pages."});
  reply.headers.emplace_back("Allow", methods);
  return reply;
}

bool reads(const Request& request) {
  return request.method == "GET" || request.method == "HEAD";
}

// Of what the store refused: too often, too many, or it is not to be had.
Reply refused(const Diagnostic& why) {
  if (why.code == "store.asked-too-often") {
    Reply reply = words(429, "Too many books", why);
    reply.headers.emplace_back("Retry-After", "600");
    return reply;
  }
  if (why.code == "store.queue-full")
    return words(503, "Many are waiting",
                 {.message = "Too many books are waiting to be made.",
                  .hint = "Try again in a few minutes."});
  // What is wrong inside is not the buyer's to read.
  return words(
      503, "Not now",
      {.message = "The page cannot be had at the moment.", .hint = "Try again in a few minutes."});
}

}  // namespace

FitDesk::FitDesk(const Cabinet& cabinet, const FitOptions& options)
    : published_(cabinet),
      jobs_(cabinet, {.waiting = options.waiting, .of_asker = options.per_hour}),
      is_behind_proxy_(options.is_behind_proxy) {}

Reply FitDesk::handle(const Request& request) {
  const auto& path = request.path;
  if (path.empty() || (path.size() == 1 && path[0] == "fit"))
    return reads(request) ? list() : only("GET, HEAD");
  if (path.size() == 2 && path[0] == "fit") return fit(request);
  if (path[0] != "book" || path.size() > 3 || path.size() < 2) return nothing_here();
  if (path.size() == 3 && path[2] != "plan.pdf") return nothing_here();
  return reads(request) ? book(request) : only("GET, HEAD");
}

Reply FitDesk::list() const {
  const auto pieces = published_.list();
  return pieces ? html(list_page(*pieces)) : refused(pieces.diagnostics().front());
}

Outcome<std::shared_ptr<const Offer>> FitDesk::offer_named(const std::string& name) {
  auto piece = published_.find(name);
  if (!piece) return piece.diagnostics();
  if (!*piece) return std::shared_ptr<const Offer>();
  const std::pair key{name, (*piece)->version};
  {
    const std::lock_guard lock(mutex_);
    const auto held = offers_.find(key);
    if (held != offers_.end()) return held->second;
  }
  auto read = read_offer(**std::move(piece));
  if (!read) return read.diagnostics();
  auto offer = std::make_shared<const Offer>(*std::move(read));
  const std::lock_guard lock(mutex_);
  if (offers_.size() >= most_offers_held) offers_.clear();
  offers_[key] = offer;
  return offer;
}

Reply FitDesk::fit(const Request& request) {
  if (!reads(request) && request.method != "POST") return only("GET, HEAD, POST");
  const auto offer = offer_named(request.path[1]);
  if (!offer) return refused(offer.diagnostics().front());
  if (!*offer) return nothing_here();
  if (reads(request)) return html(form_page(**offer, {}, {}));
  return order(request, **offer);
}

Reply FitDesk::order(const Request& request, const Offer& offer) {
  if (!request.is_form)
    return words(415, "That is no form",
                 {.code = "server.not-a-form",
                  .message = "An order comes as the form of the page sends it.",
                  .hint = "Use the page."});
  const auto form = read_form(request.body);
  if (!form)
    return words(400, "That is no form",
                 {.code = "server.not-a-form",
                  .message = "The form cannot be read: a field twice, or characters that are none.",
                  .hint = "Use the page."});
  const ReadOrder read = read_order(offer, *form);
  if (!read.faults.empty()) return html(form_page(offer, *form, read.faults), 400);
  Form given = *form;
  given["piece"] = offer.piece.name;
  given["version"] = fmt::format("{}", offer.piece.version);
  const JobSlip job{.id = new_token(),
                    .kind = job_of_a_book,
                    .given = written(given),
                    .at = now_in_milliseconds(),
                    .asker = asker_of(request)};
  const Diagnostics why = jobs_.put(job);
  if (!why.empty()) return refused(why.front());
  Reply reply =
      words(303, "Your plan book is being made", {.message = "Its page is at /book/" + job.id});
  reply.headers.emplace_back("Location", "/book/" + job.id);
  return reply;
}

Reply FitDesk::book(const Request& request) const {
  const auto job = jobs_.find(request.path[1]);
  if (!job) return refused(job.diagnostics().front());
  if (!*job || (*job)->kind != job_of_a_book) return nothing_here();
  if (request.path.size() == 2) {
    const auto before = jobs_.before(**job);
    return html(book_page(**job, before ? *before : 0));
  }
  if ((*job)->state != JobState::done) return nothing_here();
  Reply reply{.type = "application/pdf", .body = (*job)->made};
  reply.headers.emplace_back("Content-Disposition", "attachment; filename=\"plan-book.pdf\"");
  return reply;
}

std::string FitDesk::asker_of(const Request& request) const {
  const std::string& who =
      is_behind_proxy_ && !request.forwarded.empty() ? request.forwarded : request.peer;
  return who.substr(0, 100);
}

}  // namespace kw::serving
