// The sections of a view about boards, joints and parts.
#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/measure/text.h"

#include "view_writing.h"

namespace kw::wire {
namespace {

std::string printed(const Part& part, int figure, LengthUnit unit) {
  return figure < 0 ? "" : format_length(at(part.figures, figure).printed, {.unit = unit});
}

std::string angle_words(Angle angle) {
  return format_angle(Angle::degrees(std::abs(angle.in_degrees())));
}

bool is_square(Angle angle) {
  return std::abs(angle.in_degrees()) < 0.05;
}

std::string angles_words(Angle swing, Angle tilt) {
  if (is_square(swing) && is_square(tilt)) return "square";
  std::string words;
  if (!is_square(swing)) words = fmt::format("swing {}", angle_words(swing));
  if (!is_square(tilt))
    words += fmt::format("{}tilt {}", words.empty() ? "" : ", ", angle_words(tilt));
  return words;
}

const std::string& board_id(const ViewData& data, int body) {
  return at(data.piece->boards, at(*data.bodies, body).board).id;
}

std::string cut_words(const Part& part, const SawCut& cut, LengthUnit unit) {
  const std::string angles = angles_words(cut.printed_swing, cut.printed_tilt);
  if (!cut.is_along)
    return fmt::format("cut at {} on the marked edge, {}", printed(part, cut.on_edge, unit),
                       angles);
  return fmt::format("{} from {} across at {} to {} across at {}",
                     is_bevel(part, cut) ? "bevel" : "taper", printed(part, cut.from_across, unit),
                     printed(part, cut.from_along, unit), printed(part, cut.to_across, unit),
                     printed(part, cut.to_along, unit));
}

std::string mark_words(const Part& part, const Mark& mark, const Opening& opening,
                       LengthUnit unit) {
  const bool has_near = opening.near_from >= 0;
  std::string words =
      fmt::format("{} on the {}", kw::name_of(mark.kind), kw::name_of(opening.side));
  const int from = has_near ? opening.near_from : opening.far_from;
  const int to = has_near ? opening.near_to : opening.far_to;
  if (from >= 0 && to >= 0)
    words += fmt::format(" from {} to {}", printed(part, from, unit), printed(part, to, unit));
  if (opening.across_from >= 0)
    words += fmt::format(", across {} to {}", printed(part, opening.across_from, unit),
                         printed(part, opening.across_to, unit));
  words += mark.depth < 0 ? ", right through"
                          : fmt::format(", {} deep", printed(part, mark.depth, unit));
  if (!is_square(mark.printed_swing) || !is_square(mark.printed_tilt))
    words += ", " + angles_words(mark.printed_swing, mark.printed_tilt);
  return words;
}

std::string hole_words(const Part& part, const HoleMark& hole, LengthUnit unit) {
  std::string words =
      fmt::format("{} {} in the {} at {}, {} across", kw::name_of(hole.kind),
                  format_length(bit_for(hole, unit), {.unit = unit}), kw::name_of(hole.side),
                  printed(part, hole.along, unit), printed(part, hole.across, unit));
  words += hole.depth < 0 ? ", right through"
                          : fmt::format(", {} deep", printed(part, hole.depth, unit));
  if (!is_square(hole.lean)) words += fmt::format(", leaning {}", angle_words(hole.lean));
  return words;
}

void write_part(JsonWriter& json, const ViewData& data, const Part& part) {
  const LengthUnit unit = data.piece->unit;
  json.object().key("letter").text(part.letter).key("name").text(part.name);
  json.key("count").number(part.members.size()).key("left").number(part.left);
  json.key("right").number(part.right);
  json.key("stock").text(at(data.piece->stocks, part.stock).name);
  json.key("strips").number(part.strips);
  json.key("thickness");
  write_figure(json, at(part.figures, part.thickness).printed, unit);
  json.key("width");
  write_figure(json, at(part.figures, part.width).printed, unit);
  json.key("length");
  write_figure(json, at(part.figures, part.length).printed, unit);
  json.key("ends").array().text(end_words(part, 0)).text(end_words(part, 1)).end();
  json.key("boards").array();
  for (const Member& member : part.members) json.text(board_id(data, member.body));
  json.end().key("marks").texts(marks_of(part, unit));
  json.key("needs_template").truth(part.is_curved).end();
}

template <class List>
const auto* declared(const List& list, Span at) {
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const auto& decl) { return decl.name.at == at; });
  return found == list.end() ? nullptr : &*found;
}

std::optional<std::vector<std::string>> path_in(const Scope& scope, Span at) {
  if (const auto* board = declared(scope.boards, at))
    return std::vector<std::string>{"board", board->name.text};
  if (const auto* panel = declared(scope.panels, at))
    return std::vector<std::string>{"panel", panel->name.text};
  return std::nullopt;
}

}  // namespace

std::vector<std::string> path_of_board(const ViewData& data, const ResolvedBoard& board) {
  if (auto path = path_in(data.document->top, board.at)) return *std::move(path);
  for (const AssemblyDecl& assembly : data.document->assemblies) {
    auto path = path_in(assembly.scope, board.at);
    if (!path) continue;
    path->insert(path->begin(), {"assembly", assembly.name.text});
    return *std::move(path);
  }
  return {"board", board.made_from};
}

