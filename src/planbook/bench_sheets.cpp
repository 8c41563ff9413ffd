#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/planbook/editions.h"
#include "kerfwright/planbook/lists.h"

namespace kw {
namespace {

constexpr double arms_length = 1.6;  // type that is read from where one stands at the saw
constexpr double far_off = 1.8;      // and what the saw is set to, larger still

// To be ticked, one for each of equal sticks.
std::string boxes(std::size_t count) {
  std::string text;
  for (std::size_t i = 0; i < count; ++i) text += "\u2610";
  return text;
}

class BenchWriter {
 public:
  BenchWriter(const PlanData& data, const BookOptions& options)
      : data_(data), job_(job_of(*data.piece, *data.cut_list)), style_(options.length) {
    sheet_.width = text_area(options.paper).x / arms_length;  // set as large as the page is wide
    sheet_.tallest = text_area(options.paper).y * 0.4 / arms_length;
    sheet_.length = options.length;
    style_.with_mm = options.with_mm;
    book_ = {.title = data.piece->title + ": bench sheets",
             .author = data.piece->author,
             .licence = data.piece->licence,
             .buyer = options.buyer,
             .paper = options.paper,
             .type = arms_length,
             .fills = true};
  }

  Book write() {
    for (const StockPlan& plan : data_.sawing->plans) boards(plan);
    int number = 0;
    for (const Setup& setup : *data_.setups) set_up(setup, ++number);
    return std::move(book_);
  }

 private:
  template <class B>
  void add(B block) {
    book_.blocks.emplace_back(std::move(block));
  }

  // Equal sticks share a page.
  void boards(const StockPlan& plan) {
    for (const StickGroup& group : groups_of(plan.plan.sticks)) board(plan, group);
    add(Heading{fmt::format("{}: order of work at the saw", plan.problem.stock.name)});
    add(without_empty_columns(sequence_table(job_, plan, style_)));
    add(NewPage{});
  }

  void board(const StockPlan& plan, const StickGroup& group) {
    const SawnStick& stick = plan.plan.sticks[static_cast<std::size_t>(group.sticks.front())];
    const std::size_t count = group.sticks.size();
    const Stock& bought = plan.problem.problem.stocks[static_cast<std::size_t>(stick.stock)];
    add(Heading{fmt::format("{}: {} x {}, {} long", plan.problem.stock.name, count,
                            plan.problem.stock.stock.sold_as,
                            format_length(bought.length, style_))});
    StockPlan one = plan;
    one.plan.sticks = {stick};
    one.sequence = {};
    for (Sheet& sheet : sawing_sheets(job_, one, "", sheet_)) add(std::move(sheet));
    Table table{.heads = {"cut", "part", "name", "long", "from the end", "done"},
                .aligns = {Align::right, Align::left, Align::left, Align::right, Align::right}};
    int number = 0;
    for (const Placed& placed : stick.parts) {
      const PartRef ref = plan.problem.part_of_demand[static_cast<std::size_t>(placed.demand)];
      const Part& part = part_of(job_, ref);
      const auto& demand = plan.problem.problem.demands[static_cast<std::size_t>(placed.demand)];
      table.rows.push_back(
          {fmt::format("{}", ++number), label_of(job_, ref), part.name,
           format_length(part.figures[static_cast<std::size_t>(part.length)].printed, style_),
           format_length(round_to(placed.from + demand.length, data_.cut_list->rule), style_),
           boxes(count)});
    }
    add(std::move(table));
    add(
        Paragraph{"The position is where the middle line of the part ends; each part is measured "
                  "afresh from its own hook end before it is cut."});
    add(NewPage{});
  }

  void set_up(const Setup& setup, int number) {
    std::vector<Setup> one = {setup};
    PlanData data = data_;
    data.setups = &one;
    add(Heading{fmt::format("Set-up {}: {}", number, name_of(setup.machine))});
    Table table = tickets_table(data, style_);
    add(Paragraph{.text = how_it_is_set(table), .type = far_off});
    constexpr std::size_t told = 4;  // columns: the machine and how it is set
    for (auto& row : table.rows) std::fill_n(row.begin(), told, "");
    add(without_empty_columns(std::move(table)));
    add(NewPage{});
  }

  // "swing 12 deg    tilt 0 deg    set to 3/8"", from the first row and its heads.
  static std::string how_it_is_set(const Table& table) {
    std::string words;
    for (std::size_t c = 1; c < 4 && !table.rows.empty(); ++c) {
      const std::string& cell = table.rows.front()[c];
      if (cell.empty()) continue;
      words += fmt::format("{}{} {}", words.empty() ? "" : "    ", table.heads[c], cell);
    }
    return words;
  }

  const PlanData& data_;
  Job job_;
  LengthStyle style_;
  SheetStyle sheet_ = {};
  Book book_ = {};
};

}  // namespace

Book bench_sheets_of(const PlanData& data, const BookOptions& options) {
  return BenchWriter(data, options).write();
}

}  // namespace kw
