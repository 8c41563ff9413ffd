#include <cmath>
#include <fmt/core.h>
#include <numbers>

#include "kerfwright/diag/markup.h"
#include "kerfwright/drawing/sheet.h"

namespace kw {
namespace {

std::string number(double value) {
  const double rounded = std::round(value * 1000) / 1000;
  return fmt::format("{}", rounded == 0 ? 0.0 : rounded);
}

// Without control characters, which XML does not know.
std::string escaped(std::string text) {
  std::erase_if(text, [](char c) { return static_cast<unsigned char>(c) < 0x20; });
  return in_markup(text);
}

std::string path_of(const std::vector<Vec2>& points, bool is_closed) {
  std::string path;
  for (std::size_t i = 0; i < points.size(); ++i) {
    path += fmt::format("{}{} {}", i == 0 ? "M" : "L", number(points[i].x), number(points[i].y));
  }
  return is_closed ? path + "Z" : path;
}

std::string_view class_of(Pen pen) {
  switch (pen) {
    case Pen::outline:
      return "outline";
    case Pen::edge:
      return "edge";
    case Pen::hidden:
      return "hidden";
    case Pen::centre:
      return "centre";
    case Pen::dimension:
      return "dimension";
    case Pen::frame:
      return "frame";
    case Pen::mark:
      return "mark";
    case Pen::hatch:
      return "hatch";
  }
  return "edge";
}

std::string style_of(Pen pen) {
  std::string dashes;
  for (const double dash : dashes_of(pen)) dashes += (dashes.empty() ? "" : " ") + number(dash);
  return fmt::format(
      ".{}{{fill:none;stroke:#1b1b1b;stroke-width:{};stroke-linecap:round;stroke-linejoin:round{}}}"
      "\n",
      class_of(pen), number(width_of(pen)), dashes.empty() ? "" : ";stroke-dasharray:" + dashes);
}

std::string style_sheet() {
  std::string css;
  for (const Pen pen : {Pen::outline, Pen::edge, Pen::hidden, Pen::centre, Pen::dimension,
                        Pen::frame, Pen::mark, Pen::hatch}) {
    css += style_of(pen);
  }
  return css + "text{font-family:'DejaVu Sans',Verdana,sans-serif;fill:#1b1b1b}\n";
}

std::string to_svg(const Fill& fill) {
  const auto path = path_of(fill.points, true);
  const double paper = 1 - fill.shade;
  const Tint tint = fill.tint.value_or(Tint{paper, paper, paper});
  const auto level = [](double part) { return std::lround(255 * part); };
  const auto paint = fill.is_hatched ? std::string("url(#hatch)")
                                     : fmt::format("rgb({},{},{})", level(tint.red),
                                                   level(tint.green), level(tint.blue));
  return fmt::format("<path fill=\"{}\" d=\"{}\"/>\n", paint, path);
}

// The circle, or one arc of the path's own: exact but for the digits.
std::string to_svg(const Arc& arc) {
  constexpr double whole_turn = 2 * std::numbers::pi;
  if (std::abs(arc.sweep) > whole_turn - 1e-9) {
    return fmt::format("<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", class_of(arc.pen),
                       number(arc.centre.x), number(arc.centre.y), number(arc.radius));
  }
  const auto at = [&](double angle) {
    return fmt::format("{} {}", number(arc.centre.x + arc.radius * std::cos(angle)),
                       number(arc.centre.y + arc.radius * std::sin(angle)));
  };
  return fmt::format("<path class=\"{}\" d=\"M{}A{} {} 0 {} {} {}\"/>\n", class_of(arc.pen),
                     at(arc.from), number(arc.radius), number(arc.radius),
                     std::abs(arc.sweep) > std::numbers::pi ? 1 : 0, arc.sweep > 0 ? 1 : 0,
                     at(arc.from + arc.sweep));
}

std::string to_svg(const Label& label) {
  const std::string_view anchor = label.align == Align::left     ? "start"
                                  : label.align == Align::middle ? "middle"
                                                                 : "end";
  const auto turn = label.turn == 0
                        ? std::string()
                        : fmt::format(" transform=\"rotate({} {} {})\"", number(-label.turn),
                                      number(label.at.x), number(label.at.y));
  return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"{}{}>{}</text>\n",
                     number(label.at.x), number(label.at.y), number(label.height), anchor,
                     label.is_bold ? " font-weight=\"bold\"" : "", turn, escaped(label.text));
}

}  // namespace

std::string to_svg(const Sheet& sheet) {
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 "
      "{0} {1}\">\n"
      "<title>{2}</title>\n<style>\n{3}</style>\n"
      "<defs><pattern id=\"hatch\" width=\"2\" height=\"2\" patternUnits=\"userSpaceOnUse\" "
      "patternTransform=\"rotate(45)\"><path d=\"M0 0V2\" stroke=\"#777\" "
      "stroke-width=\"0.3\"/></pattern></defs>\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"#fff\"/>\n",
      number(sheet.width), number(sheet.height), escaped(sheet.title), style_sheet());
  for (const Fill& fill : sheet.fills) svg += to_svg(fill);
  for (const Stroke& stroke : sheet.strokes) {
    svg += fmt::format("<path class=\"{}\" d=\"{}\"/>\n", class_of(stroke.pen),
                       path_of(stroke.points, stroke.is_closed));
  }
  for (const Arc& arc : sheet.arcs) svg += to_svg(arc);
  for (const Label& label : sheet.labels) svg += to_svg(label);
  return svg + "</svg>\n";
}

}  // namespace kw
