#include "desk.h"

#include <algorithm>
#include <fmt/core.h>

#include "bench_page.h"

namespace kw::serving {
namespace {

Reply bench_reply(const std::string& data) {
  Reply reply{.type = "text/html; charset=utf-8", .body = bench_html(data)};
  reply.headers.emplace_back("Cache-Control", "no-store");
  return reply;
}

// Under which ticks are kept. No piece has a blank in its name.
std::string tick_name_of(const PairedTo& to) {
  return to.batch > 0 ? fmt::format("batch {}", to.batch) : to.piece;
}

}  // namespace

Desk::Desk(std::filesystem::path folder, Store store, std::string version)
    : folder_(std::move(folder)),
      store_(std::move(store)),
      version_(std::move(version)),
      trade_(folder_, store_.cabinet(), jobs_),
      jobs_(1) {}

Desk::~Desk() {
  stop();
}

void Desk::stop() {
  jobs_.stop();
  trade_.stop();
  for (const OpenRef& open : all_open()) {
    const std::lock_guard lock(open->mutex);
    if (open->task) open->task->cancel();
  }
}

Reply Desk::handle(const Request& request) {
  const bool changes = request.method == "POST" || request.method == "DELETE";
  if (changes && !request.body.empty() && !request.is_json) {
    return problem(415, {{.code = "server.not-json",
                          .message = "the body must be application/json",
                          .hint = "send Content-Type: application/json"}});
  }
  if (request.is_bench) return bench_page(request);
  return routed(request);
}

Reply Desk::routed(const Request& request) {
  if (!request.path.empty() && request.path[0] == "api") return api(request);
  if (request.method != "GET" && request.method != "HEAD") return wrong_method("GET");
  std::string path;
  for (const std::string& part : request.path) path += "/" + part;
  const Asset* asset = find_asset(path.empty() ? "/" : path);
  // The page's own addresses, /piece/stage, are all the page.
  if (!asset && (request.path.empty() || request.path.back().find('.') == std::string::npos))
    asset = find_asset("/");
  return asset ? asset_reply(*asset, request) : no_such_page();
}

Reply Desk::api(const Request& request) {
  const std::string what = request.path.size() > 1 ? request.path[1] : "";
  if (what == "pieces" && request.path.size() > 2) return piece(request);
  if (what == "trade") return trade_.handle(request);
  if (what == "bin") return take_back_piece(request);
  if (what == "shelf" && request.path.size() == 2) return shelf(request);
  if (what == "bench" && request.path.size() == 2) return bench_api(request);
  if (request.path.size() != 2) return no_such_page();
  if (what != "about" && what != "choices" && what != "events") return no_such_page();
  if (request.method != "GET") return wrong_method("GET");
  if (what == "about") return json(about_json(version_));
  if (what == "choices") return json(choices_json(built_in_catalogue()));
  Reply reply{.type = "text/event-stream"};
  const auto piece = request.query.find("piece");
  reply.stream = piece == request.query.end() ? "" : piece->second;
  return reply;
}

Reply Desk::shelf(const Request& request) {
  if (request.method == "GET") return json(shelf_json(list_of(folder_)));
  if (request.method == "POST") return make_piece(request);
  return wrong_method("GET, POST");
}

Reply Desk::make_piece(const Request& request) {
  const auto wish = read_new_piece(request.body);
  if (!wish) return problem(400, wish.diagnostics());
  Outcome<std::string> text = std::string();
  if (wish->from == NewFrom::starter) text = starter_text(wish->source);
  if (wish->from == NewFrom::text) text = wish->source;
  if (wish->from == NewFrom::nothing) text = empty_piece(wish->title, wish->unit);
  if (wish->from == NewFrom::copy) text = read_piece_file(file_of(folder_, wish->source));
  if (!text) return problem(404, text.diagnostics());
  const Diagnostics faults = make_piece_file(file_of(folder_, wish->name), *text);
  if (!faults.empty())
    return problem(faults.front().code == "shelf.name-taken" ? 422 : 500, faults);
  return json(named_json(wish->name), 201);
}

Reply Desk::take_back_piece(const Request& request) {
  if (request.path.size() != 4 || request.path[3] != "take-back") return no_such_page();
  if (request.method != "POST") return wrong_method("POST");
  if (const auto faults = read_nothing(request.body); !faults.empty()) return problem(400, faults);
  const auto name = take_back(folder_, request.path[2]);
  return name ? json(named_json(*name)) : problem(404, name.diagnostics());
}

std::vector<Desk::OpenRef> Desk::all_open() {
  const std::lock_guard lock(mutex_);
  std::vector<OpenRef> all;
  for (const auto& [name, open] : open_) all.push_back(open);
  return all;
}

void Desk::look_outside() {
  for (const OpenRef& open : all_open()) {
    const std::unique_lock lock(open->mutex, std::try_to_lock);
    if (lock.owns_lock() && open->session && open->session->look_outside())
      events_.tell(open->name, "outside", outside_json(open->name));
  }
}

Reply Desk::bench_api(const Request& request) {
  if (request.method == "DELETE") bench_.close();
  if (request.method == "POST") {
    const auto wish = read_open_bench(request.body);
    if (!wish) return problem(400, wish.diagnostics());
    if (const auto faults = not_there(*wish); !faults.empty()) return problem(404, faults);
    const auto unit = unit_asked_for(request);
    if (!unit) return problem(400, unit.diagnostics());
    if (!bench_.open({wish->piece, wish->batch, *unit}, now_in_milliseconds())) {
      return problem(503, {{.code = "server.no-network",
                            .message = "no network was found that a phone could reach",
                            .hint = "join the shop's Wi-Fi with this computer and try again"}});
    }
  } else if (request.method != "GET" && request.method != "DELETE") {
    return wrong_method("GET, POST, DELETE");
  }
  return json(bench_json(bench_.state(now_in_milliseconds())));
}

Diagnostics Desk::not_there(const OpenBench& wish) {
  if (wish.batch > 0) return trade_.not_there(wish.batch);
  const auto open = opened(wish.piece);
  return open ? Diagnostics() : open.diagnostics();
}

Reply Desk::bench_page(const Request& request) {
  if (request.path.empty() || request.path[0] != "bench" || request.path.size() > 3)
    return no_such_page();
  if (request.path.size() == 1) {
    if (request.method != "GET") return wrong_method("GET");
    const auto code = request.query.find("code");
    if (code == request.query.end())
      return {.type = "text/html; charset=utf-8", .body = pair_page("")};
    const auto token = bench_.pair(code->second, now_in_milliseconds());
    if (!token) {
      return {.status = 403,
              .type = "text/html; charset=utf-8",
              .body = pair_page("That code is not good. Ask the workbench for a new one.")};
    }
    Reply reply{.status = 303, .type = "text/plain"};
    reply.headers.emplace_back("Location", "/bench/" + *token);
    return reply;
  }
  const auto to = bench_.paired_to(request.path[1]);
  if (!to) return no_such_page();
  if (request.path.size() == 3) {
    if (request.path[2] != "ticks") return no_such_page();
    return request.method == "POST" ? take_ticks(request, *to) : wrong_method("POST");
  }
  return request.method == "GET" ? paired_page(request, *to) : wrong_method("GET");
}

Reply Desk::paired_page(const Request& request, const PairedTo& to) {
  if (to.batch > 0) {
    const auto data = trade_.bench_data(to.batch, request.path[1],
                                        to.unit.value_or(LengthUnit::inch), ticks_of(to));
    return data ? bench_reply(*data) : problem(404, data.diagnostics());
  }
  const auto open = opened(to.piece);
  if (!open) return problem(404, open.diagnostics());
  const std::lock_guard lock((*open)->mutex);
  (*open)->session->show_in(to.unit);
  Snapshot now = (*open)->session->seen();
  ShopPlan plan;
  plan.closing = close_up(now.piece, now.bodies, now.cut_list);
  plan.setups = setups_of(now.piece, now.cut_list);
  const std::string data = bench_data_json(to.piece, (*open)->session->revision(), request.path[1],
                                           data_of(now, plan), store_.ticks(to.piece));
  return bench_reply(data);
}

std::vector<BenchTick> Desk::ticks_of(const PairedTo& to) const {
  return store_.ticks(tick_name_of(to));
}

// What a batch's tick says goes into the books before the tick is kept. Sent again after that, it
// changes nothing; when all stopped in between, it says what the books have already.
Reply Desk::take_ticks(const Request& request, const PairedTo& to) {
  const auto ticks = read_ticks(request.body);
  if (!ticks) return problem(400, ticks.diagnostics());
  const std::string name = tick_name_of(to);
  const auto known = ticks_of(to);
  const auto is_known = [&](const BenchTick& tick) {
    return std::any_of(known.begin(), known.end(),
                       [&](const BenchTick& other) { return other.id == tick.id; });
  };
  std::vector<BenchTick> kept;
  for (const BenchTick& tick : *ticks) {
    if (to.batch > 0 && !is_known(tick)) {
      const auto faults = trade_.tick(to.batch, tick);
      if (!faults.empty()) return problem(500, faults);
    }
    const auto is_new = store_.keep_tick(name, tick);
    if (!is_new) return problem(500, is_new.diagnostics());
    if (*is_new) kept.push_back(tick);
  }
  if (!kept.empty() && to.batch == 0) events_.tell(to.piece, "ticks", ticked_json(to.piece, kept));
  return json(ticks_kept_json(static_cast<int>(kept.size()), ticks_of(to)));
}

}  // namespace kw::serving
