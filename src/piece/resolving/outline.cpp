#include "outline.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace kw::resolving {
namespace {

constexpr double same_point = 1e-6;  // mm
constexpr std::size_t most_corners = 1000;

struct Edge {
  Vec2 from = {}, to = {};
  std::optional<Arc> arc = {};
  Span at = {};                   // of its step
  Span from_at = {}, to_at = {};  // of the steps that name its ends
};

void bad_outline(Work& work, Span at, std::string message, std::string hint) {
  work.faults.report({.code = "piece.bad-outline",
                      .at = at,
                      .message = std::move(message),
                      .hint = std::move(hint)});
}

std::optional<Vec2> pair_of(Work& work, int site, const Formula2& two) {
  const auto x = work.values.mm(two[0], site), y = work.values.mm(two[1], site);
  return x && y ? std::optional(Vec2{*x, *y}) : std::nullopt;
}

std::nullopt_t bad_arc(Work& work, Span at, std::string message, std::string hint) {
  work.faults.report(
      {.code = "piece.bad-arc", .at = at, .message = std::move(message), .hint = std::move(hint)});
  return std::nullopt;
}

std::optional<Arc> arc_by_radius(Work& work, int site, const OutlineStep& step, const Edge& edge) {
  const auto radius = work.values.positive_mm(*step.radius, site);
  if (!radius || !step.turn || step.turn->text.empty()) return std::nullopt;
  const bool is_left = step.turn->text == "left";
  if (!is_left && step.turn->text != "right") {
    work.faults.report({.code = "piece.unknown-word",
                        .at = step.turn->at,
                        .message = fmt::format("an arc does not turn `{}`", step.turn->text),
                        .hint = hint_for(step.turn->text, {"left", "right"}, "turns")});
    return std::nullopt;
  }
  const auto arc = arc_of_radius(edge.from, edge.to, *radius, is_left);
  if (arc) return arc;
  const std::string least = work.faults.length(norm(edge.to - edge.from) / 2);
  return bad_arc(work, step.radius->at,
                 fmt::format("no arc of this radius spans the step: it takes {} or more", least),
                 "make the radius larger");
}

std::optional<Edge> edge_of(Work& work, int site, const OutlineStep& step, Vec2 from, Vec2 to) {
  Edge edge{.from = from, .to = to, .at = step.at, .to_at = step.at};
  if (step.through) {
    const auto through = pair_of(work, site, *step.through);
    if (!through) return std::nullopt;
    edge.arc = arc_through(from, *through, to);
    if (!edge.arc)
      return bad_arc(work, step.at, "no arc goes through these three points: they lie on a line",
                     "move the middle point, or leave `through` out for a line");
  } else if (step.radius) {
    edge.arc = arc_by_radius(work, site, step, edge);
    if (!edge.arc) return std::nullopt;
  }
  return edge;
}

// The first step says where the outline begins; as an edge it is the way back there from the last.
std::optional<std::vector<Edge>> edges_of(Work& work, int site,
                                          const std::vector<OutlineStep>& steps) {
  std::vector<Vec2> points;
  for (const OutlineStep& step : steps)
    if (const auto point = pair_of(work, site, step.to)) points.push_back(*point);
  if (points.size() < steps.size()) return std::nullopt;
  std::vector<Edge> edges;
  bool is_sound = true;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const std::size_t before = (i + steps.size() - 1) % steps.size();
    const bool is_closing = i == 0, has_length = norm(points[i] - points[before]) > same_point;
    if (!has_length && is_closing && !steps[i].through && !steps[i].radius) continue;
    if (!has_length) {
      bad_outline(work, steps[i].at, "this step ends where it begins", "leave it out");
      is_sound = false;
      continue;
    }
    const auto edge = edge_of(work, site, steps[i], points[before], points[i]);
    is_sound = is_sound && edge;
    if (!edge) continue;
    edges.push_back(*edge);
    edges.back().from_at = steps[before].at;
  }
  return is_sound ? std::optional(edges) : std::nullopt;
}

double area_of(const std::vector<Edge>& edges) {
  double area = 0;
  for (const Edge& edge : edges)
    area += cross(edge.from, edge.to) / 2 + (edge.arc ? segment_area(*edge.arc) : 0);
  return area;
}

void turn_round(std::vector<Edge>& edges) {
  std::reverse(edges.begin(), edges.end());
  for (Edge& edge : edges) {
    std::swap(edge.from, edge.to);
    std::swap(edge.from_at, edge.to_at);
    if (edge.arc)
      edge.arc = Arc{edge.arc->centre, edge.arc->radius, edge.arc->from + edge.arc->sweep,
                     -edge.arc->sweep};
  }
}

