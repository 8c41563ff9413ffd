// Private to checks: a piece under survey, with what several checks ask of it.
#pragma once

#include <fmt/format.h>
#include <map>
#include <optional>
#include <utility>

#include "kerfwright/checks/fastener.h"
#include "kerfwright/checks/movement.h"
#include "kerfwright/checks/pool.h"
#include "kerfwright/checks/survey.h"
#include "kerfwright/checks/timber.h"
#include "kerfwright/measure/text.h"

namespace kw::surveying {

inline constexpr double inch = 25.4;
inline constexpr double gravity_n_per_kg = 9.80665;
inline constexpr double psi = 0.00689475729316836;  // MPa

constexpr std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

// A body as half-spaces in the world: the planes that trim its stick, less the hollows taken out.
// The hollow parts of an outline are counted as wood.
struct WoodHollow {
  std::vector<Plane> planes = {};
  int feature = 0;
};
struct Wood {
  int board = -1;
  Frame frame = {};
  const Shape* shape = nullptr;
  std::vector<Plane> trims = {};
  std::vector<WoodHollow> hollows = {};
  Vec3 low = {}, high = {};  // box in the world
  // Whether a ball lies in the wood, hollows not counted.
  [[nodiscard]] bool is_in_stick(Vec3 p, double radius = 0) const;
  [[nodiscard]] bool is_in(Vec3 p) const;
};
[[nodiscard]] Wood wood_of(const Body& body);
[[nodiscard]] bool is_in_hollow(const WoodHollow& hollow, Vec3 p, double radius);

struct Scene {
  const Resolved& piece;
  const std::vector<Body>& bodies;
  const Catalogue& catalogue;
  const SurveyOptions& options;
  std::vector<Wood> woods = {};        // by body
  std::vector<int> body_of = {};       // by board, -1: none
  std::vector<Contact> contacts = {};  // touching, at most 0.6 mm apart
  std::vector<Driven> driven = {};
  std::vector<const Species*> species = {};  // by stock, null: not said
  std::map<std::string, const Fastener*> fasteners = {};
  bool is_outdoors = false;
  Climate climate = {};
  std::optional<double> built = {};  // moisture when it is put together, as the file says
  double floor = 0;                  // the lowest z
  std::vector<Finding> findings = {};
  std::optional<std::vector<Pool>> pools = {};

  void add(Finding finding) { findings.push_back(std::move(finding)); }
  [[nodiscard]] std::string length(double mm, Rounding how = Rounding::nearest) const;
  [[nodiscard]] std::string force(double newton) const;
  [[nodiscard]] std::string mass(double kg) const;
  [[nodiscard]] const ResolvedBoard& board(int index) const { return piece.boards[at(index)]; }
  [[nodiscard]] const std::string& id(int index) const { return board(index).id; }
  [[nodiscard]] const Species* species_of(int board) const;
  [[nodiscard]] const Fastener* fastener(const ResolvedJoint& joint) const;
  [[nodiscard]] const ResolvedStock& stock_of(int board) const {
    return piece.stocks[at(this->board(board).stock)];
  }
  [[nodiscard]] const std::string& grade_of(int board) const { return stock_of(board).grade; }
  // Of the highest of these boards above the floor; 0 where there is none.
  [[nodiscard]] double top_of(const std::vector<int>& boards) const;
  // What holds soil or water; found when first asked for.
  [[nodiscard]] const std::vector<Pool>& hollows();
  // NDS gravity of a board's species, reckoned from the 12 % one where the table has none; 0 when
  // the species is not said.
  [[nodiscard]] double gravity_of(int board) const;
  [[nodiscard]] Service service() const { return is_outdoors ? Service::wet : Service::dry; }
};
[[nodiscard]] Scene scene_of(const Resolved& piece, const std::vector<Body>& bodies,
                             const Catalogue& catalogue, const SurveyOptions& options);

// Each adds its findings.
void survey_screws(Scene& scene);
void survey_frame(Scene& scene);
void survey_standing(Scene& scene);
void survey_movement(Scene& scene);
void survey_tolerance(Scene& scene);
void survey_use(Scene& scene);
void survey_shop(Scene& scene);

[[nodiscard]] bool is_glued(const ResolvedJoint& joint);

// Of a joint's id the name that the file gives it: `middle` of `ends/cross/middle`, `slat` of
// `slat/6`.
[[nodiscard]] std::string declared_name(std::string_view id);

inline constexpr std::string_view practice = "common practice, no published source";

}  // namespace kw::surveying
