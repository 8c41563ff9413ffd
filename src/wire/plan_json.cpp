#include "kerfwright/wire/plan_json.h"

#include <cmath>

#include "kerfwright/planbook/lists.h"

#include "json.h"

namespace kw {
namespace {

Json document(const PlanData& data, std::string_view kind) {
  return {{"contract", contract_version}, {"kind", kind}, {"piece", data.piece->title}};
}

struct PartWriter {
  const PlanData& data;
  const Part& part;
  const LengthStyle& style;

  [[nodiscard]] Json figure(int index) const {
    if (index < 0) return nullptr;
    const ShopFigure& f = part.figures[static_cast<std::size_t>(index)];
    Json json = to_json(f.printed, style);
    json["exact_ticks"] = f.exact.in_ticks();
    return json;
  }

  [[nodiscard]] Json cut(const SawCut& c) const {
    Json json = {{"swing", c.printed_swing.in_degrees()},
                 {"tilt", c.printed_tilt.in_degrees()},
                 {"exact_swing", c.swing.in_degrees()},
                 {"exact_tilt", c.tilt.in_degrees()}};
    if (c.is_along) {
      json["from"] = {{"along", figure(c.from_along)}, {"across", figure(c.from_across)}};
      json["to"] = {{"along", figure(c.to_along)}, {"across", figure(c.to_across)}};
    } else {
      json["on_marked_edge"] = figure(c.on_edge);
      json["on_far_edge"] = figure(c.off_edge);
    }
    if (!c.other_way.empty()) json["other_way"] = c.other_way;
    return json;
  }

  [[nodiscard]] Json mark(const Mark& m) const {
    Json openings = Json::array();
    for (const Opening& o : m.openings) {
      openings.push_back({{"on", name_of(o.side)},
                          {"near", {figure(o.near_from), figure(o.near_to)}},
                          {"far", {figure(o.far_from), figure(o.far_to)}},
                          {"across", {figure(o.across_from), figure(o.across_to)}}});
    }
    return {{"what", name_of(m.kind)},
            {"for", m.partner},
            {"openings", openings},
            {"depth", figure(m.depth)},
            {"depth_from", name_of(m.depth_from)},
            {"swing", m.printed_swing.in_degrees()},
            {"tilt", m.printed_tilt.in_degrees()}};
  }

  [[nodiscard]] Json hole(const HoleMark& h) const {
    return {{"what", name_of(h.kind)},    {"in", name_of(h.side)},
            {"along", figure(h.along)},   {"across", figure(h.across)},
            {"depth", figure(h.depth)},   {"diameter", to_json(h.diameter, style)},
            {"lean", h.lean.in_degrees()}};
  }

  template <class List, class Write>
  static Json each(const List& list, Write write) {
    Json all = Json::array();
    for (const auto& item : list) all.push_back(write(item));
    return all;
  }

  [[nodiscard]] Json write() const {
    Json boards = Json::array();
    for (const Member& member : part.members) {
      const Body& body = (*data.bodies)[static_cast<std::size_t>(member.body)];
      boards.push_back({{"id", data.piece->boards[static_cast<std::size_t>(body.board)].id},
                        {"hand", member.lie.is_mirrored ? "right" : "left"}});
    }
    return {{"part", part.letter},
            {"name", part.name},
            {"count", part.members.size()},
            {"left", part.left},
            {"right", part.right},
            {"stock", data.piece->stocks[static_cast<std::size_t>(part.stock)].name},
            {"strips", part.strips},
            {"thickness", figure(part.thickness)},
            {"width", figure(part.width)},
            {"length", figure(part.length)},
            {"ends", each(part.ends, [&](const SawCut& c) { return cut(c); })},
            {"cuts", each(part.cuts, [&](const SawCut& c) { return cut(c); })},
            {"marks", each(part.marks, [&](const Mark& m) { return mark(m); })},
            {"holes", each(part.holes, [&](const HoleMark& h) { return hole(h); })},
            {"needs_template", part.is_curved},
            {"boards", boards}};
  }
};

}  // namespace

std::string cut_list_json(const PlanData& data, const LengthStyle& style) {
  Json json = document(data, "cut-list");
  json["rule"] = to_json(data.piece->rule, style);
  json["parts"] = Json::array();
  for (const Part& part : data.cut_list->parts)
    json["parts"].push_back(PartWriter{data, part, style}.write());
  return dump(json);
}

std::string closing_json(const PlanData& data) {
  const Closing& c = *data.closing;
  Json json = document(data, "closing-check");
  json["closes"] = c.closes;
  json["worst_gap_mm"] = c.worst_gap;
  json["worst_clash_mm"] = c.worst_clash;
  json["naive_gap_mm"] = c.naive_gap;
  json["naive_clash_mm"] = c.naive_clash;
  json["rounded_otherwise"] = c.chosen;
  json["joints"] = Json::array();
  for (const JointClosing& j : c.joints) {
    const auto id = [&](int body) {
      return data.piece
          ->boards[static_cast<std::size_t>((*data.bodies)[static_cast<std::size_t>(body)].board)]
          .id;
    };
    Json row = {{"a", id(j.a)}, {"b", id(j.b)}, {"gap_mm", j.gap}, {"clash_mm", j.clash}};
    row["joint"] = j.joint < 0 ? Json(nullptr)
                               : Json(data.piece->joints[static_cast<std::size_t>(j.joint)].id);
    json["joints"].push_back(std::move(row));
  }
  return dump(json);
}

std::string findings_json(const Resolved& piece, const std::vector<Finding>& findings) {
  Json json = {{"kind", "checks"},
               {"contract", contract_version},
               {"piece", piece.title},
               {"caution", findings_caution()},
               {"findings", Json::array()}};
  for (const Finding& f : findings) {
    Json boards = Json::array();
    for (const int board : f.boards)
      if (board >= 0) boards.push_back(piece.boards[static_cast<std::size_t>(board)].id);
    Json row = {{"area", name_of(f.area)}, {"verdict", name_of(f.verdict)},
                {"check", f.check},        {"message", f.message},
                {"number", f.number},      {"limit", f.limit},
                {"source", f.source},      {"assumption", f.assumption},
                {"change", f.change},      {"boards", boards},
                {"ratio", f.ratio},        {"shares", f.shares}};
    row["joint"] =
        f.joint < 0 ? Json(nullptr) : Json(piece.joints[static_cast<std::size_t>(f.joint)].id);
    json["findings"].push_back(std::move(row));
  }
  return dump(json);
}

std::string diagnostics_json(const Text& text, const Diagnostics& diagnostics) {
  Json json = Json::array();
  const auto place = [&](Span at) {
    const Position from = position_of(text, at.begin);
    const Position to = position_of(text, at.end);
    return Json{{"line", from.line},       {"column", from.column}, {"end_line", to.line},
                {"end_column", to.column}, {"begin", at.begin},     {"end", at.end}};
  };
  for (const Diagnostic& d : diagnostics) {
    Json notes = Json::array();
    for (const Note& note : d.notes)
      notes.push_back({{"at", place(note.at)}, {"message", note.message}});
    const std::string_view severity = d.severity == Severity::error     ? "error"
                                      : d.severity == Severity::warning ? "warning"
                                                                        : "advice";
    json.push_back({{"code", d.code},
                    {"severity", severity},
                    {"at", place(d.at)},
                    {"message", d.message},
                    {"notes", notes},
                    {"hint", d.hint}});
  }
  return dump(json);
}

}  // namespace kw
