// What wood and hardware are: sections as sold, species, fasteners, adhesives, finishes. All
// figures come from data/*.toml, each row with its source; nothing is looked up elsewhere.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "kerfwright/diag/outcome.h"
#include "kerfwright/measure/angle.h"
#include "kerfwright/measure/length.h"

namespace kw {

// thickness x width, as the trade says it.
struct Section {
  Length thickness = {};
  Length width = {};
  friend bool operator==(const Section&, const Section&) = default;
};

enum class StockKind : std::uint8_t {
  board,
  dimension,
  timber,
  picket,
  deck_board,
  sheet,
  planed_metric
};
[[nodiscard]] std::string_view name_of(StockKind kind);

// A size as it is called and sold.
struct NominalSize {
  std::string name = {};  // "2x4", "5/4x6", "picket 5/8x5-1/2", "plywood 3/4", "planed 19x89"
  std::vector<std::string> aka = {};  // "1x6 picket", "19x89"
  StockKind kind = StockKind::board;
  Section dry = {};  // at or below 19 % moisture; for sheets thickness x sheet width
  Length thinnest = {}, thickest = {};  // limits of the standard; zero where it is silent
  std::optional<Section> green = {};
  Section nominal = {};              // by which board feet are reckoned; zero where not sold so
  Length sheet_length = {};          // sheets only
  std::vector<Length> lengths = {};  // lengths commonly sold; empty for sheets
  std::string source = {};
  std::string length_source = {};
};

enum class WoodKind : std::uint8_t { hardwood, softwood, panel };

// A figure that a table may lack.
using Figure = std::optional<double>;

struct Species {
  std::string name = {};                  // "Oak, white", as the handbook's table has it
  std::vector<std::string> aka = {};      // "white oak"
  std::vector<std::string> members = {};  // a commercial group ("spruce-pine-fir"): species in it
  WoodKind kind = WoodKind::hardwood;
  Figure gravity_12 = {};                // ovendry mass / volume at 12 % (Wood Handbook)
  Figure gravity_nds = {};               // ovendry mass / ovendry volume (NDS G); never mix the two
  std::optional<Pressure> rupture = {};  // modulus of rupture, static bending, 12 %
  std::optional<Pressure> stiffness = {};     // modulus of elasticity, static bending, 12 %
  std::optional<Pressure> crush_along = {};   // compression parallel to grain, 12 %
  std::optional<Pressure> crush_across = {};  // compression perpendicular, at proportional limit
  std::optional<Pressure> shear = {};         // shear parallel to grain
  std::optional<Force> hardness = {};         // side hardness
  Figure shrink_radial = {}, shrink_tangential = {}, shrink_volume = {};  // % green to ovendry
  Figure move_radial = {}, move_tangential = {};  // fraction of width per 1 % moisture, 6-14 %
  std::vector<std::string> cautions = {};         // dust, food contact, with source in the text
  std::string strength_source = {}, shrinkage_source = {}, movement_source = {},
              gravity_source = {};
};

// Density at 12 % moisture: gravity_12 * 1000 * 1.12 kg/m^3 (Wood Handbook FPL-GTR-190 ch. 4); from
// gravity_nds by the NDS Supplement 3.1 form when only that is known; empty when neither is.
[[nodiscard]] std::optional<Density> density_at_12(const Species& species);

enum class FastenerKind : std::uint8_t {
  wood_screw,
  deck_screw,
  pocket_screw,
  nail,
  dowel,
  bolt,
  lag_screw
};
[[nodiscard]] std::string_view name_of(FastenerKind kind);

struct Fastener {
  std::string name = {};              // "wood screw 8 x 1-1/4", "dowel 3/8 x 2"
  std::vector<std::string> aka = {};  // "screw-8x1-1/4"
  FastenerKind kind = FastenerKind::wood_screw;
  Length diameter = {};  // shank, nominal
  Length root = {};      // root of the thread; zero where there is none
  Length head = {};      // head's diameter (a hexagon's flats); zero where none is published
  Length length = {};
  Length thread = {};  // threaded length; zero where there is none
  Length pilot_soft = {}, pilot_hard = {}, clearance = {};  // bits; zero where none is needed
  std::string source = {}, pilot_source = {};
};

struct Adhesive {
  std::string name = {};
  std::vector<std::string> aka = {};
  std::string use = {};  // where it serves: indoors, outdoors, gap filling
  double open_minutes = 0, clamp_minutes = 0, full_hours = 0;
  Figure coverage_m2_per_litre = {};
  std::string source = {};
};

struct Finish {
  std::string name = {};
  std::vector<std::string> aka = {};
  std::string use = {};
  Figure coverage_m2_per_litre_low = {}, coverage_m2_per_litre_high = {};
  int coats = 0;
  std::string source = {};
};

struct Catalogue {
  std::vector<NominalSize> sizes = {};
  std::vector<Species> species = {};
  std::vector<Fastener> fasteners = {};
  std::vector<Adhesive> adhesives = {};
  std::vector<Finish> finishes = {};
};

// Reads tables in the format of data/README.md. Each message begins with the file's name and line,
// and spans are offsets in that file. Errors: lumber.syntax (no TOML, or over 1 MB),
// lumber.missing, lumber.bad-value, lumber.unknown-key, lumber.no-source (every row must name its
// source), lumber.twice (a name used by two rows of a kind). A row with an error is left out. At
// most 100 errors of a file are told.
[[nodiscard]] Reading<Catalogue> read_catalogue(const std::vector<Text>& tables);

// The tables that the program carries, read once.
[[nodiscard]] const Catalogue& built_in_catalogue();

// By name or by another name, upper and lower case alike, with spaces, hyphens, commas and brackets
// not told apart and the words in any order ("white oak" finds "Oak, white"). A size is one word
// however it is spaced: "8 x 1 1/4" is "8x1-1/4". Null when there is none.
[[nodiscard]] const NominalSize* find_size(const Catalogue& catalogue, std::string_view name);
[[nodiscard]] const Species* find_species(const Catalogue& catalogue, std::string_view name);
[[nodiscard]] const Fastener* find_fastener(const Catalogue& catalogue, std::string_view name);
[[nodiscard]] const Adhesive* find_adhesive(const Catalogue& catalogue, std::string_view name);
[[nodiscard]] const Finish* find_finish(const Catalogue& catalogue, std::string_view name);

// All names of a kind, for suggestions.
[[nodiscard]] std::vector<std::string> size_names(const Catalogue& catalogue);
[[nodiscard]] std::vector<std::string> species_names(const Catalogue& catalogue);
[[nodiscard]] std::vector<std::string> fastener_names(const Catalogue& catalogue);

// Every row whose names hold all the words of `query` (all rows when it has none), in the order of
// the tables, written out with every figure, its unit and its source. A word may be part of a word
// of the name ("cedar" finds "redcedar"), but a figure must be whole ("8" finds no "18"). `unit`
// chooses in, psi, lbf, lb/ft^3 and ft^2/gal, or mm, MPa, N, kg/m^3 and m^2/l.
struct Found {
  std::string kind = {};  // "species", "size", "wood screw", ...
  std::string name = {};
  std::vector<std::pair<std::string, std::string>> rows = {};  // label, figure with unit
  std::vector<std::string> sources = {};
};
[[nodiscard]] std::vector<Found> look_up(const Catalogue& catalogue, std::string_view query,
                                         LengthUnit unit);

// Board feet of one stick: nominal thickness (1 in when under 1 in) x nominal width x length / 144,
// in in^3 (PS 20; trade definition). Zero for a size not sold by the board foot.
[[nodiscard]] double board_feet(const NominalSize& size, Length length);

}  // namespace kw
