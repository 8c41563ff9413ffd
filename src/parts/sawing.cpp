#include "kerfwright/parts/sawing.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace kw {
namespace {

double section_area(const Section& section) {
  return section.thickness.in_mm() * section.width.in_mm();
}

std::vector<SheetNeed> sheet_needs(const Resolved& piece, const CutList& list) {
  std::map<int, double> areas;
  for (const Part& part : list.parts) {
    if (!piece.stocks[static_cast<std::size_t>(part.stock)].is_sheet) continue;
    areas[part.stock] += part.size.x * part.size.y * static_cast<double>(part.members.size());
  }
  std::vector<SheetNeed> needs;
  for (const auto& [stock, area] : areas) {
    const auto& s = piece.stocks[static_cast<std::size_t>(stock)];
    const double sheet = s.bought.width.in_mm() * s.sheet_length.in_mm();
    needs.push_back({stock, {area}, sheet > 0 ? static_cast<int>(std::ceil(area / sheet)) : 0});
  }
  return needs;
}

int boards_for(int strips, int strips_per_board) {
  return (strips + strips_per_board - 1) / strips_per_board;
}

}  // namespace

Reading<Sawing> saw(const Resolved& piece, const CutList& cut_list, const Effort& effort) {
  Reading<Sawing> reading;
  reading.value.sheets = sheet_needs(piece, cut_list);
  auto problems = problems_for(piece, cut_list);
  Effort each = effort;
  each.seconds = effort.seconds / std::max<double>(1, static_cast<double>(problems.size()));
  for (StockProblem& problem : problems) {
    Diagnostics faults = validate(problem.problem);
    if (!has_errors(faults)) {
      auto plan = keep(optimise(problem.problem, each), faults);
      if (plan) reading.value.plans.push_back({std::move(problem), std::move(*plan)});
    }
    for (Diagnostic& fault : faults) {
      fault.at = piece.stocks[static_cast<std::size_t>(problem.stock)].at;
      reading.diagnostics.push_back(std::move(fault));
    }
  }
  return reading;
}

std::vector<BuyLine> buying_list_of(const Resolved& piece, const Sawing& sawing) {
  std::vector<BuyLine> lines;
  for (const StockPlan& sp : sawing.plans) {
    const auto& stock = piece.stocks[static_cast<std::size_t>(sp.problem.stock)];
    std::map<int, int> strips;  // by index of the problem's stock
    for (const SawnStick& stick : sp.plan.sticks) ++strips[stick.stock];
    for (const auto& [index, count] : strips) {
      const Stock& stick = sp.problem.problem.stocks[static_cast<std::size_t>(index)];
      BuyLine line{.stock = sp.problem.stock,
                   .length = stick.length,
                   .count = boards_for(count, sp.problem.strips_per_board),
                   .is_on_hand = stick.count.has_value()};
      if (sp.problem.has_prices && !line.is_on_hand) line.each = stick.price;
      if (stock.nominal) line.board_feet = board_feet(*stock.nominal, line.length) * line.count;
      lines.push_back(line);
    }
  }
  return lines;
}

std::vector<Hardware> hardware_of(const Resolved& piece) {
  std::vector<Hardware> list;
  for (const ResolvedJoint& joint : piece.joints) {
    std::string name = joint.fastener;
    if (name.empty() && joint.kind == JointKind::dowel) name = "dowel";
    if (name.empty()) continue;
    const int count = joint.count.value_or(1);
    const auto same =
        std::find_if(list.begin(), list.end(), [&](const Hardware& h) { return h.name == name; });
    if (same == list.end()) {
      list.push_back({name, count});
    } else {
      same->count += count;
    }
  }
  return list;
}

double yield_of(const Resolved& piece, const CutList& cut_list, const Sawing& sawing) {
  double bought = 0;
  double used = 0;
  for (const BuyLine& line : buying_list_of(piece, sawing)) {
    bought += section_area(piece.stocks[static_cast<std::size_t>(line.stock)].bought) *
              line.length.in_mm() * line.count;
  }
  for (const Part& part : cut_list.parts) {
    if (piece.stocks[static_cast<std::size_t>(part.stock)].is_sheet) continue;
    used += part.volume.value * static_cast<double>(part.members.size());
  }
  return bought > 0 ? used / bought : 0;
}

}  // namespace kw
