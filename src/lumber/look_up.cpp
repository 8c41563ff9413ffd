#include <algorithm>
#include <cmath>
#include <fmt/core.h>

#include "kerfwright/lumber/catalogue.h"
#include "kerfwright/measure/text.h"

#include "names.h"

namespace kw {
namespace {

constexpr double psi_per_mpa = 25.4 * 25.4 / newton_per_pound_force;
constexpr double lb_ft3_per_kg_m3 = 0.3048 * 0.3048 * 0.3048 / kg_per_pound;
constexpr double ft2_gal_per_m2_litre = 231 * 0.254 * 0.254 * 0.254 / (0.3048 * 0.3048);

// Writes one row of the catalogue out, leaving out what it does not have.
class Sheet {
 public:
  Sheet(std::string_view kind, const std::string& name, LengthUnit unit)
      : unit_(unit), found_{.kind = std::string(kind), .name = name} {}

  void text(std::string_view label, std::string figure) {
    if (!figure.empty()) found_.rows.emplace_back(label, std::move(figure));
  }

  void list(std::string_view label, const std::vector<std::string>& texts,
            std::string_view gap = "; ") {
    std::string all;
    for (const std::string& each : texts) {
      if (!all.empty()) all += gap;
      all += each;
    }
    text(label, std::move(all));
  }

  void length(std::string_view label, Length length) {
    if (length != Length()) text(label, written(length));
  }

  void section(std::string_view label, const Section& section) {
    if (section == Section()) return;
    text(label, written(section.thickness) + " x " + written(section.width));
  }

  void lengths(std::string_view label, const std::vector<Length>& lengths) {
    std::vector<std::string> texts;
    for (const Length length : lengths) {
      texts.push_back(is_inch() ? format_length(length, {.feet = true}) : written(length));
    }
    list(label, texts, ", ");
  }

  void number(std::string_view label, Figure figure, int decimals, std::string_view unit = "") {
    if (!figure) return;
    text(label, fmt::format("{:.{}f}{}{}", *figure, decimals, unit.empty() ? "" : " ", unit));
  }

  void pressure(std::string_view label, const std::optional<Pressure>& pressure) {
    if (!pressure) return;
    const double psi = pressure->value * psi_per_mpa;
    text(label, !is_inch()  ? fmt::format("{:.1f} MPa", pressure->value)
                : psi < 1e5 ? fmt::format("{:.0f} psi", std::round(psi / 10) * 10)
                            : fmt::format("{:.2f} million psi", psi / 1e6));
  }

  void force(std::string_view label, const std::optional<Force>& force) {
    if (!force) return;
    text(label, is_inch() ? fmt::format("{:.0f} lbf", force->value / newton_per_pound_force)
                          : fmt::format("{:.0f} N", force->value));
  }

  void density(std::string_view label, const std::optional<Density>& density) {
    if (!density) return;
    text(label, is_inch() ? fmt::format("{:.1f} lb/ft^3", density->value * lb_ft3_per_kg_m3)
                          : fmt::format("{:.0f} kg/m^3", density->value));
  }

  void coverage(std::string_view label, Figure low, Figure high) {
    if (!low || !high) return;
    const double scale = is_inch() ? ft2_gal_per_m2_litre : 1;
    const auto figure = [&](double value) {
      return is_inch() ? fmt::format("{:.0f}", value * scale) : fmt::format("{:.2f}", value);
    };
    const std::string range =
        *low == *high ? figure(*low) : fmt::format("{} to {}", figure(*low), figure(*high));
    text(label, range + (is_inch() ? " ft^2/gal" : " m^2/l"));
  }

  void source(const std::string& source) {
    auto& sources = found_.sources;
    if (source.empty() || std::find(sources.begin(), sources.end(), source) != sources.end())
      return;
    sources.push_back(source);
  }

  [[nodiscard]] Found done() && { return std::move(found_); }

 private:
  [[nodiscard]] bool is_inch() const { return unit_ == LengthUnit::inch; }

  // Gauges and roots are decimals, all else a fraction of the rule.
  [[nodiscard]] std::string written(Length length) const {
    if (!is_inch()) return format_length(length, {.unit = LengthUnit::mm});
    const bool is_fraction = round_to(length, divide(Length::inches(1), 64)) == length;
    return is_fraction ? format_length(length) : fmt::format("{:.3f}\"", length.in_inches());
  }