std::string_view name_of(JointKind kind) {
  constexpr std::array<std::string_view, 14> names = {
      "butt",   "mitre", "half-lap", "notch",        "housing",  "rabbet", "groove",
      "bridle", "tenon", "dowel",    "pocket-screw", "toe-nail", "screw",  "glue"};
  return names[static_cast<std::size_t>(kind)];
}

std::string words_of(const Resolved& piece, const ResolvedJoint& joint) {
  std::string words = fmt::format("{} of {}", name_of(joint.kind), at(piece.boards, joint.a).id);
  if (joint.b >= 0) words += fmt::format(" and {}", at(piece.boards, joint.b).id);
  if (!joint.fastener.empty())
    words += fmt::format(", {} {}", joint.count.value_or(2), joint.fastener);
  if (!joint.glue.empty()) words += fmt::format(", {} glue", joint.glue);
  return words;
}

std::vector<std::string> path_of_joint(const ViewData& data, const ResolvedJoint& joint) {
  if (const auto* decl = declared(data.document->top.joints, joint.at))
    return {"joint", decl->name.text};
  for (const AssemblyDecl& assembly : data.document->assemblies)
    if (const auto* decl = declared(assembly.scope.joints, joint.at))
      return {"assembly", assembly.name.text, "joint", decl->name.text};
  return {};
}

void write_joint(JsonWriter& json, const ViewData& data, const ResolvedJoint& joint) {
  json.object().key("id").text(joint.id).key("path");
  if (const auto path = path_of_joint(data, joint); !path.empty())
    write_path(json, path);
  else
    json.null();
  json.key("kind").text(name_of(joint.kind)).key("boards").array();
  json.text(at(data.piece->boards, joint.a).id);
  if (joint.b >= 0) json.text(at(data.piece->boards, joint.b).id);
  json.end().key("words").text(words_of(*data.piece, joint)).end();
}

std::string end_words(const Part& part, std::size_t end) {
  if (end >= part.ends.size() || part.ends[end].feature < 0) return "see drawing";
  const SawCut& cut = part.ends[end];
  std::string words = angles_words(cut.printed_swing, cut.printed_tilt);
  if (!cut.other_way.empty()) words += "; " + cut.other_way;
  return words;
}

std::vector<std::string> marks_of(const Part& part, LengthUnit unit) {
  std::vector<std::string> words;
  for (const SawCut& cut : part.cuts) words.push_back(cut_words(part, cut, unit));
  for (const Mark& mark : part.marks)
    for (const Opening& opening : mark.openings)
      words.push_back(mark_words(part, mark, opening, unit));
  for (const HoleMark& hole : part.holes) words.push_back(hole_words(part, hole, unit));
  return words;
}

std::string joints_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const ResolvedJoint& joint : data.piece->joints) write_joint(json, data, joint);
  json.end();
  return json.take();
}

std::string clashes_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const Clash& clash : *data.clashes) {
    const std::string &a = board_id(data, clash.a), &b = board_id(data, clash.b);
    json.object().key("boards").array().text(a).text(b).end();
    json.key("low").point(clash.low).key("high").point(clash.high);
    json.key("words").text(fmt::format("{} and {} want the same room", a, b)).end();
  }
  json.end();
  return json.take();
}

std::string parts_json(const ViewData& data) {
  JsonWriter json;
  json.array();
  for (const Part& part : data.cut_list->parts) write_part(json, data, part);
  json.end();
  return json.take();
}

std::string totals_json(const ViewData& data) {
  const Weight weight = weight_of(*data.piece, *data.bodies);
  const LengthUnit unit = data.piece->unit;
  Vec3 low = {}, high = {};
  bool is_first = true;
  for (std::size_t i = 0; i < data.bodies->size(); ++i) {
    for (const Vec3& local : (*data.meshes)[i]->points) {
      const Vec3 p = (*data.bodies)[i].frame.to_world(local);
      low = is_first ? p : Vec3{std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
      high =
          is_first ? p : Vec3{std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
      is_first = false;
    }
  }
  JsonWriter json;
  json.object().key("boards").number(data.bodies->size());
  json.key("parts").number(data.cut_list->parts.size());
  json.key("joints").number(data.piece->joints.size());
  const bool is_inch = unit == LengthUnit::inch;
  const double shown = is_inch ? weight.mass.value / kg_per_pound : weight.mass.value;
  json.key("mass").object().key("text").text(
      fmt::format("{:.1f} {}", shown, is_inch ? "lb" : "kg"));
  json.key("value").number(weight.mass.value).end();
  json.key("centre").point(weight.centre).key("low").point(low).key("high").point(high);
  json.key("size").array();
  for (const double mm : {high.x - low.x, high.y - low.y, high.z - low.z})
    write_figure(json, round_to(Length::mm(mm), data.piece->rule), unit);
  json.end().key("without_species").number(weight.without_density).end();
  return json.take();
}

}  // namespace kw::wire
