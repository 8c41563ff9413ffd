// The calls about one piece.
#include <fmt/core.h>

#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/solid/export.h"
#include "kerfwright/wire/scene_json.h"

#include "desk.h"

namespace kw::serving {
namespace {

constexpr std::size_t most_open = 32;

Reply stale(std::int64_t revision) {
  return problem({.status = 409,
                  .why = {.code = "server.not-newest",
                          .message = "the piece was changed since",
                          .hint = "take the newest revision and do it again"},
                  .revision = revision});
}

bool is_get(const Request& request) {
  return request.method == "GET" || request.method == "HEAD";
}

Reply no_plan() {
  return problem(404, {{.code = "plan.none",
                        .message = "no plan was made yet",
                        .hint = "make one: POST .../plan"}});
}

Reply no_such(const std::string& what) {
  return problem(404, {{.code = "server.no-such-page",
                        .message = fmt::format("the piece has no {}", what),
                        .hint = "load the piece again"}});
}

std::string without(const std::string& name, std::string_view ending) {
  return name.ends_with(ending) ? name.substr(0, name.size() - ending.size()) : "";
}

Reply svg(const Sheet& sheet) {
  return {.type = "image/svg+xml", .body = to_svg(sheet)};
}

SheetStyle sheet_style(const Snapshot& seen) {
  return {.length = {.unit = seen.piece.unit}};
}

Reply part_reply(const Session& session, const std::string& name) {
  const Snapshot& seen = session.seen();
  const std::string letter = without(name, ".svg");
  for (std::size_t i = 0; i < seen.cut_list.parts.size(); ++i)
    if (seen.cut_list.parts[i].letter == letter)
      return svg(part_sheet(seen.piece, seen.bodies, seen.cut_list, static_cast<int>(i),
                            sheet_style(seen)));
  return no_such(fmt::format("part {}", letter));
}

Reply sheet_reply(const Session& session, const MadePlan* plan, const std::string& file) {
  const Snapshot& seen = session.seen();
  const std::string name = without(file, ".svg");
  if (name == "overall")
    return svg(overall_sheet(seen.piece, seen.bodies, seen.cut_list, sheet_style(seen)));
  if (name == "elevations")
    return svg(elevations_sheet(seen.piece, seen.bodies, seen.cut_list, sheet_style(seen)));
  if (!plan) return no_plan();
  const Job job = job_of(plan->snapshot.piece, plan->snapshot.cut_list);
  for (const StockPlan& stock : plan->plan.sawing.plans) {
    const std::string own = "sawing-" + file_name_of(stock.problem.stock);
    const auto sheets =
        sawing_sheets(job, stock, proof_text(job, stock), sheet_style(plan->snapshot));
    for (const Sheet& sheet : sheets)
      if (sheet.name == name || (own == name && &sheet == &sheets.front())) return svg(sheet);
  }
  for (const SheetStockPlan& stock : plan->plan.sawing.sheets) {
    const std::string own = "sawing-" + file_name_of(stock.stock);
    const auto sheets =
        sheet_sheets(job, stock, proof_text(job, stock), sheet_style(plan->snapshot));
    for (const Sheet& sheet : sheets)
      if (sheet.name == name || (own == name && &sheet == &sheets.front())) return svg(sheet);
  }
  return no_such(fmt::format("sheet {}", name));
}

Reply card_reply(const Session& session, const std::string& name, const std::string& board) {
  const Snapshot& seen = session.seen();
  for (std::size_t i = 0; i < seen.bodies.size(); ++i)
    if (seen.piece.boards[static_cast<std::size_t>(seen.bodies[i].board)].id == board)
      return json(card_json(session.view_data(), name, i));
  return no_such(fmt::format("board {}", board));
}

Reply download(const std::string& piece, const std::string& file, std::string bytes) {
  Reply reply{.type = "application/octet-stream", .body = std::move(bytes)};
  const std::string name = file.starts_with("piece.") ? piece + file.substr(5) : piece + "-" + file;
  reply.headers.emplace_back("Content-Disposition",
                             fmt::format("attachment; filename=\"{}\"", name));
  return reply;
}

Reply download(const std::string& piece, const std::string& file,
               const Outcome<std::string>& bytes) {
  return bytes ? download(piece, file, *bytes) : problem(500, bytes.diagnostics());
}

constexpr std::array<std::string_view, 8> plan_files = {
    "buying-list.csv", "sticks.csv",       "set-ups.csv", "closing-check.csv",
    "hardware.csv",    "bench-sheets.pdf", "plan.html",   "listing.md"};

Outcome<std::string> plan_file(const MadePlan& plan, const std::string& file) {
  const LengthStyle style{.unit = plan.snapshot.piece.unit};
  const Job job = job_of(plan.snapshot.piece, plan.snapshot.cut_list);
  const PlanData data = data_of(plan.snapshot, plan.plan);
  if (file == "buying-list.csv") return to_csv(buying_table(job, plan.plan.sawing, style));
  if (file == "sticks.csv") return to_csv(sticks_table(job, plan.plan.sawing, style));
  if (file == "set-ups.csv") return to_csv(setups_table(data, style));
  if (file == "closing-check.csv") return to_csv(closing_table(data));
  if (file == "bench-sheets.pdf") return to_pdf(bench_sheets_of(data, {.length = style}));
  if (file == "plan.html") return web_edition(data, {.length = style}, scene_json(data, style));
  if (file == "listing.md") return to_markdown(listing_of(data, {.length = style}));
  return to_csv(hardware_table(job, style));
}

Reply file_reply(const Session& session, const MadePlan* plan, const std::string& piece,
                 const std::string& file) {
  const Snapshot& seen = session.seen();
  const LengthStyle style{.unit = seen.piece.unit};
  const PlanData data{.piece = &seen.piece,
                      .bodies = &seen.bodies,
                      .clashes = &seen.clashes,
                      .cut_list = &seen.cut_list};
  if (file == "piece.toml") return download(piece, file, session.text().content);
  if (file == "cut-list.csv") return download(piece, file, to_csv(cut_list_table(data, style)));
  if (file == "marks.csv") return download(piece, file, to_csv(marks_table(data, style)));
  if (file == "piece.glb") return download(piece, file, to_glb(seen.piece, seen.bodies));
  if (file == "piece.step") return download(piece, file, to_step(seen.piece, seen.bodies));
  if (std::find(plan_files.begin(), plan_files.end(), file) == plan_files.end())
    return no_such(fmt::format("file {}", file));
  return plan ? download(piece, file, plan_file(*plan, file)) : no_plan();
}

Reply plan_reply(OpenPiece& open) {
  if (!open.plan()) return no_plan();
  const MadePlan& made = *open.plan();
  PlanReply reply{.revision = made.revision,
                  .is_current = made.revision == open.session->revision(),
                  .data = data_of(made.snapshot, made.plan),
                  .text = &made.text,
                  .diagnostics = made.plan.diagnostics};
  for (const std::string_view file : plan_files) reply.files.emplace_back(file);
  return json(plan_json(reply));
}

Reply book_reply(const Request& request, const MadePlan* plan, const std::string& piece) {
  if (!plan) return no_plan();
  const MadePlan& made = *plan;
  const std::string paper = asked_for(request, "paper");
  if (!paper.empty() && paper != "letter" && paper != "a4") return problem(400, {badly_asked()});
  const BookOptions options{paper == "a4" ? Paper::a4 : Paper::letter,
                            {.unit = made.snapshot.piece.unit}};
  auto pdf = to_pdf(book_of(data_of(made.snapshot, made.plan), options));
  if (!pdf) return problem(500, pdf.diagnostics());
  Reply reply{.type = "application/pdf", .body = *std::move(pdf)};
  reply.headers.emplace_back("Content-Disposition",
                             fmt::format("inline; filename=\"{}-plan.pdf\"", piece));
  return reply;
}

// What a buyer or friend wants to know, in plain words.
std::string listing_text(const Session& session, const MadePlan* plan) {
  if (plan) {
    const LengthStyle style{.unit = plan->snapshot.piece.unit};
    return to_plain(listing_of(data_of(plan->snapshot, plan->plan), {.length = style}));
  }
  const Snapshot& seen = session.seen();
  const PlanData data{.piece = &seen.piece,
                      .bodies = &seen.bodies,
                      .clashes = &seen.clashes,
                      .cut_list = &seen.cut_list};
  std::string text = seen.piece.title + "\n\n";
  if (!seen.piece.note.empty()) text += seen.piece.note + "\n\n";
  text += fmt::format("{} boards, {} kinds of part, {} joints.\n\n", seen.bodies.size(),
                      seen.cut_list.parts.size(), seen.piece.joints.size());
  text += to_text(cut_list_table(data, {.unit = seen.piece.unit}));
  if (!seen.piece.author.empty())
    text += fmt::format("\nBy {}. {}\n", seen.piece.author, seen.piece.licence);
  return text;
}

Reply not_opened(const Diagnostics& faults) {
  const std::string_view code = faults.front().code;
  if (code == "store.cannot-keep") return problem(503, faults);
  return problem(code == "io.cannot-read" || code == "shelf.no-such-piece" ? 404 : 422, faults);
}

int status_of(const Diagnostics& faults) {
  const std::string_view code = faults.empty() ? "" : faults.front().code;
  if (code == "store.cannot-keep") return 503;
  if (code == "store.no-such-revision") return 404;
  return 422;
}

}  // namespace

Outcome<Desk::OpenRef> Desk::opened(const std::string& name) {
  if (!is_piece_name(name)) {
    return Diagnostic{.code = "shelf.no-such-piece",
                      .message = "that is no name of a piece",
                      .hint = "look at the shelf"};
  }
  OpenRef open;
  {
    const std::lock_guard lock(mutex_);
    OpenRef& known = open_[name];
    if (!known) {
      known = std::make_shared<OpenPiece>();
      known->name = name;
    }
    open = known;
    // Those that nobody is using are opened again when they are wanted.
    for (auto at = open_.begin(); open_.size() > most_open && at != open_.end();)
      at = at->second.use_count() == 1 ? open_.erase(at) : std::next(at);
  }
  const std::lock_guard lock(open->mutex);
  if (open->session) return open;
  auto session = Session::open(file_of(folder_, name), name, store_, now_in_milliseconds());
  if (!session) {
    close_piece(name);
    return session.diagnostics();
  }
  open->session = *std::move(session);
  return open;
}

void Desk::close_piece(const std::string& name) {
  const std::lock_guard lock(mutex_);
  open_.erase(name);
}

Reply Desk::piece(const Request& request) {
  const std::string& name = request.path[2];
  const std::string what = request.path.size() > 3 ? request.path[3] : "";
  if (request.method == "POST" && request.path.size() == 4 && (what == "rename" || what == "bin"))
    return move_piece(request, name);
  const auto open = opened(name);
  if (!open) return not_opened(open.diagnostics());
  std::unique_lock lock((*open)->mutex);
  if (!(*open)->session) return no_such_page();  // moved away meanwhile
  const auto unit = unit_asked_for(request);
  if (!unit) return problem(400, unit.diagnostics());
  (*open)->session->show_in(*unit);
  if (is_get(request) && request.path.size() == 4 && (what == "findings" || what == "steps"))
    return survey_of(**open, what, lock);
  if (is_get(request)) return get_of_piece(request, **open);
  if (request.method == "POST" && request.path.size() == 4) return post_to_piece(request, **open);
  return wrong_method("GET, POST");
}

Reply Desk::move_piece(const Request& request, const std::string& name) {
  const bool is_rename = request.path[3] == "rename";
  const auto to = is_rename ? read_new_name(request.body) : Outcome<std::string>(std::string());
  if (!to) return problem(400, to.diagnostics());
  if (const auto faults = is_rename ? Diagnostics() : read_nothing(request.body); !faults.empty())
    return problem(400, faults);
  const auto open = opened(name);
  if (!open) return not_opened(open.diagnostics());
  const std::lock_guard lock((*open)->mutex);
  const std::int64_t now = now_in_milliseconds();
  Outcome<Binned> binned = Binned{};
  Diagnostics faults;
  if (is_rename)
    faults = rename_piece_file(folder_, name, *to);
  else
    binned = bin_piece(folder_, name, now);
  if (!binned) faults = binned.diagnostics();
  if (!faults.empty()) return problem(422, faults);
  (*open)->session.reset();
  close_piece(name);
  faults = store_.rename(name, is_rename ? *to : binned->id);
  if (!faults.empty()) return problem(503, faults);
  return json(is_rename ? named_json(*to) : binned_json(*binned));
}

Reply Desk::survey_of(OpenPiece& open, const std::string& what,
                      std::unique_lock<std::mutex>& lock) {
  const std::int64_t revision = open.session->revision();
  const Surveyed& known = open.surveyed[what];
  if (known.revision == revision && known.unit == open.session->seen().piece.unit)
    return json(known.json);
  const Snapshot seen = open.session->seen();
  lock.unlock();
  Surveyed found{revision, seen.piece.unit, {}};
  if (what == "findings") {
    found.json = findings_json(revision, seen.piece, findings_of(seen));
  } else {
    ShopPlan plan;
    plan.assembly = assembly_in(seen);
    found.json = steps_json(revision, data_of(seen, plan));
  }
  lock.lock();
  open.surveyed[what] = found;
  return json(found.json);
}

Reply Desk::get_of_piece(const Request& request, OpenPiece& open) {
  Session& session = *open.session;
  if (request.path.size() == 3) return json(session.view());
  const std::string& what = request.path[3];
  const std::string rest = request.path.size() == 5 ? request.path[4] : "";
  if (request.path.size() > 5) return no_such_page();
  if (!rest.empty()) {
    if (what == "part") return part_reply(session, rest);
    if (what == "sheets") return sheet_reply(session, open.plan().get(), rest);
    if (what == "card") return card_reply(session, open.name, rest);
    if (what == "files") return file_reply(session, open.plan().get(), open.name, rest);
    return no_such_page();
  }
  if (what == "plan") return plan_reply(open);
  if (what == "plan.pdf") return book_reply(request, open.plan().get(), open.name);
  if (what == "listing")
    return {.type = "text/plain; charset=utf-8", .body = listing_text(session, open.plan().get())};
  if (what == "history") {
    const std::int64_t from = std::strtoll(asked_for(request, "before").c_str(), nullptr, 10);
    return json(history_json(session.history(std::max<std::int64_t>(0, from)), session.revision()));
  }
  constexpr std::array<std::string_view, 7> posts = {"edits",   "try",     "undo",  "redo",
                                                     "restore", "outside", "cancel"};
  if (std::find(posts.begin(), posts.end(), what) != posts.end()) return wrong_method("POST");
  return no_such_page();
}

Reply Desk::changed(OpenPiece& open, const Outcome<std::string>& reply) {
  if (!reply) return problem(status_of(reply.diagnostics()), reply.diagnostics());
  events_.tell(open.name, "revision", revised_json(open.name, open.session->revision()));
  return json(*reply);
}

Reply Desk::post_to_piece(const Request& request, OpenPiece& open) {
  const std::string& what = request.path[3];
  if (what == "edits" || what == "try") return edit(request, open);
  if (what == "undo" || what == "redo" || what == "restore" || what == "outside")
    return step(request, open);
  if (what == "plan") return make_plan(request, open);
  if (what == "cancel") {
    if (const auto faults = read_nothing(request.body); !faults.empty())
      return problem(400, faults);
    if (!open.task) return no_plan();
    open.task->cancel();
    return json(task_json(open.task->report()));
  }
  return no_such_page();
}

Reply Desk::edit(const Request& request, OpenPiece& open) {
  Session& session = *open.session;
  if (request.path[3] == "try") {
    const auto wish = read_try(request.body);
    if (!wish) return problem(400, wish.diagnostics());
    if (wish->base != session.revision()) return stale(session.revision());
    const auto reply = session.try_sizes(*wish);
    return reply ? json(*reply) : problem(422, reply.diagnostics());
  }
  const auto wish = read_edits(request.body);
  if (!wish) return problem(400, wish.diagnostics());
  if (wish->base != session.revision()) return stale(session.revision());
  int failed = -1;
  const auto reply = session.edit(*wish, now_in_milliseconds(), failed);
  if (reply || failed < 0) return changed(open, reply);
  return problem({.status = 422, .why = reply.diagnostics().front(), .edit = failed});
}

Reply Desk::step(const Request& request, OpenPiece& open) {
  Session& session = *open.session;
  const std::string& what = request.path[3];
  const std::int64_t now = now_in_milliseconds();
  if (what == "restore") {
    const auto wish = read_restore(request.body);
    if (!wish) return problem(400, wish.diagnostics());
    return wish->base == session.revision() ? changed(open, session.restore(wish->revision, now))
                                            : stale(session.revision());
  }
  if (what == "outside") {
    const auto wish = read_settle(request.body);
    if (!wish) return problem(400, wish.diagnostics());
    return wish->base == session.revision() ? changed(open, session.settle(wish->takes_theirs, now))
                                            : stale(session.revision());
  }
  const auto base = read_base(request.body);
  if (!base) return problem(400, base.diagnostics());
  if (*base != session.revision()) return stale(session.revision());
  return changed(open, what == "undo" ? session.undo(now) : session.redo(now));
}

Reply Desk::make_plan(const Request& request, OpenPiece& open) {
  const auto seconds = read_make_plan(request.body);
  if (!seconds) return problem(400, seconds.diagnostics());
  const Session& session = *open.session;
  if (has_errors(session.seen().diagnostics) || session.is_earlier()) {
    return problem(422, {{.code = "plan.piece-has-errors",
                          .message = "the piece has errors: a plan of it would be wrong",
                          .hint = "mend what the text is marked with first"}});
  }
  if (open.task && !open.task->is_over()) open.task->cancel();
  auto plan = std::make_shared<MadePlan>(
      MadePlan{session.revision(), session.seen_text(), session.seen(), {}});
  TaskReport report{
      .id = jobs_.next_id(), .piece = open.name, .revision = plan->revision, .stage = "waiting"};
  auto task = std::make_shared<Task>(report);
  open.task = task;
  const auto tell = [this](const TaskReport& now) {
    events_.tell(now.piece, "job", task_json(now));
  };
  const auto keep = [this, name = open.name](std::shared_ptr<const MadePlan> made) {
    OpenRef piece;
    {
      const std::lock_guard lock(mutex_);
      const auto found = open_.find(name);
      if (found == open_.end()) return;
      piece = found->second;
    }
    const std::lock_guard lock(piece->mutex);
    piece->plan_in(made->snapshot.piece.unit) = std::move(made);
  };
  jobs_.run([work = PlanWork{task, plan, *seconds, tell, keep}] { serving::make_plan(work); });
  return json(task_json(report), 202);
}

}  // namespace kw::serving
