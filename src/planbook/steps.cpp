#include "kerfwright/planbook/steps.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <map>
#include <set>
#include <tuple>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/lumber/sold.h"

namespace kw {
namespace {

std::string_view words_for(JointKind kind) {
  switch (kind) {
    case JointKind::butt:
      return "Butt {1} against {0}";
    case JointKind::mitre:
      return "Bring the mitres of {0} and {1} together";
    case JointKind::half_lap:
      return "Lay the half-laps of {0} and {1} into one another";
    case JointKind::notch:
      return "Let {1} into the notch of {0}";
    case JointKind::housing:
      return "Set the end of {1} into its housing in {0}";
    case JointKind::rabbet:
      return "Set {1} into the rabbet of {0}";
    case JointKind::groove:
      return "Set {1} into the groove of {0}";
    case JointKind::bridle:
      return "Slide the tongue of {1} into the slot of {0}";
    case JointKind::tenon:
      return "Set the tenon of {1} into its mortise in {0}";
    case JointKind::dowel:
      return "Dowel {1} to {0}";
    case JointKind::pocket_screw:
      return "Draw {1} to {0} with screws through the pocket holes";
    case JointKind::toe_nail:
      return "Toe-nail {1} to {0}, from both of its faces by turns, at 30 degrees";
    case JointKind::screw:
      return "Screw {0} and {1} together";
    case JointKind::glue:
      return "Glue {1} to {0}";
  }
  return "Join {0} and {1}";
}

std::string listed(const std::vector<std::string>& items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  return text;
}

// Joints that are told in one sentence.
struct Told {
  JointKind kind = JointKind::butt;
  std::string a = {}, b = {}, fastener = {}, glue = {}, through = {};
  int each = 0;
  friend auto operator<=>(const Told&, const Told&) = default;
};

std::string direction_words(Vec3 from) {
  struct Side {
    Vec3 axis = {};
    std::string_view word = {};
  };
  constexpr std::array<Side, 6> sides = {{{{0, 0, 1}, "above"},
                                          {{0, 0, -1}, "below"},
                                          {{0, -1, 0}, "the front"},
                                          {{0, 1, 0}, "the back"},
                                          {{1, 0, 0}, "the right"},
                                          {{-1, 0, 0}, "the left"}}};
  const auto best = std::max_element(sides.begin(), sides.end(), [&](const Side& a, const Side& b) {
    return dot(a.axis, from) < dot(b.axis, from);
  });
  if (dot(best->axis, from) > 0.999) return fmt::format("from {}", best->word);
  return fmt::format("at a slant, mostly from {}", best->word);
}

class Teller {
 public:
  Teller(const PlanData& data, const LengthStyle& style) : data_(data), style_(style) {
    for (const Driven& driven : driven_in(*data.piece)) ++driven_[driven.joint];
  }

  ToldStep tell(int index) {
    const AssemblyStep& step = data_.assembly->steps[static_cast<std::size_t>(index)];
    ToldStep told{.name = step.name, .title = title(step)};
    add_set_outs(step, told.lines);
    add_joints(step, told.lines);
    add_ways(step, told.lines);
    add_checks(step, told.lines);
    told.picture = picture(index, step);
    take_words(told);
    told.picture.title = told.title;
    return told;
  }

 private:
  const Part& part(int body) const {
    return data_.cut_list->parts[static_cast<std::size_t>(
        data_.cut_list->part_of_body[static_cast<std::size_t>(body)])];
  }
  const std::string& letter(int body) const { return part(body).letter; }
  std::string length(Length value) const { return format_length(value, style_); }

  // "B rail", "3 x C slat", "2 x frame A-D".
  std::string counted(const AssemblyStep& step) const {
    std::vector<std::pair<const Part*, int>> counts;
    for (const int b : step.adds) {
      if (is_in_frame(step, b)) continue;
      const Part* p = &part(b);
      const auto same =
          std::find_if(counts.begin(), counts.end(), [&](const auto& c) { return c.first == p; });
      same == counts.end() ? static_cast<void>(counts.emplace_back(p, 1))
                           : static_cast<void>(++same->second);
    }
    std::vector<std::string> items;
    std::map<int, int> frames;
    for (const int f : step.frames) ++frames[f];
    for (const auto& [f, count] : frames) {
      const std::string& name = data_.assembly->subs[static_cast<std::size_t>(f)].name;
      items.push_back(count == 1 ? "frame " + name : fmt::format("{} x frame {}", count, name));
    }
    for (const auto& [p, count] : counts) {
      items.push_back(count == 1 ? fmt::format("{} {}", p->letter, p->name)
                                 : fmt::format("{} x {} {}", count, p->letter, p->name));
    }
    return listed(items);
  }

