#include "kerfwright/planbook/book.h"

#include <algorithm>
#include <fmt/core.h>

#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/steps.h"

#include "chapters.h"
#include "hours.h"

namespace kw {
namespace {

constexpr std::string_view load_caution =
    "The numbers here are computed from the sizes and assumptions shown, not tested. What was "
    "computed of loads, standing and movement is told under Checks, or was not computed. Where "
    "people could be hurt, follow your local code and ask someone licensed to judge it.";

constexpr std::string_view other_hardware =
    "The hardware and the bits are the nearest that are sold in this book's units, none longer "
    "than "
    "what they stand for; the checks were made with the hardware in the last column.";

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

class Writer {
 public:
  Writer(const PlanData& data, const BookOptions& options)
      : data_(data), options_(options), job_(job_of(*data.piece, *data.cut_list)) {
    style_.width = text_area(options.paper).x;
    style_.tallest = text_area(options.paper).y - 6;
    style_.length = options.length;
    lists_ = options.length;
    lists_.with_mm = options.with_mm;
  }

  Book write() {
    const Resolved& piece = *data_.piece;
    book_ = {.title = piece.title,
             .author = piece.author,
             .licence = piece.licence,
             .buyer = options_.buyer,
             .paper = options_.paper};
    cover();
    lists();
    sawing();
    parts();
    setups();
    steps();
    finish();
    closing();
    checks();
    return std::move(book_);
  }

 private:
  template <class B>
  void add(B block) {
    book_.blocks.emplace_back(std::move(block));
  }

  void cover() {
    const Resolved& piece = *data_.piece;
    add(Heading{piece.title, 0});
    if (!piece.note.empty()) add(Paragraph{piece.note});
    SheetStyle small = style_;
    small.tallest = style_.tallest * 0.55;
    add(overall_sheet(piece, *data_.bodies, *data_.cut_list, small));
    add(Contents{});
    add(NewPage{});
    ready();
    SheetStyle half = style_;
    half.tallest = style_.tallest * 0.45;
    add(Heading{"Front, side and top"});
    auto section = section_sheet(piece, *data_.bodies, *data_.cut_list, half);
    if (!section) half.tallest = style_.tallest * 0.85;
    add(elevations_sheet(piece, *data_.bodies, *data_.cut_list, half));
    if (!section) return;
    add(Heading{"Section", 2});
    add(std::move(*section));
  }

  void ready() {
    add(Heading{"Before you begin"});
    add(facts_table(data_, lists_));
    add(Heading{"Tools", 2});
    add(Paragraph{tools_for(data_, lists_)});
    add(Paragraph{std::string(saw_caution), true});
    for (const std::string& caution : wood_cautions(data_)) add(Paragraph{caution, true});
    add(Paragraph{std::string(load_caution), true});
    hours();
    if (lists_.with_mm)
      add(Paragraph{
          "Millimetres in brackets are rounded to the nearest; the inches are what counts."});
  }

  void hours() {
    const auto work = work_on(data_);
    add(Heading{"Time", 2});
    add(
        Paragraph{fmt::format("{} of one person's work, computed under these assumptions: the "
                              "minutes in the table (common "
                              "practice, no published source), without drying, clamping, buying "
                              "and clearing up. Take the "
                              "time of your first piece and put your own minutes in their place.",
                              capital(hours_text(minutes_of(work))))});
    add(hours_table(work));
  }

  // What the checks found: first what asks for something, each with its source and assumption.
  void checks() {
    if (data_.findings == nullptr || data_.findings->empty()) return;
    add(Heading{"Checks"});
    add(Paragraph{std::string(findings_caution()), true});
    shares();
    Table passed{.heads = {"check", "found", "number"}};
    for (const Finding& f : *data_.findings) {
      if (f.verdict == Verdict::passes) {
        passed.rows.push_back({std::string(name_of(f.area)), quoted(f.message), f.number});
        continue;
      }
      std::string lead = fmt::format("{}: {}", name_of(f.area), name_of(f.verdict));
      if (!f.number.empty()) lead += fmt::format(" ({}, limit {})", f.number, f.limit);
      std::string words = sentence(f.message);
      if (!f.change.empty()) words += " To change: " + sentence(f.change);
      add(Remark{
          lead, quoted(words),
          quoted("Source: " + sentence(f.source) + " Assumption: " + sentence(f.assumption))});
    }
    if (passed.rows.empty()) return;
    add(Paragraph{"Found nothing wrong with, under the assumptions in checks.txt:"});
    add(std::move(passed));
  }

  // The piece painted by what each board bears of what it may be counted on for.
  void shares() {
    const auto use = std::find_if(data_.findings->begin(), data_.findings->end(),
                                  [](const Finding& f) { return !f.shares.empty(); });
    if (use == data_.findings->end()) return;
    const std::vector<Body>& bodies = *data_.bodies;
    std::vector<double> by_body(bodies.size(), -1);
    for (std::size_t b = 0; b < bodies.size(); ++b) {
      const auto board = std::find(use->boards.begin(), use->boards.end(), bodies[b].board);
      if (board != use->boards.end())
        by_body[b] = use->shares[static_cast<std::size_t>(board - use->boards.begin())];
    }
    SheetStyle small = style_;
    small.tallest = style_.tallest * 0.33;
    add(
        Paragraph{"Each board by the share of its stress that it may be counted on for: the worst "
                  "of bending, "
                  "pull, push and shear under any load named, 1 at the limit; white where it was "
                  "not computed. "
                  "Computed under the assumptions told below, not tested."});
    add(shares_sheet(bodies, by_body, small));
  }

