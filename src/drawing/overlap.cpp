#include "overlap.h"

#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "arcs.h"
#include "boxes.h"

namespace kw {
namespace {

struct Placed {
  const Label* label = nullptr;
  Corners box = {};
  Rect rect = {};
};

class Judge {
 public:
  Judge(const Sheet& sheet, double slack) : sheet_(sheet), slack_(slack) {
    for (const Label& label : sheet.labels) {
      const Corners box = box_of(label);
      placed_.push_back({&label, box, rect_of(box)});
    }
  }

  std::vector<Overlap> judge() {
    labels_on_labels();
    for (const Stroke& stroke : sheet_.strokes) {
      const auto name = fmt::format("line of pen {}", static_cast<int>(stroke.pen));
      labels_on(stroke.points, stroke.is_closed, OverlapKind::label_stroke, name);
      off_sheet(stroke.points, name);
    }
    for (const Arc& arc : sheet_.arcs) {
      const auto name = fmt::format("arc of pen {}", static_cast<int>(arc.pen));
      labels_on(sampled(arc), false, OverlapKind::label_stroke, name);
      off_sheet(sampled(arc), name);
    }
    for (const Fill& fill : sheet_.fills) {
      labels_on(fill.points, true, OverlapKind::label_fill, "edge of an area");
      off_sheet(fill.points, "area");
    }
    for (const Placed& p : placed_)
      off_sheet({p.box.begin(), p.box.end()}, '"' + p.label->text + '"');
    return std::move(found_);
  }

 private:
  void labels_on_labels() {
    for (std::size_t i = 0; i < placed_.size(); ++i) {
      for (std::size_t j = i + 1; j < placed_.size(); ++j) {
        const Placed& a = placed_[i];
        const Placed& b = placed_[j];
        if (!a.rect.is_near(b.rect, 0)) continue;
        const double depth = depth_of(a.box, b.box);
        if (depth > slack_)
          found_.push_back({OverlapKind::label_label,
                            fmt::format("\"{}\" on \"{}\"", a.label->text, b.label->text),
                            a.label->at, depth});
      }
    }
  }

  void labels_on(const std::vector<Vec2>& points, bool is_closed, OverlapKind kind,
                 const std::string& name) {
    const std::size_t sides = points.size() - (is_closed || points.empty() ? 0 : 1);
    for (std::size_t i = 0; i < sides; ++i) {
      const Vec2 from = points[i];
      const Vec2 to = points[(i + 1) % points.size()];
      Rect rect;
      rect.add(from);
      rect.add(to);
      for (const Placed& p : placed_) {
        if (!p.rect.is_near(rect, 0)) continue;
        const double depth = depth_of(p.box, from, to);
        if (depth > slack_)
          found_.push_back(
              {kind, fmt::format("\"{}\" on {}", p.label->text, name), p.label->at, depth});
      }
    }
  }

  void off_sheet(const std::vector<Vec2>& points, const std::string& name) {
    double depth = 0;
    for (const Vec2& p : points)
      depth = std::max({depth, -p.x, -p.y, p.x - sheet_.width, p.y - sheet_.height});
    if (depth > slack_ && !points.empty())
      found_.push_back({OverlapKind::off_sheet, name + " past the edge", points.front(), depth});
  }

  const Sheet& sheet_;
  double slack_;
  std::vector<Placed> placed_ = {};
  std::vector<Overlap> found_ = {};
};

constexpr double same_line =
    2e-5;  // mm of paper: a view joins lines 0.002 mm apart at its own size

struct Segment {
  Vec2 from = {}, to = {};
};

double shared_length(const Segment& a, const Segment& b) {
  const Vec2 span = a.to - a.from;
  const double length = norm(span);
  const Vec2 along = span * (1 / length);
  if (std::abs(cross(along, b.from - a.from)) > same_line ||
      std::abs(cross(along, b.to - a.from)) > same_line)
    return 0;
  const double s = dot(along, b.from - a.from);
  const double t = dot(along, b.to - a.from);
  return std::min(length, std::max(s, t)) - std::max(0.0, std::min(s, t));
}

}  // namespace

std::vector<Overlap> overlaps_in(const Sheet& sheet, double slack) {
  return Judge(sheet, slack).judge();
}

std::vector<Overlap> doubled_lines_in(const Sheet& sheet, double slack) {
  std::vector<Segment> segments;
  for (const Stroke& stroke : sheet.strokes) {
    const bool is_body =
        stroke.pen == Pen::outline || stroke.pen == Pen::edge || stroke.pen == Pen::hidden;
    if (!is_body) continue;
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i)
      segments.push_back({stroke.points[i], stroke.points[i + 1]});
    if (stroke.is_closed) segments.push_back({stroke.points.back(), stroke.points.front()});
  }
  std::erase_if(segments, [](const Segment& s) { return norm(s.to - s.from) < 1e-6; });
  std::vector<Overlap> found;
  for (std::size_t i = 0; i < segments.size(); ++i) {
    for (std::size_t j = i + 1; j < segments.size(); ++j) {
      const double shared = shared_length(segments[i], segments[j]);
      if (shared > slack)
        found.push_back({OverlapKind::label_stroke, "line drawn twice", segments[i].from, shared});
    }
  }
  return found;
}

}  // namespace kw