  bool is_in_frame(const AssemblyStep& step, int body) const {
    return std::any_of(step.frames.begin(), step.frames.end(), [&](int f) {
      const auto& copies = data_.assembly->subs[static_cast<std::size_t>(f)].copies;
      return std::any_of(copies.begin(), copies.end(), [&](const std::vector<int>& copy) {
        return std::find(copy.begin(), copy.end(), body) != copy.end();
      });
    });
  }

  std::string title(const AssemblyStep& step) const {
    std::string text = (step.is_first ? "Put together " : "Add ") + counted(step);
    if (step.sub < 0) return text;
    const SubAssembly& sub = data_.assembly->subs[static_cast<std::size_t>(step.sub)];
    return fmt::format("{}: {}", sub_words(sub), text);
  }

  static std::string sub_words(const SubAssembly& sub) {
    return sub.copies.size() == 1 ? fmt::format("Frame {}", sub.name)
                                  : fmt::format("Frame {}, make {}", sub.name, sub.copies.size());
  }

  void add_set_outs(const AssemblyStep& step, std::vector<std::string>& lines) const {
    std::map<std::pair<std::string, std::string>, std::vector<std::string>> marks;
    auto ordered = step.marks;
    std::stable_sort(ordered.begin(), ordered.end(), [](const SetOut& a, const SetOut& b) {
      return a.from.printed < b.from.printed;
    });
    for (const SetOut& m : ordered) {
      marks[{letter(m.on), letter(m.of)}].push_back(
          fmt::format("from {} to {}", length(m.from.printed), length(m.to.printed)));
    }
    for (const auto& [boards, spans] : marks) {
      lines.push_back(fmt::format("Set out on {}, from its hook end: {} covers it {}.",
                                  boards.first, boards.second, listed(spans)));
    }
  }

  int body_of(int board) const {
    const auto& bodies = *data_.bodies;
    const auto found =
        std::find_if(bodies.begin(), bodies.end(), [&](const Body& b) { return b.board == board; });
    return static_cast<int>(found - bodies.begin());
  }

  bool has_clearance(int body, int joint) const {
    const auto& features = (*data_.bodies)[static_cast<std::size_t>(body)].shape->features;
    return std::any_of(features.begin(), features.end(), [&](const Feature& f) {
      return f.kind == FeatureKind::clearance_hole && f.joint == joint;
    });
  }

  int driven_count(int joint) const {
    const auto found = driven_.find(joint);
    return found == driven_.end() ? 1 : found->second;
  }

  Told told_of(int index) const {
    const ResolvedJoint& joint = data_.piece->joints[static_cast<std::size_t>(index)];
    const int a = body_of(joint.a), b = body_of(joint.b);
    Told told{joint.kind, letter(a), letter(b),
              hardware_sold(built_in_catalogue(), joint.fastener, style_.unit), joint.glue};
    if (!joint.fastener.empty()) told.each = driven_count(index);
    if (has_clearance(a, index)) told.through = told.a;
    if (has_clearance(b, index)) told.through = told.b;
    return told;
  }

  void add_joints(const AssemblyStep& step, std::vector<std::string>& lines) {
    std::map<Told, int> counts;
    std::vector<Told> order;
    for (const int j : step.joints) {
      const Told told = told_of(j);
      if (counts[told]++ == 0) order.push_back(told);
    }
    std::set<std::string> glues;
    for (const Told& told : order) {
      lines.push_back(sentence(told, counts[told]));
      if (!told.glue.empty()) glues.insert(told.glue);
    }
    for (const std::string& name : glues) {
      if (glued_.insert(name).second) add_glue(name, lines);
    }
    if (step.joints.empty())
      lines.push_back("Nothing in the piece file fixes this: it only lies where it is.");
  }

  static std::string sentence(const Told& told, int count) {
    std::string text = fmt::format(fmt::runtime(words_for(told.kind)), told.a, told.b);
    if (!told.glue.empty() && told.kind != JointKind::glue)
      text += fmt::format(", {} on the faces that meet", told.glue);
    if (!told.glue.empty() && told.kind == JointKind::glue)
      text += fmt::format(" with {}", told.glue);
    if (told.each > 0) {
      text += fmt::format("; {} x {}", told.each, told.fastener);
      if (count > 1)
        text += fmt::format(" at each of {} joints, {} in all", count, told.each * count);
      if (!told.through.empty()) text += fmt::format(", in through {}", told.through);
    } else if (count > 1) {
      text += fmt::format(" ({} joints)", count);
    }
    return text + ".";
  }

  static void add_glue(const std::string& name, std::vector<std::string>& lines) {
    const Adhesive* glue = find_adhesive(built_in_catalogue(), name);
    if (glue == nullptr || glue->clamp_minutes <= 0) return;
    lines.push_back(fmt::format(
        "{}: close the joint within {:.0f} minutes, leave it clamped for {:.0f}, load it after "
        "{:.0f} hours; the label of your glue goes before these figures.",
        glue->name, glue->open_minutes, glue->clamp_minutes, glue->full_hours));
  }

