#include "read_rows.h"

namespace kw::lumber {
namespace {

using Keys = std::vector<std::string>;

constexpr Choice<FastenerKind> fastener_kinds[] = {
    {"wood_screw", FastenerKind::wood_screw},
    {"deck_screw", FastenerKind::deck_screw},
    {"pocket_screw", FastenerKind::pocket_screw},
    {"nail", FastenerKind::nail},
    {"dowel", FastenerKind::dowel},
    {"bolt", FastenerKind::bolt},
    {"lag_screw", FastenerKind::lag_screw},
};

constexpr Range minutes = {0.1, 100'000};
constexpr Range hours = {0.1, 10'000};
constexpr Range feet2_per_gallon = {1, 10'000};

// A US gallon is 231 in^3: exact, like the foot of 304.8 mm.
constexpr double m2_per_litre(double ft2_per_gallon) {
  constexpr double m2_per_ft2 = 0.3048 * 0.3048;
  constexpr double litres_per_gallon = 231 * 0.254 * 0.254 * 0.254;
  return ft2_per_gallon * m2_per_ft2 / litres_per_gallon;
}

void check_fastener(const Fastener& fastener, Row& row) {
  if (fastener.root > fastener.diameter) {
    row.refuse("root", "the root is thicker than the shank", "correct `root` or `diameter`");
  }
  if (fastener.thread > fastener.length) {
    row.refuse("thread", "the thread is longer than the whole", "correct `thread` or `length`");
  }
}

}  // namespace

std::optional<Fastener> read_fastener(const Cell& cell, Page& page) {
  static const Keys keys = {"name",       "aka",       "kind",        "length", "diameter",
                            "root",       "head",      "thread",      "source", "pilot_soft",
                            "pilot_hard", "clearance", "pilot_source"};
  Row row(cell, page, keys);
  Fastener fastener;
  fastener.name = row.text("name");
  fastener.aka = row.texts_or_none("aka");
  fastener.kind = row.choice("kind", fastener_kinds);
  fastener.length = row.length("length");
  fastener.diameter = row.length("diameter");
  fastener.root = row.length_or_zero("root");
  fastener.head = row.length_or_zero("head");
  fastener.thread = row.length_or_zero("thread");
  fastener.source = row.source();
  fastener.pilot_soft = row.length_or_zero("pilot_soft");
  fastener.pilot_hard = row.length_or_zero("pilot_hard");
  fastener.clearance = row.length_or_zero("clearance");
  const bool has_holes = row.has("pilot_soft") || row.has("pilot_hard") || row.has("clearance");
  if (has_holes || row.has("pilot_source")) fastener.pilot_source = row.source("pilot_source");
  check_fastener(fastener, row);
  return row.is_sound() ? std::optional(std::move(fastener)) : std::nullopt;
}

std::optional<Adhesive> read_adhesive(const Cell& cell, Page& page) {
  static const Keys keys = {"name",
                            "aka",
                            "use",
                            "open_minutes",
                            "clamp_minutes",
                            "full_hours",
                            "coverage_ft2_per_gallon",
                            "source"};
  Row row(cell, page, keys);
  Adhesive adhesive;
  adhesive.name = row.text("name");
  adhesive.aka = row.texts_or_none("aka");
  adhesive.use = row.text("use");
  adhesive.open_minutes = row.number("open_minutes", minutes);
  adhesive.clamp_minutes = row.number("clamp_minutes", minutes);
  adhesive.full_hours = row.number("full_hours", hours);
  if (const auto figure = row.number_or_none("coverage_ft2_per_gallon", feet2_per_gallon)) {
    adhesive.coverage_m2_per_litre = m2_per_litre(*figure);
  }
  adhesive.source = row.source();
  return row.is_sound() ? std::optional(std::move(adhesive)) : std::nullopt;
}

std::optional<Finish> read_finish(const Cell& cell, Page& page) {
  static const Keys keys = {"name", "aka", "use", "coats", "coverage_ft2_per_gallon", "source"};
  Row row(cell, page, keys);
  Finish finish;
  finish.name = row.text("name");
  finish.aka = row.texts_or_none("aka");
  finish.use = row.text("use");
  finish.coats = row.count("coats", 20);
  if (const auto bounds = row.bounds_or_none("coverage_ft2_per_gallon", feet2_per_gallon)) {
    finish.coverage_m2_per_litre_low = m2_per_litre(bounds->least);
    finish.coverage_m2_per_litre_high = m2_per_litre(bounds->most);
  }
  finish.source = row.source();
  return row.is_sound() ? std::optional(std::move(finish)) : std::nullopt;
}

}  // namespace kw::lumber
