#include "chapters.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

#include "kerfwright/lumber/catalogue.h"

#include "hours.h"

namespace kw {
namespace {

constexpr double m2_per_mm2 = 1e-6;
constexpr double m2_per_square_foot = 0.09290304;     // by definition of the inch
constexpr double litres_per_ounce = 0.0295735295625;  // US fluid ounce, 231 in^3 / 128

std::string size_text(const NamedValue& size, const PlanData& data, const LengthStyle& style) {
  if (size.value.dimension == an_angle) return format_angle(Angle::degrees(size.value.amount));
  if (size.value.dimension != a_length && !size.value.is_bare) return "";
  const auto length = to_length(size.value, data.piece->unit, size.at);
  return length ? format_length(*length, style) : "";
}

std::string mass_text(const PlanData& data) {
  const Weight weight = weight_of(*data.piece, *data.bodies);
  const int without = weight.without_density;
  if (without == static_cast<int>(data.bodies->size())) return "not known: the wood is not named";
  std::string text = fmt::format("{:.1f} kg ({:.1f} lb) at 12 % moisture", weight.mass.value,
                                 weight.mass.value / kg_per_pound);
  if (without > 0) {
    text += fmt::format(", without {} {} whose wood is not named", without,
                        without == 1 ? "board" : "boards");
  }
  return text;
}

// "34 crosscuts, 8 notches, 52 holes": what the set-ups count.
std::string work_text(const PlanData& data) {
  std::map<Machine, int> counts = cuts_by_machine(*data.setups);
  constexpr std::pair<Machine, std::pair<std::string_view, std::string_view>> words[] = {
      {Machine::rip_saw, {"rip", "rips"}},
      {Machine::mitre_saw, {"crosscut", "crosscuts"}},
      {Machine::taper, {"taper", "tapers"}},
      {Machine::notching, {"notch or groove", "notches and grooves"}},
      {Machine::drill, {"hole", "holes"}},
      {Machine::shaping, {"curve", "curves"}}};
  std::string text;
  for (const auto& [machine, word] : words) {
    const int count = counts[machine];
    if (count == 0) continue;
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count,
                        count == 1 ? word.first : word.second);
  }
  return fmt::format("{}; {} set-ups", text, data.setups->size());
}

std::set<Length> bits_for(const PlanData& data, LengthUnit unit) {
  std::set<Length> bits;
  for (const Part& part : data.cut_list->parts) {
    for (const HoleMark& hole : part.holes) bits.insert(bit_for(hole, unit));
  }
  return bits;
}

}  // namespace

std::string sentence(std::string words) {
  if (!words.empty() && words.back() != '.') words += '.';
  return words;
}

std::string quoted(const std::string& words) {
  std::string out;
  bool is_open = false;
  for (const char c : words) {
    if (c != '`') {
      out += c;
      continue;
    }
    out += is_open ? "\u201d" : "\u201c";
    is_open = !is_open;
  }
  return out;
}

std::vector<std::string> wood_cautions(const PlanData& data) {
  std::set<std::string> names;
  for (const ResolvedStock& stock : data.piece->stocks) {
    if (!stock.species.empty()) names.insert(stock.species);
  }
  std::vector<std::string> cautions;
  for (const std::string& name : names) {
    const Species* species = find_species(built_in_catalogue(), name);
    if (species == nullptr) continue;
    std::string all;
    for (const std::string& caution : species->cautions) all += " " + sentence(caution);
    if (!all.empty()) cautions.push_back(species->name + ":" + all);
  }
  return cautions;
}

Table facts_table(const PlanData& data, const LengthStyle& style) {
  const Resolved& piece = *data.piece;
  Table table{.heads = {"fact", "value"}};
  for (const NamedValue& size : piece.sizes) {
    const std::string value = size_text(size, data, style);
    if (value.empty()) continue;
    table.rows.push_back({size.name + (size.note.empty() ? "" : " (" + size.note + ")"), value});
  }
  table.rows.push_back({"boards in the piece", fmt::format("{}, of {} kinds", data.bodies->size(),
                                                           data.cut_list->parts.size())});
  table.rows.push_back({"mass", mass_text(data)});
  table.rows.push_back({"work", work_text(data)});
  table.rows.push_back({"time", hours_text(minutes_of(work_on(data))) +
                                    " of one person, by the assumptions of the plan"});
  table.rows.push_back(
      {"wood bought that ends in the piece",
       fmt::format("{:.0f} %", 100 * yield_of(job_of(piece, *data.cut_list), *data.sawing))});
  table.rows.push_back({"marks are rounded to", format_length(piece.rule, style)});
  return table;
}

std::string tools_for(const PlanData& data, const LengthStyle& style) {
  std::vector<std::string> tools = {"Tape measure, square and pencil"};
  std::set<Machine> machines;
  for (const Setup& setup : *data.setups) machines.insert(setup.machine);
  constexpr std::pair<Machine, std::string_view> needed[] = {
      {Machine::rip_saw, "a saw with a rip fence"},
      {Machine::mitre_saw,
       "a mitre saw, or a hand saw and a mitre box that can be set to the angles"},
      {Machine::taper, "a taper jig, or a hand saw and a plane"},
      {Machine::notching, "saw and chisel, or a router, for notches and grooves"},
      {Machine::shaping, "a jig saw or band saw for curves"}};
  for (const auto& [machine, words] : needed) {
    if (machines.contains(machine)) tools.emplace_back(words);
  }
  std::string bits;
  for (const Length bit : bits_for(data, style.unit))
    bits += (bits.empty() ? "" : ", ") + format_length(bit, style);
  if (!bits.empty()) tools.push_back("drill with bits " + bits);
  const auto& joints = data.piece->joints;
  const auto is_glued = [](const ResolvedJoint& j) { return !j.glue.empty(); };
  const auto is_screwed = [](const ResolvedJoint& j) {
    return !j.fastener.empty() && j.kind != JointKind::dowel;
  };
  if (std::any_of(joints.begin(), joints.end(), is_screwed))
    tools.emplace_back("driver for the screws");
  if (std::any_of(joints.begin(), joints.end(), is_glued)) tools.emplace_back("clamps");
  return fmt::format("{}.", fmt::join(tools, "; "));
}

double area_m2(const PlanData& data) {
  double area = 0;
  for (const Body& body : *data.bodies) area += body.shape->area.value;
  return area * m2_per_mm2;
}

std::vector<std::string> finishing(const PlanData& data) {
  const Finish* finish = find_finish(built_in_catalogue(), data.piece->finish);
  if (finish == nullptr) return {};
  const double area = area_m2(data);
  std::vector<std::string> lines = {fmt::format(
      "{}, {} coats, on {:.2f} m2 ({:.0f} sq ft): all faces of all boards, those that meet too.",
      finish->name, finish->coats, area, area / m2_per_square_foot)};
  const double high = finish->coverage_m2_per_litre_high.value_or(0);
  const double low = finish->coverage_m2_per_litre_low.value_or(0);
  if (low > 0 && high > 0) {
    lines.push_back(
        fmt::format("That takes {:.2f} to {:.2f} litres ({:.1f} to {:.1f} US fluid ounces).",
                    area * finish->coats / high, area * finish->coats / low,
                    area * finish->coats / high / litres_per_ounce,
                    area * finish->coats / low / litres_per_ounce));
  }
  lines.push_back(
      fmt::format("Use: {}. The label of your finish goes before these figures.", finish->use));
  return lines;
}

}  // namespace kw