  void add_ways(const AssemblyStep& step, std::vector<std::string>& lines) const {
    if (step.is_at_once) {
      lines.push_back(
          "No order was found in which these go on one after another: bring them together loosely, "
          "all at once, before anything is fixed.");
    } else if (!step.is_first && norm(step.from) > 0.5) {
      lines.push_back(fmt::format("Bring {} in {}.", step.adds.size() > 1 ? "them" : "it",
                                  direction_words(step.from)));
    }
  }

  void add_checks(const AssemblyStep& step, std::vector<std::string>& lines) const {
    for (const Diagonals& d : step.checks) {
      const bool is_square = d.one.printed == d.other.printed;
      lines.push_back(
          is_square
              ? fmt::format("Before it is fixed for good, measure across from corner to corner of "
                            "the two {}: {} both ways when it is square.",
                            letter(d.a), length(d.one.printed))
              : fmt::format("Before it is fixed for good, measure across from corner to corner of "
                            "the two {}: {} one way, {} the other.",
                            letter(d.a), length(d.one.printed), length(d.other.printed)));
    }
  }

  StepPicture picture(int index, const AssemblyStep& step) const {
    StepPicture picture{
        .name = fmt::format("step-{}", index + 1), .added = step.adds, .onto = step.onto};
    for (int i = 0; i < index; ++i) {
      const AssemblyStep& before = data_.assembly->steps[static_cast<std::size_t>(i)];
      if (before.sub != step.sub) continue;
      picture.there.insert(picture.there.end(), before.adds.begin(), before.adds.end());
    }
    for (const int b : step.adds) picture.moved.push_back(moved(step, b));
    keep_together(picture.moved);
    return picture;
  }

  // What comes in one way is drawn as far off as the nearest of it: a ring of slats stays a ring.
  static void keep_together(std::vector<Vec3>& moved) {
    const std::vector<Vec3> before = moved;
    for (Vec3& way : moved) {
      for (const Vec3& other : before) {
        const bool is_same_way = dot(way, other) > (1 - 1e-6) * norm(way) * norm(other);
        if (is_same_way && norm(other) < norm(way)) way = other;
      }
    }
  }

  // In a step of the whole, what was made apart stays together.
  Vec3 moved(const AssemblyStep& step, int body) const {
    const auto b = static_cast<std::size_t>(body);
    return step.sub < 0 ? data_.assembly->apart_in_whole[b]
                        : data_.assembly->apart[b] - data_.assembly->apart_in_whole[b];
  }

  void take_words(ToldStep& told) const {
    const auto& steps = data_.piece->steps;
    const auto own = std::find_if(steps.begin(), steps.end(),
                                  [&](const StepWords& w) { return w.name == told.name; });
    if (own == steps.end()) return;
    if (!own->title.empty()) told.title = own->title;
    if (!own->text.empty()) told.lines = {own->text};
    if (!own->note.empty()) told.lines.push_back(own->note);
  }

  const PlanData& data_;
  const LengthStyle& style_;
  std::map<int, int> driven_ = {};    // fasteners by joint, as they are driven
  std::set<std::string> glued_ = {};  // glues whose times were told
};

}  // namespace

std::vector<ToldStep> steps_of(const PlanData& data, const LengthStyle& style) {
  std::vector<ToldStep> steps;
  Teller teller(data, style);
  for (std::size_t i = 0; i < data.assembly->steps.size(); ++i)
    steps.push_back(teller.tell(static_cast<int>(i)));
  return steps;
}

Diagnostics unknown_steps(const Resolved& piece, const Assembly& assembly) {
  Diagnostics faults;
  std::vector<std::string> names;
  for (const AssemblyStep& step : assembly.steps) names.push_back(step.name);
  for (const StepWords& words : piece.steps) {
    if (std::find(names.begin(), names.end(), words.name) != names.end()) continue;
    const std::string near = nearest_name(words.name, names);
    faults.push_back({.code = "parts.unknown-step",
                      .severity = Severity::warning,
                      .at = words.at,
                      .message = fmt::format("no step of the assembly is called `{}`", words.name),
                      .hint = near.empty() ? fmt::format("the steps are {}", listed(names))
                                           : fmt::format("did you mean `{}`? The steps are {}",
                                                         near, listed(names))});
  }
  return faults;
}

Table steps_table(const PlanData& data, const LengthStyle& style) {
  Table table{.heads = {"step", "name", "what", "how"}, .aligns = {Align::right}};
  int number = 0;
  for (const ToldStep& step : steps_of(data, style)) {
    table.rows.push_back({fmt::format("{}", ++number), step.name, step.title,
                          fmt::format("{}", fmt::join(step.lines, " "))});
  }
  return table;
}

}  // namespace kw