void add_edge(const Edge& edge, Outline& into) {
  if (!edge.arc) return into.corners.push_back({edge.from, -1, edge.at, edge.from_at});
  const int curve = static_cast<int>(into.curves.size());
  into.curves.push_back({edge.arc->centre, edge.arc->radius, edge.arc->sweep < 0});
  into.corners.push_back({edge.from, curve, edge.at, edge.from_at});
  for (const Vec2 corner : facets_of(*edge.arc))
    into.corners.push_back({corner, curve, edge.at, edge.at});
}

void add_box(Outline& outline) {
  outline.low = outline.high = outline.corners.front().at;
  for (const Corner& corner : outline.corners) {
    outline.low = {std::min(outline.low.x, corner.at.x), std::min(outline.low.y, corner.at.y)};
    outline.high = {std::max(outline.high.x, corner.at.x), std::max(outline.high.y, corner.at.y)};
  }
}

bool do_cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const auto side = [](Vec2 from, Vec2 to, Vec2 p) {
    const double s = cross(to - from, p - from) / norm(to - from);
    return std::abs(s) <= same_point ? 0 : s > 0 ? 1 : -1;
  };
  const int c_side = side(a, b, c), d_side = side(a, b, d), a_side = side(c, d, a),
            b_side = side(c, d, b);
  if (c_side * d_side > 0 || a_side * b_side > 0) return false;
  if (c_side != 0 || d_side != 0) return true;
  // On one line: they meet when their shadows on it do.
  const Vec2 along = b - a;
  const double length = dot(along, along), slack = same_point * norm(along);
  const double from = std::min(dot(c - a, along), dot(d - a, along)),
               to = std::max(dot(c - a, along), dot(d - a, along));
  return from <= length + slack && to >= -slack;
}

// Two sides that follow one another may only share their corner.
bool do_fold(Vec2 a, Vec2 b, Vec2 c) {
  return std::abs(cross(b - a, c - b)) <= same_point * norm(b - a) && dot(b - a, c - b) < 0;
}

// The first pair of sides that cross or touch, in the order of x.
std::optional<std::pair<std::size_t, std::size_t>> crossing_in(const std::vector<Corner>& corners) {
  const std::size_t n = corners.size();
  const auto from = [&](std::size_t i) { return corners[i].at; };
  const auto to = [&](std::size_t i) { return corners[(i + 1) % n].at; };
  const auto low = [&](std::size_t i) { return std::min(from(i).x, to(i).x); };
  std::vector<std::size_t> order(n);
  for (std::size_t i = 0; i < n; ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return low(a) < low(b); });
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t i = order[k];
    const double high = std::max(from(i).x, to(i).x) + same_point;
    for (std::size_t m = k + 1; m < n && low(order[m]) <= high; ++m) {
      const std::size_t j = order[m];
      if ((i + 1) % n == j   ? do_fold(from(i), to(i), to(j))
          : (j + 1) % n == i ? do_fold(from(j), to(j), to(i))
                             : do_cross(from(i), to(i), from(j), to(j)))
        return std::pair{std::min(i, j), std::max(i, j)};
    }
  }
  return std::nullopt;
}

bool is_simple(Work& work, const Outline& outline) {
  const auto crossing = crossing_in(outline.corners);
  if (!crossing) return true;
  const Corner& one = outline.corners[crossing->first];
  const Corner& other = outline.corners[crossing->second];
  const bool is_later = one.span.begin < other.span.begin;
  work.faults.report({.code = "piece.outline-crosses",
                      .at = is_later ? other.span : one.span,
                      .message = "the outline crosses or touches itself here",
                      .notes = {{is_later ? one.span : other.span, "it meets this step"}},
                      .hint = "list the corners in order, once around"});
  return false;
}

}  // namespace

std::optional<Outline> outline_of(Work& work, int site, const std::vector<OutlineStep>& steps) {
  auto edges = edges_of(work, site, steps);
  if (!edges) return std::nullopt;
  const Span at = steps.front().at;
  Outline outline{.area = area_of(*edges)};
  if (outline.area < 0) turn_round(*edges);
  for (const Edge& edge : *edges)
    if (outline.corners.size() <= most_corners) add_edge(edge, outline);
  outline.area = std::abs(outline.area);
  const bool has_arc = !outline.curves.empty();
  if (edges->size() < (has_arc ? 2u : 3u) || outline.area < 1) {
    bad_outline(work, at, "the outline holds no wood",
                "give it three corners or more, not all on a line");
    return std::nullopt;
  }
  if (outline.corners.size() > most_corners) {
    bad_outline(
        work, at,
        fmt::format("the outline has more than {} sides, facets of arcs among them", most_corners),
        "use fewer steps");
    return std::nullopt;
  }
  if (!spend(work, work.budget.outline_points, static_cast<long>(outline.corners.size()), at,
             "sides of outlines"))
    return std::nullopt;
  add_box(outline);
  return is_simple(work, outline) ? std::optional(std::move(outline)) : std::nullopt;
}

}  // namespace kw::resolving
