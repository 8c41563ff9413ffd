#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"
#include "kerfwright/planbook/steps.h"
#include "kerfwright/wire/plan_json.h"
#include "kerfwright/wire/scene_json.h"
#include "kerfwright/workbench/recompute.h"

namespace kw {
namespace {

struct Making {
  const Snapshot& snapshot;
  const ShopPlan& plan;
  const ExportOptions& options;
  const Stage& stage;
  Reading<std::vector<File>> made = {};
  bool is_stopped = false;

  bool go_on(std::string_view what) {
    if (!is_stopped && stage && !stage(what)) {
      is_stopped = true;
      made.diagnostics.push_back({.code = "io.cancelled",
                                  .message = "stopped before everything was made",
                                  .hint = "run it again to make the rest"});
    }
    return !is_stopped;
  }
  void add(std::string name, std::string bytes) {
    made.value.push_back({std::move(name), std::move(bytes)});
  }
  void add(std::string name, Outcome<std::string> bytes) {
    auto value = keep(std::move(bytes), made.diagnostics);
    if (value) add(std::move(name), std::move(*value));
  }
};

void add_table(Making& making, const std::string& name, const Table& table) {
  making.add(name + ".txt", to_text(table));
  making.add(name + ".csv", to_csv(table));
}

void add_sawing_lists(Making& making, const Job& job, const Sawing& sawing,
                      const LengthStyle& style) {
  making.add("sawing-plan.json", sawing_plan_json(job, sawing, style));
  add_table(making, "sticks", sticks_table(job, sawing, style));
  for (const StockPlan& plan : sawing.plans)
    add_table(making, "order-of-work-" + file_name_of(plan.problem.stock),
              sequence_table(job, plan, style));
  for (const SheetStockPlan& plan : sawing.sheets)
    add_table(making, "order-of-work-" + file_name_of(plan.stock), cuts_table(job, plan, style));
}

void add_diagrams(Making& making, const Job& job, const Sawing& sawing, const SheetStyle& style) {
  const auto add = [&](const std::vector<Sheet>& sheets) {
    for (const Sheet& sheet : sheets) making.add("drawings/" + sheet.name + ".svg", to_svg(sheet));
  };
  for (const StockPlan& plan : sawing.plans)
    add(sawing_sheets(job, plan, proof_text(job, plan), style));
  for (const SheetStockPlan& plan : sawing.sheets)
    add(sheet_sheets(job, plan, proof_text(job, plan), style));
}

void add_lists(Making& making, const PlanData& data) {
  if (!making.go_on("lists")) return;
  const LengthStyle& style = making.options.book.length;
  const Job job = job_of(*data.piece, *data.cut_list);
  add_table(making, "cut-list", cut_list_table(data, style));
  making.add("cut-list.json", cut_list_json(data, style));
  add_table(making, "marks", marks_table(data, style));
  add_table(making, "buying-list", buying_table(job, *data.sawing, style));
  making.add("buying-list.json", buying_list_json(job, *data.sawing, style));
  add_table(making, "hardware", hardware_table(job, style));
  add_table(making, "set-ups", setups_table(data, style));
  add_table(making, "closing-check", closing_table(data));
  making.add("closing-check.json", closing_json(data));
  add_table(making, "steps", steps_table(data, style));
  if (data.findings != nullptr) {
    making.add("checks.txt", to_text(*data.findings));
    making.add("checks.json", findings_json(*data.piece, *data.findings));
  }
  add_sawing_lists(making, job, *data.sawing, style);
}

void add_drawings(Making& making, const PlanData& data) {
  if (!making.go_on("drawings")) return;
  const SheetStyle style{.length = making.options.book.length};
  const auto add = [&](const Sheet& sheet) {
    making.add("drawings/" + sheet.name + ".svg", to_svg(sheet));
  };
  add(overall_sheet(*data.piece, *data.bodies, *data.cut_list, style));
  add(elevations_sheet(*data.piece, *data.bodies, *data.cut_list, style));
  if (const auto section = section_sheet(*data.piece, *data.bodies, *data.cut_list, style))
    add(*section);
  for (std::size_t i = 0; i < data.cut_list->parts.size(); ++i) {
    add(part_sheet(*data.piece, *data.bodies, *data.cut_list, static_cast<int>(i), style));
  }
  add_diagrams(making, job_of(*data.piece, *data.cut_list), *data.sawing, style);
}

void add_edition(Making& making, const PlanData& data) {
  const BookOptions& book = making.options.book;
  if (making.go_on("plan book")) making.add("plan.pdf", to_pdf(book_of(data, book)));
  if (making.go_on("bench sheets"))
    making.add("bench-sheets.pdf", to_pdf(bench_sheets_of(data, book)));
  if (!making.go_on("templates")) return;
  const Book templates = templates_book_of(data, book);
  if (!templates.blocks.empty()) making.add("templates.pdf", to_pdf(templates));
  if (making.go_on("sales sheet"))
    making.add("sales-sheet.pdf", to_pdf(sales_sheet_of(data, book)));
  if (!making.go_on("page for the web")) return;
  making.add("plan.html", web_edition(data, book, scene_json(data, book.length)));
  const Book listing = listing_of(data, book);
  making.add("listing.md", to_markdown(listing));
  making.add("listing.html", to_html(listing));
  making.add("listing.txt", to_plain(listing));
}

}  // namespace

Book sawing_book_of(const Job& job, const Sawing& sawing, const BookOptions& options) {
  SheetStyle style{.width = text_area(options.paper).x,
                   .tallest = text_area(options.paper).y - 6,
                   .length = options.length};
  Book book{.title = "Sawing plan", .paper = options.paper};
  book.blocks.emplace_back(Heading{book.title, 0});
  book.blocks.emplace_back(pieces_table(job));
  book.blocks.emplace_back(Heading{"Buying list"});
  book.blocks.emplace_back(buying_table(job, sawing, options.length));
  book.blocks.emplace_back(Heading{"Parts"});
  book.blocks.emplace_back(parts_table(job, options.length));
  book.blocks.emplace_back(Heading{"Sawing"});
  book.blocks.emplace_back(Paragraph{std::string(saw_caution), true});
  add_sawing(book, job, sawing, style);
  return book;
}

Reading<std::vector<File>> sawing_files_of(const Job& job, const Sawing& sawing,
                                           const BookOptions& options) {
  const Snapshot none;
  const ShopPlan no_plan;
  const Stage no_stage;
  const ExportOptions exports{options};
  Making making{none, no_plan, exports, no_stage};
  add_table(making, "parts", parts_table(job, options.length));
  add_table(making, "buying-list", buying_table(job, sawing, options.length));
  making.add("buying-list.json", buying_list_json(job, sawing, options.length));
  add_table(making, "hardware", hardware_table(job, options.length));
  add_sawing_lists(making, job, sawing, options.length);
  add_diagrams(making, job, sawing, {.length = options.length});
  making.add("sawing.pdf", to_pdf(sawing_book_of(job, sawing, options)));
  return std::move(making.made);
}

Reading<std::vector<File>> files_of(const Snapshot& snapshot, const ShopPlan& plan,
                                    const ExportOptions& options, const Stage& stage) {
  Making making{snapshot, plan, options, stage};
  const PlanData data = data_of(snapshot, plan);
  add_lists(making, data);
  add_drawings(making, data);
  add_edition(making, data);
  if (making.go_on("3D file for screens"))
    making.add("piece.glb", to_glb(snapshot.piece, snapshot.bodies));
  if (options.with_step && making.go_on("3D file for other programs"))
    making.add("piece.step", to_step(snapshot.piece, snapshot.bodies));
  return std::move(making.made);
}

Reading<std::vector<File>> edition_of(const Snapshot& snapshot, const ShopPlan& plan,
                                      const BookOptions& options, const Stage& stage) {
  const ExportOptions exports{options};
  Making making{snapshot, plan, exports, stage};
  add_edition(making, data_of(snapshot, plan));
  return std::move(making.made);
}

}  // namespace kw
