// The plan and a bench page's data as JSON.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "kerfwright/lumber/sold.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/wire/replies.h"

#include "view_writing.h"

namespace kw {
using namespace wire;

namespace {

std::string setting_words(const Setup& setup, LengthUnit unit) {
  std::string words;
  if (setup.machine == Machine::mitre_saw || setup.machine == Machine::rip_saw) {
    words = fmt::format("swing {}, tilt {}", format_angle(setup.swing), format_angle(setup.tilt));
  }
  if (setup.fence > Length())
    words += fmt::format("{}set to {}", words.empty() ? "" : ", ",
                         format_length(setup.fence, {.unit = unit}));
  return words;
}

std::optional<std::string> stop_words(const SetupCut& cut, LengthUnit unit) {
  if (cut.stop <= Length()) return std::nullopt;
  return format_length(cut.stop, {.unit = unit});
}

// Stays the same while part, machine and cut do.
std::string cut_id(const PlanData& data, const Setup& setup, const SetupCut& cut) {
  std::string id = fmt::format("{}.{}.{}.{}", at(data.cut_list->parts, cut.part).letter,
                               name_of(setup.machine), cut.what, cut.stop.in_ticks() / 20'000);
  std::replace(id.begin(), id.end(), ' ', '-');
  return id.substr(0, 80);
}

void write_setups(JsonWriter& json, const PlanData& data) {
  const LengthUnit unit = data.piece->unit;
  json.array();
  for (const Setup& setup : *data.setups) {
    json.object().key("machine").text(name_of(setup.machine));
    json.key("setting").text(setting_words(setup, unit)).key("cuts").array();
    for (const SetupCut& cut : setup.cuts) {
      json.object().key("id").text(cut_id(data, setup, cut));
      json.key("part").text(at(data.cut_list->parts, cut.part).letter).key("what").text(cut.what);
      json.key("stop").text_or_null(stop_words(cut, unit));
      json.key("count").number(std::max(1, cut.count)).end();
    }
    json.end().end();
  }
  json.end();
}

void write_money(JsonWriter& json, const std::optional<Money>& money, const std::string& currency) {
  if (money)
    json.text(written(*money, currency));
  else
    json.null();
}

void write_buying(JsonWriter& json, const Job& job, const std::vector<BuyLine>& lines) {
  json.array();
  for (const BuyLine& line : lines) {
    json.object().key("stock").text(line.stock).key("sold_as").text(line.sold_as);
    json.key("species").text(line.species).key("length");
    write_figure(json, line.length, job.unit);
    json.key("count").number(line.count).key("on_hand").truth(line.is_on_hand).key("each");
    write_money(json, line.each, job.currency);
    json.key("total");
    write_money(json, line.each ? std::optional(*line.each * line.count) : std::nullopt,
                job.currency);
    json.end();
  }
  json.end();
}

// Told wider than they are, never narrower.
void write_faults(JsonWriter& json, const Job& job, const std::vector<FaultyZone>& faults) {
  json.array();
  for (const FaultyZone& zone : faults) {
    json.object().key("from");
    write_figure(json, round_to(zone.from, job.rule, Rounding::down), job.unit);
    json.key("to");
    write_figure(json, round_to(zone.from + zone.length, job.rule, Rounding::up), job.unit);
    json.end();
  }
  json.end();
}

void write_stick(JsonWriter& json, const Job& job, const StockProblem& problem,
                 const SawnStick& stick) {
  const Stock& stock = at(problem.problem.stocks, stick.stock);
  json.object().key("length");
  write_figure(json, stock.length, job.unit);
  json.key("faults");
  write_faults(json, job, stock.faults);
  json.key("on_hand").truth(at(problem.sources, stick.stock).is_on_hand).key("offcut");
  write_figure(json, round_to(stick.offcut, job.rule, Rounding::down), job.unit);
  json.key("parts").array();
  for (const Placed& placed : stick.parts) {
    json.object().key("part").text(label_of(job, at(problem.part_of_demand, placed.demand)));
    json.key("from");
    write_figure(json, round_to(placed.from, job.rule), job.unit);
    const Part& part = part_of(job, at(problem.part_of_demand, placed.demand));
    json.key("length");
    write_figure(json, at(part.figures, part.length).printed, job.unit);
    json.key("flipped").truth(placed.flipped).key("turned").truth(placed.turned).end();
  }
  json.end().end();
}

void write_stocks(JsonWriter& json, const Job& job, const Sawing& sawing) {
  json.array();
  for (const StockPlan& plan : sawing.plans) {
    json.object().key("stock").text(plan.problem.stock.name);
    json.key("sheet").text("sawing-" + file_name_of(plan.problem.stock));
    json.key("proof").text(proof_text(job, plan)).key("proved").truth(plan.plan.is_proved);
    json.key("strips_per_board").number(std::max(1, plan.problem.strips_per_board));
    json.key("sticks").array();
    for (const SawnStick& stick : plan.plan.sticks) write_stick(json, job, plan.problem, stick);
    json.end().end();
  }
  json.end().key("sheets").array();
  for (const SheetStockPlan& plan : sawing.sheets) {
    json.object().key("stock").text(plan.stock.name);
    json.key("at_least").number(plan.plan.sheets.size());
    json.key("sheet").text("sawing-" + file_name_of(plan.stock));
    json.key("proof").text(proof_text(job, plan)).key("proved").truth(plan.plan.is_proved).end();
  }
  json.end();
}

std::string closing_words(const Closing& closing) {
  return fmt::format("worst gap {:.2f} mm, worst clash {:.2f} mm from the printed numbers{}",
                     closing.worst_gap, closing.worst_clash,
                     closing.closes ? "" : ": more than half the smallest mark");
}

void write_closing(JsonWriter& json, const PlanData& data) {
  const auto id = [&](int body) { return at(data.piece->boards, at(*data.bodies, body).board).id; };
  json.object().key("closes").truth(data.closing->closes);
  json.key("words").text(closing_words(*data.closing)).key("joints").array();
  for (const JointClosing& joint : data.closing->joints) {
    json.object().key("boards").array().text(id(joint.a)).text(id(joint.b)).end().key("joint");
    if (joint.joint < 0)
      json.null();
    else
      json.text(at(data.piece->joints, joint.joint).id);
    json.key("gap_mm").number(joint.gap).key("clash_mm").number(joint.clash).end();
  }
  json.end().end();
}

std::string proof_of(const Job& job, const Sawing& sawing) {
  std::string proof;
  for (const StockPlan& plan : sawing.plans)
    proof += fmt::format("{}{}: {}", proof.empty() ? "" : "; ", plan.problem.stock.name,
                         proof_text(job, plan));
  return proof;
}

std::string_view words_of_file(std::string_view name) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> words = {
      {{"buying-list.csv", "what to bring from the yard"},
       {"sticks.csv", "which part from which board"},
       {"set-ups.csv", "cuts by setting of the saw"},
       {"closing-check.csv", "whether the printed figures close"},
       {"hardware.csv", "screws, dowels and the like"},
       {"bench-sheets.pdf", "cuts by set-up, to pin up at the saw"},
       {"plan.html", "the plan as one page for the web"},
       {"listing.md", "words for a listing"}}};
  const auto* const found =
      std::find_if(words.begin(), words.end(), [&](const auto& row) { return row.first == name; });
  return found == words.end() ? name : found->second;
}

}  // namespace

std::string plan_json(const PlanReply& plan) {
  const Job job = job_of(*plan.data.piece, *plan.data.cut_list);
  const Sawing& sawing = *plan.data.sawing;
  const auto lines = buying_list_of(job, sawing);
  JsonWriter json;
  json.object().key("revision").number(plan.revision).key("is_current").truth(plan.is_current);
  json.key("cost");
  write_money(json, to_pay(lines), job.currency);
  json.key("proof").text(proof_of(job, sawing)).key("buying");
  write_buying(json, job, lines);
  json.key("hardware").array();
  for (const Hardware& h : hardware_of(job))
    json.object()
        .key("name")
        .text(hardware_sold(built_in_catalogue(), h.name, job.unit))
        .key("count")
        .number(h.count)
        .end();
  json.end().key("stocks");
  write_stocks(json, job, sawing);
  json.key("setups");
  write_setups(json, plan.data);
  json.key("closing");
  write_closing(json, plan.data);
  json.key("used");
  const double used = sawing.plans.empty() ? -1 : yield_of(job, sawing);
  if (std::isfinite(used) && used >= 0)
    json.number(std::min(1.0, used));
  else
    json.null();
  json.key("diagnostics");
  const Utf16Index index(plan.text->content);
  write_diagnostics(json, *plan.text, index, plan.diagnostics);
  json.key("files").array();
  for (const std::string& file : plan.files)
    json.object()
        .key("name")
        .text(file)
        .key("words")
        .text(words_of_file(file))
        .key("needs_plan")
        .truth(true)
        .end();
  json.end().end();
  return json.take();
}

std::string bench_data_json(const std::string& piece, std::int64_t revision,
                            const std::string& token, const PlanData& data,
                            const std::vector<BenchTick>& ticks) {
  const LengthUnit unit = data.piece->unit;
  JsonWriter json;
  json.object().key("piece").text(piece).key("title").text(data.piece->title);
  json.key("revision").number(revision).key("token").text(token);
  json.key("unit").text(unit == LengthUnit::inch ? "in" : "mm").key("cuts").array();
  for (const Setup& setup : *data.setups) {
    for (const SetupCut& cut : setup.cuts) {
      const Part& part = at(data.cut_list->parts, cut.part);
      json.object().key("id").text(cut_id(data, setup, cut));
      json.key("machine")
          .text(name_of(setup.machine))
          .key("setting")
          .text(setting_words(setup, unit));
      json.key("part").text(part.letter).key("what").text(cut.what);
      json.key("stop").text_or_null(stop_words(cut, unit));
      json.key("count").number(std::max(1, cut.count)).key("boards").array();
      for (const Member& member : part.members)
        json.text(at(data.piece->boards, at(*data.bodies, member.body).board).id);
      json.end().end();
    }
  }
  json.end().key("ticks").raw(ticks_json(ticks)).end();
  return json.take();
}

}  // namespace kw
