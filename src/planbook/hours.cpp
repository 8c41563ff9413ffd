#include "hours.h"

#include <cmath>
#include <fmt/core.h>

#include "kerfwright/lumber/catalogue.h"

#include "chapters.h"

namespace kw {
namespace {

struct Rate {
  Machine machine = Machine::mitre_saw;
  std::string_view what = {};
  double minutes = 0;
};

// Minutes of one person at a small shop's tools. Common practice, no published source.
constexpr double set_out_minutes = 2;  // a board: fetch, check, mark
constexpr double set_up_minutes = 5;   // a state of a machine, a trial cut with it
constexpr double joint_minutes = 3;    // bring two boards together, square, clamp
constexpr double fastener_minutes = 0.5;
constexpr double sand_minutes = 15;  // a square metre
constexpr double coat_minutes = 12;  // a square metre, brushed
constexpr Rate rates[] = {
    {Machine::rip_saw, "rips", 2},   {Machine::mitre_saw, "crosscuts", 1},
    {Machine::taper, "tapers", 4},   {Machine::notching, "notches and grooves", 8},
    {Machine::drill, "holes", 0.75}, {Machine::shaping, "curves", 10}};

}  // namespace

std::map<Machine, int> cuts_by_machine(const std::vector<Setup>& setups) {
  std::map<Machine, int> cuts;
  for (const Setup& setup : setups) {
    for (const SetupCut& cut : setup.cuts) cuts[setup.machine] += cut.count;
  }
  return cuts;
}

std::vector<Work> work_on(const PlanData& data) {
  std::vector<Work> work = {
      {"boards set out", static_cast<double>(data.bodies->size()), set_out_minutes},
      {"set-ups", static_cast<double>(data.setups->size()), set_up_minutes}};
  std::map<Machine, int> cuts = cuts_by_machine(*data.setups);
  for (const Rate& rate : rates)
    work.push_back({std::string(rate.what), static_cast<double>(cuts[rate.machine]), rate.minutes});
  work.push_back({"joints", static_cast<double>(data.piece->joints.size()), joint_minutes});
  int fasteners = 0;
  for (const Hardware& h : hardware_of(job_of(*data.piece, *data.cut_list))) fasteners += h.count;
  work.push_back({"screws and dowels", static_cast<double>(fasteners), fastener_minutes});
  const double area = area_m2(data);
  work.push_back({"square metres sanded", area, sand_minutes});
  const Finish* finish = find_finish(built_in_catalogue(), data.piece->finish);
  if (finish != nullptr)
    work.push_back({"square metres coated", area * finish->coats, coat_minutes});
  std::erase_if(work, [](const Work& w) { return w.count <= 0; });
  return work;
}

double minutes_of(const std::vector<Work>& work) {
  double sum = 0;
  for (const Work& w : work) sum += w.count * w.minutes;
  return sum;
}

std::string hours_text(double minutes) {
  const int quarters = std::max(1, static_cast<int>(std::lround(minutes / 15)));
  const int rounded = quarters > 4 ? 2 * ((quarters + 1) / 2) : quarters;
  constexpr std::string_view parts[] = {"", "1/4", "1/2", "3/4"};
  const int whole = rounded / 4;
  const std::string_view part = parts[rounded % 4];
  std::string text = "about ";
  if (whole > 0) text += fmt::format("{}{}", whole, part.empty() ? "" : " ");
  text += part;
  return text + (rounded <= 4 ? " hour" : " hours");
}

Table hours_table(const std::vector<Work>& work) {
  Table table{.heads = {"work", "count", "minutes each", "minutes"},
              .aligns = {Align::left, Align::right, Align::right, Align::right}};
  for (const Work& w : work) {
    const bool is_whole = w.count == std::floor(w.count);
    table.rows.push_back(
        {w.what, is_whole ? fmt::format("{:.0f}", w.count) : fmt::format("{:.1f}", w.count),
         fmt::format("{:g}", w.minutes), fmt::format("{:.0f}", w.count * w.minutes)});
  }
  table.rows.push_back({"together", "", "", fmt::format("{:.0f}", minutes_of(work))});
  return table;
}

}  // namespace kw
