#include "kerfwright/planbook/lists.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>

namespace kw {
namespace {

std::string as_text(Length length, const LengthStyle& style) {
  return format_length(length, style);
}

const ResolvedStock& stock_of(const PlanData& data, int stock) {
  return data.piece->stocks[static_cast<std::size_t>(stock)];
}

std::string printed(const Part& part, int figure, const LengthStyle& style) {
  return figure < 0 ? "" : as_text(part.figures[static_cast<std::size_t>(figure)].printed, style);
}

std::string angle_text(Angle angle) {
  return format_angle(Angle::degrees(std::abs(angle.in_degrees())));
}

std::string end_text(const Part& part, std::size_t end) {
  if (end >= part.ends.size() || part.ends[end].feature < 0) return "see drawing";
  const SawCut& cut = part.ends[end];
  const bool is_square = std::abs(cut.printed_swing.in_degrees()) < 0.05 &&
                         std::abs(cut.printed_tilt.in_degrees()) < 0.05;
  if (is_square) return "square";
  std::string text = angle_text(cut.printed_swing);
  if (std::abs(cut.printed_tilt.in_degrees()) >= 0.05) text += " / " + angle_text(cut.printed_tilt);
  return text;
}

std::string count_of(const Part& part) {
  return part.right > 0 ? fmt::format("{} L + {} R", part.left, part.right)
                        : fmt::format("{}", part.left);
}

void add_cut_row(Table& table, const Part& part, const std::string& what, const SawCut& cut,
                 const LengthStyle& style) {
  const bool is_along = cut.is_along && cut.from_along >= 0;
  table.rows.push_back(
      {part.letter, what, "", printed(part, is_along ? cut.from_along : cut.on_edge, style),
       printed(part, is_along ? cut.to_along : cut.off_edge, style),
       is_along
           ? printed(part, cut.from_across, style) + " to " + printed(part, cut.to_across, style)
           : "",
       "", angle_text(cut.printed_swing), angle_text(cut.printed_tilt)});
}

void add_mark_rows(Table& table, const Part& part, const LengthStyle& style) {
  for (const Mark& mark : part.marks) {
    for (const Opening& o : mark.openings) {
      const bool has_near = o.near_from >= 0;
      const std::string across = o.across_from < 0 ? ""
                                                   : printed(part, o.across_from, style) + " to " +
                                                         printed(part, o.across_to, style);
      table.rows.push_back({part.letter, std::string(name_of(mark.kind)),
                            std::string(name_of(o.side)),
                            printed(part, has_near ? o.near_from : o.far_from, style),
                            printed(part, has_near ? o.near_to : o.far_to, style), across,
                            printed(part, mark.depth, style), angle_text(mark.printed_swing),
                            angle_text(mark.printed_tilt)});
    }
  }
}

void add_hole_rows(Table& table, const Part& part, const LengthStyle& style) {
  for (const HoleMark& hole : part.holes) {
    table.rows.push_back(
        {part.letter,
         fmt::format("{} {}", name_of(hole.kind), as_text(bit_for(hole, style.unit), style)),
         std::string(name_of(hole.side)), printed(part, hole.along, style), "",
         printed(part, hole.across, style),
         hole.depth < 0 ? "through" : printed(part, hole.depth, style), "", angle_text(hole.lean)});
  }
}

}  // namespace

Table cut_list_table(const PlanData& data, const LengthStyle& style) {
  Table table{
      .heads = {"part", "name", "count", "thick", "wide", "long", "hook end", "far end", "from"},
      .aligns = {Align::left, Align::left, Align::right, Align::right, Align::right, Align::right,
                 Align::left, Align::left, Align::left}};
  for (const Part& part : data.cut_list->parts) {
    const auto exact = [&](int figure) {
      return as_text(part.figures[static_cast<std::size_t>(figure)].exact, style);
    };
    const auto& stock = stock_of(data, part.stock);
    std::string from = stock.sold_as;
    if (part.strips > 1) from += fmt::format(", {} glued", part.strips);
    table.rows.push_back({part.letter, part.name, count_of(part), exact(part.thickness),
                          exact(part.width), printed(part, part.length, style), end_text(part, 0),
                          end_text(part, 1), from});
  }
  return table;
}

Table marks_table(const PlanData& data, const LengthStyle& style) {
  Table table{.heads = {"part", "what", "on", "from hook", "to", "across", "deep", "swing", "tilt"},
              .aligns = {Align::left, Align::left, Align::left, Align::right, Align::right,
                         Align::right, Align::right, Align::right, Align::right}};
  for (const Part& part : data.cut_list->parts) {
    for (std::size_t i = 0; i < part.ends.size(); ++i) {
      if (part.ends[i].feature >= 0)
        add_cut_row(table, part, i == 0 ? "hook end" : "far end", part.ends[i], style);
    }
    for (const SawCut& cut : part.cuts)
      add_cut_row(table, part,
                  !cut.is_along         ? "cut"
                  : is_bevel(part, cut) ? "bevel"
                                        : "taper",
                  cut, style);
    add_mark_rows(table, part, style);
    add_hole_rows(table, part, style);
  }
  return table;
}

Table setups_table(const PlanData& data, const LengthStyle& style) {
  Table table{.heads = {"machine", "swing", "tilt", "set to", "part", "cut", "stop", "count"},
              .aligns = {Align::left, Align::right, Align::right, Align::right, Align::left,
                         Align::left, Align::right, Align::right}};
  for (const Setup& setup : *data.setups) {
    bool is_first = true;
    for (const SetupCut& cut : setup.cuts) {
      table.rows.push_back(
          {is_first ? std::string(name_of(setup.machine)) : "",
           is_first ? angle_text(setup.swing) : "", is_first ? angle_text(setup.tilt) : "",
           is_first && setup.fence > Length() ? as_text(setup.fence, style) : "",
           data.cut_list->parts[static_cast<std::size_t>(cut.part)].letter, cut.what,
           cut.stop > Length() ? as_text(cut.stop, style) : "", fmt::format("{}", cut.count)});
      is_first = false;
    }
  }
  return table;
}

Table closing_table(const PlanData& data) {
  Table table{.heads = {"joint", "between", "worst gap", "worst clash"},
              .aligns = {Align::left, Align::left, Align::right, Align::right}};
  const auto board = [&](int body) {
    return data.piece
        ->boards[static_cast<std::size_t>((*data.bodies)[static_cast<std::size_t>(body)].board)]
        .id;
  };
  const auto close = [&](double mm) {
    return mm < 0.005 ? std::string("-") : fmt::format("{:.2f} mm", mm);
  };
  for (const JointClosing& j : data.closing->joints) {
    const std::string name =
        j.joint < 0 ? "(touching)" : data.piece->joints[static_cast<std::size_t>(j.joint)].id;
    table.rows.push_back({name, board(j.a) + " and " + board(j.b), close(j.gap), close(j.clash)});
  }
  return table;
}

}  // namespace kw
