// What a job buys, and how much of it ends in its pieces.
#include <algorithm>
#include <map>

#include "kerfwright/parts/sawing.h"

namespace kw {
namespace {

double section_area(const Section& section) {
  return section.thickness.in_mm() * section.width.in_mm();
}

int boards_for(int strips, int strips_per_board) {
  return (strips + strips_per_board - 1) / strips_per_board;
}

BuyLine line_for(const Job& job, const StockPlan& plan, int index, int strips) {
  const StockProblem& sp = plan.problem;
  const ResolvedStock& stock = sp.stock.stock;
  const Stock& stick = sp.problem.stocks[static_cast<std::size_t>(index)];
  const StickSource& source = sp.sources[static_cast<std::size_t>(index)];
  BuyLine line{.stock = sp.stock.name,
               .sold_as = stock.sold_as,
               .species = stock.species,
               .section = stock.bought,
               .length = stick.length,
               .count = boards_for(strips, source.rack < 0 ? sp.strips_per_board : 1),
               .is_on_hand = source.is_on_hand};
  if (source.rack >= 0) line.label = job.rack[static_cast<std::size_t>(source.rack)].label;
  if (sp.has_prices && !line.is_on_hand) line.each = stick.price;
  if (stock.nominal) line.board_feet = board_feet(*stock.nominal, line.length) * line.count;
  return line;
}

void add_sheet_lines(const Job& job, const SheetStockPlan& plan, std::vector<BuyLine>& lines) {
  const ResolvedStock& stock = plan.stock.stock;
  std::map<int, int> used;
  for (const SawnSheet& sheet : plan.plan.sheets) ++used[sheet.sheet];
  for (const auto& [index, count] : used) {
    const SheetStock& sheet = plan.problem.sheets[static_cast<std::size_t>(index)];
    const StickSource& source = plan.sources[static_cast<std::size_t>(index)];
    BuyLine line{.stock = plan.stock.name,
                 .sold_as = stock.sold_as,
                 .species = stock.species,
                 .section = {stock.bought.thickness, sheet.width},
                 .length = sheet.length,
                 .width = stock.is_sheet ? sheet.width : Length(),
                 .count = count,
                 .is_on_hand = source.is_on_hand};
    if (source.rack >= 0) line.label = job.rack[static_cast<std::size_t>(source.rack)].label;
    if (plan.has_prices && !line.is_on_hand) line.each = sheet.price;
    if (stock.nominal) line.board_feet = board_feet(*stock.nominal, line.length) * line.count;
    lines.push_back(std::move(line));
  }
}

}  // namespace

std::vector<BuyLine> buying_list_of(const Job& job, const Sawing& sawing) {
  std::vector<BuyLine> lines;
  for (const StockPlan& plan : sawing.plans) {
    std::map<int, int> strips;  // by index of the problem's stock
    for (const SawnStick& stick : plan.plan.sticks) ++strips[stick.stock];
    for (const auto& [index, count] : strips) lines.push_back(line_for(job, plan, index, count));
  }
  for (const SheetStockPlan& plan : sawing.sheets) add_sheet_lines(job, plan, lines);
  return lines;
}

std::optional<Money> to_pay(const std::vector<BuyLine>& lines) {
  Money sum;
  for (const BuyLine& line : lines) {
    if (line.is_on_hand) continue;
    if (!line.each) return std::nullopt;
    sum = sum + *line.each * line.count;
  }
  return sum;
}

std::vector<Hardware> hardware_of(const Job& job) {
  std::vector<Hardware> list;
  for (const JobPiece& p : job.pieces) {
    for (const Driven& driven : driven_in(*p.piece)) {
      const std::string& said = p.piece->joints[static_cast<std::size_t>(driven.joint)].fastener;
      const std::string name = said.empty() ? "dowel" : said;
      const auto same =
          std::find_if(list.begin(), list.end(), [&](const Hardware& h) { return h.name == name; });
      if (same == list.end()) {
        list.push_back({name, p.count});
      } else {
        same->count += p.count;
      }
    }
  }
  return list;
}

double yield_of(const Job& job, const Sawing& sawing) {
  double bought = 0;
  double used = 0;
  for (const BuyLine& line : buying_list_of(job, sawing))
    bought += section_area(line.section) * line.length.in_mm() * line.count;
  for (const JobPiece& p : job.pieces) {
    for (const Part& part : p.cut_list->parts) {
      used += part.volume.value * static_cast<double>(part.members.size()) * p.count;
    }
  }
  return bought > 0 ? used / bought : 0;
}

}  // namespace kw