  LengthUnit unit_ = LengthUnit::inch;
  Found found_ = {};
};

Found written_out(const NominalSize& size, LengthUnit unit) {
  Sheet sheet(name_of(size.kind), size.name, unit);
  sheet.list("also called", size.aka);
  sheet.section(size.kind == StockKind::sheet ? "thickness x width" : "dry", size.dry);
  sheet.length("thinnest allowed", size.thinnest);
  sheet.length("thickest allowed", size.thickest);
  sheet.section("green", size.green.value_or(Section()));
  sheet.section("nominal", size.nominal);
  sheet.length("length", size.sheet_length);
  sheet.lengths("lengths sold", size.lengths);
  if (board_feet(size, Length::inches(12)) > 0) {
    sheet.number("board feet per foot", board_feet(size, Length::inches(12)), 3);
  }
  sheet.source(size.source);
  sheet.source(size.length_source);
  return std::move(sheet).done();
}

std::string_view kind_of(const Species& species) {
  if (!species.members.empty()) return "commercial group";
  switch (species.kind) {
    case WoodKind::hardwood:
      return "hardwood";
    case WoodKind::softwood:
      return "softwood";
    case WoodKind::panel:
      return "panel";
  }
  return "";
}

Found written_out(const Species& species, LengthUnit unit) {
  Sheet sheet(kind_of(species), species.name, unit);
  sheet.list("also called", species.aka);
  sheet.list("members", species.members);
  sheet.number("specific gravity at 12 %", species.gravity_12, 2);
  sheet.number("specific gravity, ovendry (NDS)", species.gravity_nds, 2);
  sheet.density("density at 12 %", density_at_12(species));
  sheet.pressure("modulus of rupture", species.rupture);
  sheet.pressure("modulus of elasticity", species.stiffness);
  sheet.pressure("compression along the grain", species.crush_along);
  sheet.pressure("compression across the grain", species.crush_across);
  sheet.pressure("shear along the grain", species.shear);
  sheet.force("side hardness", species.hardness);
  sheet.number("shrinkage, radial", species.shrink_radial, 1, "%");
  sheet.number("shrinkage, tangential", species.shrink_tangential, 1, "%");
  sheet.number("shrinkage, volume", species.shrink_volume, 1, "%");
  sheet.number("movement per 1 % moisture, radial", species.move_radial, 5);
  sheet.number("movement per 1 % moisture, tangential", species.move_tangential, 5);
  for (const std::string& caution : species.cautions) sheet.text("caution", caution);
  sheet.source(species.gravity_source);
  sheet.source(species.strength_source);
  sheet.source(species.shrinkage_source);
  sheet.source(species.movement_source);
  return std::move(sheet).done();
}

Found written_out(const Fastener& fastener, LengthUnit unit) {
  Sheet sheet(name_of(fastener.kind), fastener.name, unit);
  sheet.list("also called", fastener.aka);
  sheet.length("length", fastener.length);
  sheet.length("diameter", fastener.diameter);
  sheet.length("root of the thread", fastener.root);
  sheet.length("head", fastener.head);
  sheet.length("thread", fastener.thread);
  sheet.length("pilot in softwood", fastener.pilot_soft);
  sheet.length("pilot in hardwood", fastener.pilot_hard);
  sheet.length("clearance hole", fastener.clearance);
  sheet.source(fastener.source);
  sheet.source(fastener.pilot_source);
  return std::move(sheet).done();
}

Found written_out(const Adhesive& adhesive, LengthUnit unit) {
  Sheet sheet("adhesive", adhesive.name, unit);
  sheet.list("also called", adhesive.aka);
  sheet.text("use", adhesive.use);
  sheet.number("open", adhesive.open_minutes, 0, "min");
  sheet.number("clamped", adhesive.clamp_minutes, 0, "min");
  sheet.number("full strength after", adhesive.full_hours, 0, "h");
  sheet.coverage("coverage", adhesive.coverage_m2_per_litre, adhesive.coverage_m2_per_litre);
  sheet.source(adhesive.source);
  return std::move(sheet).done();
}

Found written_out(const Finish& finish, LengthUnit unit) {
  Sheet sheet("finish", finish.name, unit);
  sheet.list("also called", finish.aka);
  sheet.text("use", finish.use);
  sheet.coverage("coverage of a coat", finish.coverage_m2_per_litre_low,
                 finish.coverage_m2_per_litre_high);
  sheet.text("coats", fmt::format("{}", finish.coats));
  sheet.source(finish.source);
  return std::move(sheet).done();
}

template <class T>
bool holds_all(const T& row, const std::vector<std::string>& query) {
  std::vector<std::string> words = lumber::words_of(row.name);
  for (const std::string& name : row.aka) {
    for (std::string& word : lumber::words_of(name)) words.push_back(std::move(word));
  }
  return std::all_of(query.begin(), query.end(), [&](const std::string& asked) {
    return std::any_of(words.begin(), words.end(),
                       [&](const std::string& word) { return lumber::holds_word(word, asked); });
  });
}

template <class T>
void add_matches(const std::vector<T>& rows, const std::vector<std::string>& query, LengthUnit unit,
                 std::vector<Found>& found) {
  for (const T& row : rows) {
    if (holds_all(row, query)) found.push_back(written_out(row, unit));
  }
}

}  // namespace

std::vector<Found> look_up(const Catalogue& catalogue, std::string_view query, LengthUnit unit) {
  const std::vector<std::string> words = lumber::words_of(query);
  std::vector<Found> found;
  add_matches(catalogue.sizes, words, unit, found);
  add_matches(catalogue.species, words, unit, found);
  add_matches(catalogue.fasteners, words, unit, found);
  add_matches(catalogue.adhesives, words, unit, found);
  add_matches(catalogue.finishes, words, unit, found);
  return found;
}

}  // namespace kw
