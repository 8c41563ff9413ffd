#include "kerfwright/wire/solved_json.h"

#include "json.h"

namespace kw {

std::string solved_json(const Problem& problem, const Plan& plan, double seconds) {
  Json json = {{"kind", "lengths"},
               {"best", plan.cost.coins},
               {"bound", plan.bound.coins},
               {"proved", plan.is_proved},
               {"seconds", seconds}};
  if (plan.aims) {
    json["layouts"] = plan.aims->layouts;
    json["layouts_at_least"] = plan.aims->layouts_at_least;
  }
  json["sticks"] = Json::array();
  for (const SawnStick& stick : plan.sticks) {
    Json parts = Json::array();
    for (const Placed& placed : stick.parts) {
      parts.push_back({{"part", problem.demands[static_cast<std::size_t>(placed.demand)].name},
                       {"from", placed.from.in_ticks()},
                       {"flipped", placed.flipped},
                       {"turned", placed.turned}});
    }
    json["sticks"].push_back({{"stock", problem.stocks[static_cast<std::size_t>(stick.stock)].name},
                              {"parts", parts},
                              {"offcut", stick.offcut.in_ticks()}});
  }
  return dump(json);
}

std::string solved_json(const SheetProblem& problem, const SheetPlan& plan, double seconds) {
  const bool is_money = problem.aim == SheetAim::least_money;
  Json json = {{"kind", "sheets"},
               {"best", is_money ? plan.cost.coins : plan.worth},
               {"bound", is_money ? plan.bound.coins : plan.worth_bound},
               {"proved", plan.is_proved},
               {"seconds", seconds}};
  json["sheets"] = Json::array();
  for (const SawnSheet& sawn : plan.sheets) {
    Json parts = Json::array();
    for (const SheetPiece& piece : sawn.pieces) {
      if (piece.use != SheetPiece::Use::part) continue;
      parts.push_back({{"part", problem.parts[static_cast<std::size_t>(piece.part)].name},
                       {"x", piece.x.in_ticks()},
                       {"y", piece.y.in_ticks()},
                       {"turned", piece.turned}});
    }
    json["sheets"].push_back(
        {{"sheet", problem.sheets[static_cast<std::size_t>(sawn.sheet)].name}, {"parts", parts}});
  }
  return dump(json);
}

}  // namespace kw
