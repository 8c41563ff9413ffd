#include <algorithm>
#include <cmath>
#include <fmt/core.h>
#include <map>
#include <numbers>

#include "kerfwright/drawing/templates.h"

#include "layout.h"
#include "tiles.h"

namespace kw {
namespace {

constexpr double card_height = 50;  // of the slope, mm
constexpr double foot_width = 40;   // of a card at its narrow side
constexpr double gap = 8;
constexpr double words = 14;  // room below a card for what it is for
constexpr double top = 16;
constexpr double ruler = 24;

// "swing: A hook end, B far end"; in order of the angle, in tenths of a degree.
using Uses = std::map<long, std::vector<std::string>>;

void add_use(Uses& uses, Angle angle, const std::string& what) {
  const long tenths = std::lround(std::abs(angle.in_degrees()) * 10);
  if (tenths < 1 || tenths > 600) return;
  auto& list = uses[tenths];
  if (std::find(list.begin(), list.end(), what) == list.end()) list.push_back(what);
}

Uses uses_of(const CutList& cut_list) {
  Uses uses;
  const auto add = [&](const Part& part, Angle swing, Angle tilt) {
    add_use(uses, swing, part.letter + " swing");
    add_use(uses, tilt, part.letter + " tilt");
  };
  for (const Part& part : cut_list.parts) {
    for (const SawCut& cut : part.ends) add(part, cut.printed_swing, cut.printed_tilt);
    for (const SawCut& cut : part.cuts) {
      if (cut.is_along) {
        add_use(uses, cut.printed_tilt, part.letter + " tilt");
      } else {
        add(part, cut.printed_swing, cut.printed_tilt);
      }
    }
    for (const Mark& mark : part.marks) add(part, mark.printed_swing, mark.printed_tilt);
  }
  return uses;
}

double card_width(double degrees) {
  return foot_width + card_height * std::tan(degrees * std::numbers::pi / 180);
}

// The card: its long side goes to the fence or table, its slope to the blade.
void add_card(Sheet& sheet, Vec2 at, double degrees, const std::vector<std::string>& uses) {
  const double width = card_width(degrees);
  sheet.strokes.push_back(
      {Pen::outline,
       {at + Vec2{0, card_height}, at + Vec2{width, card_height}, at + Vec2{foot_width, 0}, at},
       true});
  sheet.labels.push_back({.at = at + Vec2{4, 12},
                          .text = format_angle(Angle::degrees(degrees)),
                          .height = 5,
                          .is_bold = true});
  sheet.labels.push_back(
      {.at = at + Vec2{4, card_height - 3}, .text = "fence or table", .height = 2.4});
  std::string text;
  for (const auto& use : uses) text += (text.empty() ? "for " : ", ") + use;
  add_wrapped(sheet, at + Vec2{0, card_height + 4.5}, std::max(width, 60.0),
              {.text = text, .height = 2.4});
}

Sheet new_page(std::size_t number, const TemplateStyle& style) {
  Sheet sheet{.name = fmt::format("angle-gauges-{}", number + 1),
              .title = "Angle gauges",
              .width = style.page.x,
              .height = style.page.y,
              .is_full_size = true};
  add_wrapped(sheet, {0, 5}, style.page.x,
              {.text = "Glue to card and cut out. Lay the long side to the fence (swing) or on the "
                       "saw's table (tilt) and bring the blade, at rest and unplugged, to the "
                       "slope: the card is as many degrees from square as it says. Then cut a "
                       "scrap and check."});
  add_check_ruler(sheet, {1, style.page.y - 11});
  return sheet;
}

}  // namespace

std::vector<Sheet> angle_gauges(const CutList& cut_list, const TemplateStyle& style) {
  std::vector<Sheet> pages;
  Vec2 at = {0, 1e300};
  const double row = card_height + words + gap;
  for (const auto& [tenths, uses] : uses_of(cut_list)) {
    const double degrees = static_cast<double>(tenths) / 10;
    const double width = std::max(card_width(degrees), 60.0);
    if (at.x > 0 && at.x + width > style.page.x) at = {0, at.y + row};
    if (pages.empty() || at.y + row > style.page.y - ruler) {
      pages.push_back(new_page(pages.size(), style));
      at = {0, top};
    }
    add_card(pages.back(), at, degrees, uses);
    at.x += width + gap;
  }
  return pages;
}

}  // namespace kw