  void finish() {
    const auto lines = finishing(data_);
    if (!lines.empty()) add(Heading{"Finishing"});
    for (const std::string& line : lines) add(Paragraph{line});
    if (data_.piece->care.empty()) return;
    add(Heading{"Care"});
    add(Paragraph{data_.piece->care});
  }

  void lists() {
    add(NewPage{});
    add(Heading{"Cut list"});
    add(
        Paragraph{"Thickness x width x length over all, tip to tip. Ends: the saw's swing from "
                  "square, then the blade's tilt."});
    add(cut_list_table(data_, lists_));
    add(Heading{"Buying list"});
    add(buying_table(job_, *data_.sawing, lists_));
    if (!hardware_of(job_).empty()) {
      add(Heading{"Hardware"});
      Table hardware = hardware_table(job_, lists_);
      const bool has_others = hardware.heads.size() > 2;
      add(std::move(hardware));
      if (has_others) add(Paragraph{std::string(other_hardware)});
    }
  }

  void sawing() {
    add(Heading{"Sawing plan"});
    add(Paragraph{std::string(saw_caution), true});
    add_sawing(book_, job_, *data_.sawing, style_);
  }

  void parts() {
    add(Heading{"Parts"});
    add(
        Paragraph{"Each part lies flat with its marked edge nearest you; every mark is measured "
                  "from the hook end, the tip the tape hooks on. Where there is a file "
                  "templates.pdf beside this book, print it at 100 % and hold its ruler to yours "
                  "before you trust it."});
    for (std::size_t i = 0; i < data_.cut_list->parts.size(); ++i) add(part(static_cast<int>(i)));
  }

  // Two to a page where a somewhat smaller scale allows it.
  Sheet part(int index) const {
    constexpr double between = 3;
    SheetStyle half = style_;
    half.tallest = (text_area(options_.paper).y - between) / 2;
    const auto drawn = [&](const SheetStyle& style) {
      return part_sheet(*data_.piece, *data_.bodies, *data_.cut_list, index, style);
    };
    Sheet small = drawn(half);
    return small.height <= half.tallest ? std::move(small) : drawn(style_);
  }

  void setups() {
    add(Heading{"Set-ups"});
    add(
        Paragraph{"Set the saw once, make every cut of that setting, longest stop first. Stops are "
                  "measured from the blade, marks of notches and holes from the hook end."});
    add(without_empty_columns(tickets_table(data_, lists_)));
  }

  void steps() {
    add(Heading{"Putting it together"});
    SheetStyle small = style_;
    small.tallest = style_.tallest * 0.29;
    int number = 0;
    for (const ToldStep& step : steps_of(data_, lists_)) {
      add(Heading{fmt::format("Step {}. {}", ++number, step.title), 2});
      add(step_sheet(*data_.bodies, *data_.cut_list, step.picture, small));
      for (const std::string& line : step.lines) add(Paragraph{line});
    }
  }

  void closing() {
    const Closing& c = *data_.closing;
    add(Heading{"Closing check"});
    add(Paragraph{fmt::format(
        "The piece was put together again from the printed, rounded numbers: the worst gap is "
        "{:.2f} mm and the worst clash {:.2f} mm{}. {}",
        c.worst_gap, c.worst_clash,
        c.chosen > 0
            ? fmt::format("; {} numbers were rounded the other way so that the joints close better",
                          c.chosen)
            : "",
        c.closes ? "Every joint closes within half the smallest mark of the rule."
                 : "Not every joint closes within half the smallest mark of the rule: fit those by "
                   "hand.")});
    Table table = closing_table(data_);
    std::erase_if(table.rows, [](const std::vector<std::string>& row) {
      return row[2] == "-" && row[3] == "-";
    });
    if (!table.rows.empty()) add(std::move(table));
  }

  const PlanData& data_;
  const BookOptions& options_;
  Job job_ = {};
  SheetStyle style_ = {};
  LengthStyle lists_ = {};  // of tables and words
  Book book_ = {};
};

}  // namespace

void add_sawing(Book& book, const Job& job, const Sawing& sawing, const SheetStyle& style) {
  for (const StockPlan& plan : sawing.plans) {
    for (Sheet& sheet : sawing_sheets(job, plan, proof_text(job, plan), style))
      book.blocks.emplace_back(std::move(sheet));
    if (plan.plan.aims) {
      std::string words = setups_text(*plan.plan.aims) + ".";
      for (const std::string& other : alternatives_of(job, plan)) words += " Or " + other + ".";
      book.blocks.emplace_back(Paragraph{capital(words)});
    }
    book.blocks.emplace_back(sequence_table(job, plan, style.length));
  }
  for (const SheetStockPlan& plan : sawing.sheets) {
    for (Sheet& sheet : sheet_sheets(job, plan, proof_text(job, plan), style))
      book.blocks.emplace_back(std::move(sheet));
    book.blocks.emplace_back(cuts_table(job, plan, style.length));
  }
}

Book book_of(const PlanData& data, const BookOptions& options) {
  return Writer(data, options).write();
}

}  // namespace kw
