// Set-ups as they are worked through: the saw set once, one stop after the other, and all parts
// that are cut at it; the bit put in once, and the holes of one part after the other.
#include <algorithm>
#include <fmt/format.h>

#include "kerfwright/planbook/lists.h"

namespace kw {
namespace {

// What is done without anything being set anew: at one stop, or on one part.
struct Task {
  std::string what = {};
  std::vector<SetupCut> cuts = {};
};

std::vector<Task> tasks_of(const Setup& setup) {
  const bool is_drilled = setup.machine == Machine::drill;
  const auto belongs = [&](const Task& task, const SetupCut& cut) {
    const SetupCut& first = task.cuts.front();
    return task.what == cut.what && (is_drilled ? first.part == cut.part : first.stop == cut.stop);
  };
  std::vector<Task> tasks;
  for (const SetupCut& cut : setup.cuts) {
    const auto task =
        std::find_if(tasks.begin(), tasks.end(), [&](const Task& t) { return belongs(t, cut); });
    if (task == tasks.end()) {
      tasks.push_back({cut.what, {cut}});
    } else {
      task->cuts.push_back(cut);
    }
  }
  if (is_drilled) {
    std::stable_sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) {
      return a.cuts.front().part < b.cuts.front().part;
    });
    for (Task& task : tasks) std::reverse(task.cuts.begin(), task.cuts.end());  // from the hook end
  }
  return tasks;
}

template <class Words>
std::string joined(const std::vector<SetupCut>& cuts, const Words& words) {
  std::string text;
  for (const SetupCut& cut : cuts) text += (text.empty() ? "" : ", ") + words(cut);
  return text;
}

class Tickets {
 public:
  Tickets(const PlanData& data, const LengthStyle& style) : data_(data), style_(style) {}

  // What is cut, at which stops or distances, on which parts, and how many cuts that makes.
  std::vector<std::string> row(const Setup& setup, const Task& task) const {
    int count = 0;
    for (const SetupCut& cut : task.cuts) count += cut.count;
    const SetupCut& first = task.cuts.front();
    const bool is_drilled = setup.machine == Machine::drill;
    const std::string stops =
        is_drilled              ? joined(task.cuts,
                                         [&](const SetupCut& c) {
                              const int on_each = c.count / pieces(c);
                              return (on_each > 1 ? fmt::format("{}\u00A0at\u00A0", on_each)
                                                               : std::string()) +
                                     format_length(c.stop, style_);
                            })
        : first.stop > Length() ? format_length(first.stop, style_)
                                : std::string();
    const std::string parts =
        is_drilled ? times(first, pieces(first))
                   : joined(task.cuts, [&](const SetupCut& c) { return times(c, c.count); });
    return {task.what, stops, parts, fmt::format("{}", count)};
  }

 private:
  [[nodiscard]] const Part& part(const SetupCut& cut) const {
    return data_.cut_list->parts[static_cast<std::size_t>(cut.part)];
  }
  [[nodiscard]] int pieces(const SetupCut& cut) const {
    return static_cast<int>(part(cut).members.size());
  }
  [[nodiscard]] std::string times(const SetupCut& cut, int count) const {
    return count == 1 ? part(cut).letter
                      : fmt::format("{}\u00A0x\u00A0{}", count, part(cut).letter);
  }

  const PlanData& data_;
  const LengthStyle& style_;
};

}  // namespace

Table tickets_table(const PlanData& data, const LengthStyle& style) {
  Table table{
      .heads = {"machine", "swing", "tilt", "set to", "cut", "stop or mark", "parts", "cuts"},
      .aligns = {Align::left, Align::right, Align::right, Align::right, Align::left, Align::left,
                 Align::left, Align::right}};
  const Tickets tickets(data, style);
  for (const Setup& setup : *data.setups) {
    std::vector<std::string> set = {
        std::string(name_of(setup.machine)), format_angle(setup.swing), format_angle(setup.tilt),
        setup.fence > Length() ? format_length(setup.fence, style) : ""};
    for (const Task& task : tasks_of(setup)) {
      auto row = tickets.row(setup, task);
      row.insert(row.begin(), set.begin(), set.end());
      table.rows.push_back(std::move(row));
      std::fill(set.begin(), set.end(), "");
    }
  }
  return table;
}

}  // namespace kw
