#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/core.h>
#include <map>

#include "kerfwright/drawing/templates.h"

#include "layout.h"

namespace kw {
namespace {

constexpr double margin = 6;
constexpr double head = 13;
constexpr double stick = 22;            // width of the strip, mm
constexpr double square_enough = 1e-6;  // a face's normal this near the direction marks a height
constexpr double same_mark = 0.02;      // mm

// Marks: where, and the letters of the parts that begin or end there.
struct StickMark {
  double at = 0;
  std::vector<std::string> letters = {};
};

class Marks {
 public:
  void add(double at, const std::string& letter) {
    auto same = std::find_if(marks_.begin(), marks_.end(),
                             [&](const StickMark& m) { return std::abs(m.at - at) < same_mark; });
    if (same == marks_.end()) same = marks_.insert(marks_.end(), {at, {}});
    auto& letters = same->letters;
    if (std::find(letters.begin(), letters.end(), letter) == letters.end())
      letters.push_back(letter);
  }
  std::vector<StickMark> take() {
    std::sort(marks_.begin(), marks_.end(),
              [](const StickMark& a, const StickMark& b) { return a.at < b.at; });
    return std::move(marks_);
  }

 private:
  std::vector<StickMark> marks_ = {};
};

double along(Vec3 p, StickOf what) {
  return what == StickOf::width ? p.x : what == StickOf::depth ? p.y : p.z;
}

// Where the faces of boards stand square to the direction, as long as they bound the board there.
std::vector<StickMark> faces_along(const std::vector<Body>& bodies, const CutList& list,
                                   StickOf what) {
  Marks marks;
  double least = 1e300;
  for (const Body& body : bodies) {
    for (const Face& face : body.shape->faces) {
      for (const Vec3& p : face.loops.front())
        least = std::min(least, along(body.frame.to_world(p), what));
    }
  }
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    double low = 1e300;
    double high = -1e300;
    bool has_low = false;
    bool has_high = false;
    for (const Face& face : bodies[i].shape->faces) {
      for (const Vec3& p : face.loops.front()) {
        const double at = along(bodies[i].frame.to_world(p), what);
        low = std::min(low, at);
        high = std::max(high, at);
      }
    }
    for (const Face& face : bodies[i].shape->faces) {
      const double n = along(bodies[i].frame.direction_to_world(face.plane.normal), what);
      if (std::abs(n) < 1 - square_enough) continue;
      const double at = along(bodies[i].frame.to_world(face.loops.front().front()), what);
      has_low = has_low || std::abs(at - low) < same_mark;
      has_high = has_high || std::abs(at - high) < same_mark;
    }
    const auto& letter = list.parts[static_cast<std::size_t>(list.part_of_body[i])].letter;
    if (has_low) marks.add(low - least, letter);
    if (has_high) marks.add(high - least, letter);
  }
  return marks.take();
}

std::vector<StickMark> lengths_of(const CutList& list, double longest) {
  Marks marks;
  for (const Part& part : list.parts) {
    const double at = part.figures[static_cast<std::size_t>(part.length)].exact.in_mm();
    if (at <= longest) marks.add(at, part.letter);
  }
  return marks.take();
}

std::string_view name_of(StickOf what) {
  switch (what) {
    case StickOf::width:
      return "widths, from the left";
    case StickOf::depth:
      return "depths, from the front";
    case StickOf::height:
      return "heights, from the floor";
    case StickOf::lengths:
      break;
  }
  return "lengths, from the hook end";
}

std::string joined(const std::vector<std::string>& letters) {
  std::string text;
  for (std::size_t i = 0; i < letters.size(); ++i) {
    if (i == 4) return text + " ...";
    text += (i > 0 ? " " : "") + letters[i];
  }
  return text;
}

}  // namespace

Sheet story_stick(const Resolved& piece, const std::vector<Body>& bodies, const CutList& cut_list,
                  StickOf what, const TemplateStyle& style) {
  constexpr std::array<std::string_view, 4> files = {"width", "depth", "height", "lengths"};
  Sheet sheet{.name = fmt::format("story-stick-{}", files[static_cast<std::size_t>(what)]),
              .title = fmt::format("Story stick: {}", name_of(what)),
              .is_full_size = true};
  const auto marks = what == StickOf::lengths ? lengths_of(cut_list, style.longest)
                                              : faces_along(bodies, cut_list, what);
  const double longest = marks.empty() ? 0 : marks.back().at;
  sheet.labels.push_back({.at = {margin, 6},
                          .text = piece.title + " - " + sheet.title,
                          .height = 3.4,
                          .is_bold = true});
  sheet.width = std::max(longest, text_width(sheet.labels.back())) + 2 * margin;
  const double bottom = head + stick;
  sheet.strokes.push_back(
      {Pen::outline,
       {{margin, head}, {margin + longest, head}, {margin + longest, bottom}, {margin, bottom}},
       true});
  std::vector<Tick> ticks;
  for (const StickMark& mark : marks) {
    const double x = margin + mark.at;
    if (mark.at > same_mark && mark.at < longest - same_mark)
      sheet.strokes.push_back({Pen::mark, {{x, head}, {x, bottom}}, false});
    const Length printed = round_to(Length::mm(mark.at), cut_list.rule);
    ticks.push_back(
        {x, bottom, format_length(printed, style.length) + "  " + joined(mark.letters)});
  }
  sheet.height = add_running(sheet, margin, ticks, bottom + 4, true) + margin;
  return sheet;
}

}  // namespace kw
