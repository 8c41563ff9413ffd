#include "trade_desk.h"

#include <algorithm>
#include <charconv>
#include <fmt/core.h>

#include "kerfwright/planbook/papers.h"
#include "kerfwright/store/shelf.h"
#include "kerfwright/trade/price_list.h"
#include "kerfwright/trade/yard_files.h"

#include "desk.h"

namespace kw::serving {
namespace {

int status_of(const Diagnostics& faults) {
  const std::string_view code = faults.front().code;
  if (code == "server.not-newest") return 409;
  if (code.starts_with("wire.")) return 400;
  return code.starts_with("store.") ? 503 : 422;
}

Reply refused(const Diagnostics& faults) {
  return problem(status_of(faults), faults);
}

void end(Task& task, TaskState state, const std::string& words) {
  task.change([&](TaskReport& report) {
    report.state = state;
    report.stage = "";
    report.words = words;
  });
}

Reply no_work() {
  return problem(404, {{.code = "trade.no-work",
                        .message = "nothing is being worked out",
                        .hint = "begin it: POST /api/trade/work"}});
}

// "batch-12-sawing.pdf" with "batch-" and "-sawing.pdf": 12.
std::optional<int> number_in(std::string_view name, std::string_view before,
                             std::string_view behind) {
  if (!name.starts_with(before) || !name.ends_with(behind)) return std::nullopt;
  if (name.size() <= before.size() + behind.size()) return std::nullopt;
  name.remove_prefix(before.size());
  name.remove_suffix(behind.size());
  int number = 0;
  const auto [end, error] = std::from_chars(name.data(), name.data() + name.size(), number);
  if (error != std::errc() || end != name.data() + name.size() || number < 1) return std::nullopt;
  return number;
}

Reply download(const std::string& name, std::string bytes) {
  const bool is_pdf = name.ends_with(".pdf");
  Reply reply{.type = is_pdf ? "application/pdf" : "application/octet-stream",
              .body = std::move(bytes)};
  reply.headers.emplace_back(
      "Content-Disposition",
      fmt::format("{}; filename=\"{}\"", is_pdf ? "inline" : "attachment", name));
  return reply;
}

Reply download(const std::string& name, const Outcome<std::string>& bytes) {
  return bytes ? download(name, *bytes) : problem(500, bytes.diagnostics());
}

Paper paper_asked_for(const Request& request) {
  return asked_for(request, "paper") == "a4" ? Paper::a4 : Paper::letter;
}

std::vector<int> numbers_in(std::string_view list) {
  std::vector<int> numbers;
  while (!list.empty()) {
    const std::string_view one = list.substr(0, list.find(','));
    list.remove_prefix(std::min(list.size(), one.size() + 1));
    if (const auto number = number_in(one, "", "")) numbers.push_back(*number);
  }
  return numbers;
}

}  // namespace

TradeDesk::TradeDesk(std::filesystem::path folder, Cabinet cabinet, Jobs& jobs)
    : folder_(std::move(folder)), jobs_(jobs), shop_(std::move(cabinet)) {}

void TradeDesk::stop() {
  const std::lock_guard lock(mutex_);
  if (work_.task) work_.task->cancel();
}

Reply TradeDesk::handle(const Request& request) {
  const auto asked = unit_asked_for(request);
  if (!asked) return problem(400, asked.diagnostics());
  const LengthUnit unit = asked->value_or(LengthUnit::inch);
  const bool is_post = request.method == "POST";
  const std::string what = request.path.size() > 2 ? request.path[2] : "";
  const std::size_t depth = request.path.size();
  const std::lock_guard lock(mutex_);
  if (what == "work" && depth <= 4) return work(request, unit);
  if (!is_post && request.method != "GET" && request.method != "HEAD")
    return wrong_method("GET, POST");
  if (is_post) {
    if (what == "entries" && depth == 3) return enter(request, unit);
    if (what == "shop" && depth == 3) return set_shop(request, unit);
    if (what == "import" && depth == 3) return import(request, unit);
    if (what == "batches" && depth == 5 && request.path[4] == "sawn") return sawn(request, unit);
    return no_such_page();
  }
  if (depth == 2) return books(unit);
  return what == "files" && depth == 4 ? file(request, unit) : no_such_page();
}

Outcome<const trade::Batch*> TradeDesk::found(int batch) {
  if (auto faults = shop_.catch_up(); !faults.empty()) return faults;
  const auto at = shop_.books().batches.find(batch);
  if (at != shop_.books().batches.end()) return &at->second;
  return Diagnostic{.code = "trade.no-such-batch",
                    .message = fmt::format("there is no batch {}", batch),
                    .hint = "look at the batches"};
}

Diagnostics TradeDesk::not_there(int batch) {
  const std::lock_guard lock(mutex_);
  const auto known = found(batch);
  return known ? Diagnostics() : known.diagnostics();
}

Outcome<std::string> TradeDesk::bench_data(int batch, const std::string& token, LengthUnit unit,
                                           const std::vector<BenchTick>& ticks) {
  const std::lock_guard lock(mutex_);
  const auto known = found(batch);
  if (!known) return known.diagnostics();
  return bench_batch_json(**known, token, unit, ticks);
}

Diagnostics TradeDesk::tick(int batch, const BenchTick& tick) {
  const std::lock_guard lock(mutex_);
  const bool is_done = tick.did == "done";
  if (!is_done && tick.did != "undone") return {};
  const auto known = found(batch);
  if (!known) return known.diagnostics();
  const auto part = (*known)->parts.find(tick.cut);
  if (part == (*known)->parts.end() || (*known)->is_over()) return {};
  const int change = is_done ? part->second.wanted - part->second.done : -part->second.done;
  if (change == 0) return {};
  return shop_.enter({{today(), trade::PartsDone{batch, tick.cut, change}}}, shop_.books().entries,
                     now_in_milliseconds());
}

Reply TradeDesk::books(LengthUnit unit) {
  return after(shop_.catch_up(), unit);
}

// What stands after a change that may have been refused.
Reply TradeDesk::after(const Diagnostics& faults, LengthUnit unit) {
  if (!faults.empty()) return refused(faults);
  const trade::Day day = today();
  const trade::LabourModel labour = shop_.labour();
  return json(trade_json({.journal = &shop_.journal(),
                          .shop = &shop_.settings(),
                          .today = day,
                          .unit = unit,
                          .labour = labour,
                          .schedule = shop_.schedule(labour, day)}));
}

Reply TradeDesk::enter(const Request& request, LengthUnit unit) {
  auto wish = read_enter(request.body);
  if (!wish) return refused(wish.diagnostics());
  return after(shop_.enter(std::move(wish->entries), wish->after, now_in_milliseconds()), unit);
}

Reply TradeDesk::set_shop(const Request& request, LengthUnit unit) {
  const auto wish = read_shop(request.body);
  return wish ? after(shop_.set(*wish, now_in_milliseconds()), unit) : refused(wish.diagnostics());
}

Reply TradeDesk::import(const Request& request, LengthUnit unit) {
  const auto wish = read_import(request.body);
  if (!wish) return refused(wish.diagnostics());
  auto entries = entries_in({"the file", wish->csv}, wish->what, wish->yard, unit, today());
  if (has_errors(entries.diagnostics)) return problem(422, entries.diagnostics);
  if (entries.value.empty()) {
    return problem(422, {{.code = "trade.no-value",
                          .message = "the file has no rows below its heads",
                          .hint = "put a board or a price on each row"}});
  }
  return after(shop_.enter(std::move(entries.value), wish->after, now_in_milliseconds()), unit);
}

// ---- Work

Reply TradeDesk::work(const Request& request, LengthUnit unit) {
  const std::string what = request.path.size() > 3 ? request.path[3] : "";
  if (what.empty() && request.method == "POST") return start(request);
  if (what.empty() && (request.method == "GET" || request.method == "HEAD"))
    return work_.task ? work_reply(unit) : no_work();
  if (what != "cancel" && what != "book") return no_such_page();
  if (request.method != "POST") return wrong_method("POST");
  if (!work_.task) return no_work();
  if (what == "book") return book(request, unit);
  if (const auto faults = read_nothing(request.body); !faults.empty()) return problem(400, faults);
  work_.task->cancel();
  return work_reply(unit);
}

Reply TradeDesk::work_reply(LengthUnit unit) const {
  return json(trade_work_json({.report = work_.task->report(),
                               .is_batch = work_.is_batch,
                               .batch = work_.batch ? &work_.batch->told : nullptr,
                               .cost = work_.cost.get(),
                               .unit = unit}));
}

Reply TradeDesk::start(const Request& request) {
  const auto ask = read_trade_ask(request.body);
  if (!ask) return refused(ask.diagnostics());
  if (const auto faults = shop_.catch_up(); !faults.empty()) return refused(faults);
  if (work_.task) work_.task->cancel();
  auto task = std::make_shared<Task>(TaskReport{.id = jobs_.next_id(), .stage = "waiting"});
  work_ = {.task = task, .is_batch = ask->is_batch};
  jobs_.run([this, task, ask = *ask, scene = scene_of(shop_, folder_, today())] {
    Diagnostics faults;
    Work made = worked_out(task, scene, ask, faults);
    if (task->is_cancelled()) return end(*task, TaskState::cancelled, "stopped");
    if (!faults.empty()) return end(*task, TaskState::failed, faults.front().message);
    const std::lock_guard lock(mutex_);
    if (work_.task == task) work_ = std::move(made);
    end(*task, TaskState::done, "");
  });
  return json(trade_work_json({.report = task->report(), .is_batch = ask->is_batch}), 202);
}

// Outside of the lock: it takes its time.
TradeDesk::Work TradeDesk::worked_out(const std::shared_ptr<Task>& task, const TradeScene& scene,
                                      const TradeAsk& ask, Diagnostics& faults) {
  const WorkTold tell = [&](std::string_view stage, double fraction, std::string_view words) {
    task->change([&](TaskReport& report) {
      report.state = TaskState::running;
      report.stage = stage;
      report.fraction = fraction;
      report.words = words;
    });
    return !task->is_cancelled();
  };
  Work work{.task = task, .is_batch = ask.is_batch};
  if (!tell("working out the pieces", 0, "")) return work;
  if (ask.is_batch) {
    if (auto made = keep(plan_batch(scene, ask, tell), faults))
      work.batch = std::make_shared<const MadeBatch>(*std::move(made));
  } else if (auto made = keep(reckon(scene, ask, tell), faults)) {
    work.cost = std::make_shared<const CostTold>(*std::move(made));
  }
  return work;
}

// The books must be those that the batch was planned on.
Reply TradeDesk::book(const Request& request, LengthUnit unit) {
  const auto known = read_after(request.body);
  if (!known) return refused(known.diagnostics());
  if (!work_.batch || work_.is_booked) return no_work();
  const trade::Day day = today();
  const std::int64_t now = now_in_milliseconds();
  if (*known != work_.batch->told.entries) {
    return problem(409, {{.code = "server.not-newest",
                          .message = "the books were changed since the batch was planned",
                          .hint = "plan it again"}});
  }
  const Diagnostics faults = shop_.book(work_.batch->entry, work_.batch->papers, *known, day, now);
  work_.is_booked = shop_.books().entries > *known;
  return after(faults, unit);
}

Reply TradeDesk::sawn(const Request& request, LengthUnit unit) {
  const auto known = read_after(request.body);
  if (!known) return refused(known.diagnostics());
  const auto batch = number_in(request.path[3], "", "");
  if (!batch) return no_such_page();
  return after(shop_.saw_up(*batch, *known, today(), now_in_milliseconds()), unit);
}

// ---- Files

Reply TradeDesk::file(const Request& request, LengthUnit unit) {
  const std::string& name = request.path[3];
  if (const auto faults = shop_.catch_up(); !faults.empty()) return refused(faults);
  if (name == "stock.csv") return download(name, write_rack(trade::rack_of(shop_.books()), unit));
  if (name == "prices.csv") return download(name, write_seen_prices(shop_.books().prices, unit));
  if (name == "books.jsonl") return download(name, shop_.journal_lines());
  if (name == "labels.pdf") return labels(request, unit);
  if (name == "work-sawing.pdf")
    return work_.batch ? download(name, work_.batch->papers.sawing_pdf) : no_work();
  if (const auto batch = number_in(name, "batch-", "-sawing.pdf")) {
    const auto papers = shop_.papers_of(*batch);
    return papers ? download(name, papers->sawing_pdf) : problem(404, papers.diagnostics());
  }
  for (const std::string kind : {"quote", "invoice"}) {
    if (const auto order = number_in(name, "order-", "-" + kind + ".pdf"))
      return paper(request, *order, kind);
  }
  return no_such_page();
}

Reply TradeDesk::paper(const Request& request, int number, const std::string& kind) {
  const auto found = shop_.books().orders.find(number);
  if (found == shop_.books().orders.end()) {
    return problem(404, {{.code = "trade.no-such-order",
                          .message = fmt::format("there is no order {}", number),
                          .hint = "look at the orders"}});
  }
  const trade::Order& order = found->second;
  const PaperOptions options{.paper = paper_asked_for(request),
                             .today = today(),
                             .title = title_of(folder_, order.facts.piece)};
  const auto& shop = shop_.settings();
  const Book book =
      kind == "quote" ? quote_of(order, shop, options) : invoice_of(order, shop, options);
  return download(fmt::format("{}-{}.pdf", kind, number), to_pdf(book));
}

Reply TradeDesk::labels(const Request& request, LengthUnit unit) {
  const auto wanted = numbers_in(asked_for(request, "boards"));
  std::vector<trade::RackedBoard> boards;
  for (const auto& [number, board] : shop_.books().boards) {
    const bool is_wanted =
        wanted.empty() || std::find(wanted.begin(), wanted.end(), number) != wanted.end();
    if (is_wanted && trade::is_on_rack(board)) boards.push_back(board);
  }
  if (boards.empty()) {
    return problem(404, {{.code = "trade.no-such-board",
                          .message = "none of these boards is on the rack",
                          .hint = "enter boards first"}});
  }
  return download("labels.pdf", to_pdf(labels_of(boards, unit, paper_asked_for(request))));
}

}  // namespace kw::serving
