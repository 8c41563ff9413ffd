// What is bought and how it is sawn.
#include "kerfwright/planbook/lists.h"
#include "kerfwright/wire/plan_json.h"

#include "json.h"

namespace kw {
namespace {

Json document(const Job& job, std::string_view kind) {
  Json json = {{"contract", contract_version}, {"kind", kind}};
  json["pieces"] = Json::array();
  for (const JobPiece& p : job.pieces)
    json["pieces"].push_back({{"piece", p.piece->title}, {"count", p.count}});
  json["currency"] = job.currency;
  return json;
}

Json sticks_of(const Job& job, const StockProblem& problem, const std::vector<SawnStick>& sticks,
               const LengthStyle& style) {
  Json all = Json::array();
  for (const SawnStick& stick : sticks) {
    Json parts = Json::array();
    for (const Placed& placed : stick.parts) {
      const auto demand = static_cast<std::size_t>(placed.demand);
      const Demand& d = problem.problem.demands[demand];
      parts.push_back({{"part", label_of(job, problem.part_of_demand[demand])},
                       {"from", to_json(placed.from, style)},
                       {"length", to_json(d.length, style)},
                       {"left_slope", d.left_slope},
                       {"right_slope", d.right_slope},
                       {"flipped", placed.flipped},
                       {"turned", placed.turned}});
    }
    const auto index = static_cast<std::size_t>(stick.stock);
    const StickSource& source = problem.sources[index];
    Json faults = Json::array();
    for (const FaultyZone& zone : problem.problem.stocks[index].faults) {
      faults.push_back(
          {{"from", to_json(zone.from, style)}, {"to", to_json(zone.from + zone.length, style)}});
    }
    Json row = {{"sold_as", problem.problem.stocks[index].name},
                {"length", to_json(problem.problem.stocks[index].length, style)},
                {"on_hand", source.is_on_hand},
                {"faults", faults},
                {"parts", parts},
                {"offcut", to_json(stick.offcut, style)}};
    all.push_back(std::move(row));
  }
  return all;
}

Json aims_of(const Aims& aims) {
  Json json = {{"layouts", aims.layouts},      {"layouts_at_least", aims.layouts_at_least},
               {"stops", aims.stops},          {"stops_at_least", aims.stops_at_least},
               {"setups", aims.setups()},      {"setups_at_least", aims.setups_at_least()},
               {"kept_worth", aims.kept.coins}};
  json["kept_worth_at_most"] = aims.kept_at_most ? Json(aims.kept_at_most->coins) : Json(nullptr);
  return json;
}

Json sequence_of(const StockPlan& plan, const LengthStyle& style) {
  Json settings = Json::array();
  for (std::size_t s = 0; s < plan.sequence.settings.size(); ++s) {
    const StopSetting& setting = plan.sequence.settings[s];
    Json cuts = Json::array();
    for (const SawnOff& off : setting.cuts) {
      cuts.push_back({{"stick", off.stick + 1},
                      {"part", off.part + 1},
                      {"from_left", off.is_from_left},
                      {"hard_to_hold", off.is_hard_to_hold}});
    }
    settings.push_back({{"stop", stop_name(s)},
                        {"set_to", to_json(setting.over_all, style)},
                        {"near_slope", setting.near_slope},
                        {"far_slope", setting.far_slope},
                        {"cuts", cuts}});
  }
  return {{"at_least", plan.sequence.settings_at_least},
          {"boards_at_once", plan.at_once},
          {"stops", settings}};
}

Json plan_of(const Job& job, const StockPlan& plan, const LengthStyle& style) {
  const StockProblem& problem = plan.problem;
  Json json = {{"stock", problem.stock.name},
               {"sold_as", problem.stock.stock.sold_as},
               {"strips_per_board", problem.strips_per_board},
               {"ripped_after", problem.is_ripped_after},
               {"width", to_json(problem.problem.width, style)},
               {"kerf", to_json(problem.problem.saw.kerf, style)},
               {"has_prices", problem.has_prices},
               {"cost_coins", plan.plan.cost.coins},
               {"bound_coins", plan.plan.bound.coins},
               {"proved", plan.plan.is_proved},
               {"proof", proof_text(job, plan)},
               {"sticks", sticks_of(job, problem, plan.plan.sticks, style)},
               {"order_of_work", sequence_of(plan, style)}};
  json["aims"] = plan.plan.aims ? aims_of(*plan.plan.aims) : Json(nullptr);
  json["alternatives"] = Json::array();
  const auto words = alternatives_of(job, plan);
  for (std::size_t i = 0; i < plan.plan.alternatives.size(); ++i) {
    const Alternative& other = plan.plan.alternatives[i];
    json["alternatives"].push_back({{"words", i < words.size() ? words[i] : ""},
                                    {"cost_coins", other.cost.coins},
                                    {"aims", aims_of(other.aims)},
                                    {"sticks", sticks_of(job, problem, other.sticks, style)}});
  }
  return json;
}

Json sheet_plan_of(const Job& job, const SheetStockPlan& plan, const LengthStyle& style) {
  Json sheets = Json::array();
  for (const SawnSheet& sawn : plan.plan.sheets) {
    Json pieces = Json::array();
    for (const SheetPiece& piece : sawn.pieces) {
      Json row = {{"x", to_json(piece.x, style)},
                  {"y", to_json(piece.y, style)},
                  {"length", to_json(piece.length, style)},
                  {"width", to_json(piece.width, style)}};
      if (piece.use == SheetPiece::Use::part) {
        row["part"] = label_of(job, plan.part_of[static_cast<std::size_t>(piece.part)]);
        row["turned"] = piece.turned;
      } else if (piece.use == SheetPiece::Use::cut) {
        row["cut"] = piece.way == SheetCut::rip ? "along" : "across";
        row["at"] = to_json(piece.at, style);
        row["below"] = piece.below < 0 ? Json(nullptr) : Json(piece.below);
        row["beyond"] = piece.beyond < 0 ? Json(nullptr) : Json(piece.beyond);
      } else {
        row["offcut"] = true;
      }
      pieces.push_back(std::move(row));
    }
    const auto index = static_cast<std::size_t>(sawn.sheet);
    sheets.push_back({{"sold_as", plan.problem.sheets[index].name},
                      {"length", to_json(plan.problem.sheets[index].length, style)},
                      {"width", to_json(plan.problem.sheets[index].width, style)},
                      {"on_hand", plan.sources[index].is_on_hand},
                      {"order_of_cuts", cuts_of(sawn)},
                      {"pieces", pieces}});
  }
  return {{"stock", plan.stock.name},
          {"sold_as", plan.stock.stock.sold_as},
          {"kerf", to_json(plan.problem.kerf, style)},
          {"has_prices", plan.has_prices},
          {"cost_coins", plan.plan.cost.coins},
          {"bound_coins", plan.plan.bound.coins},
          {"proved", plan.plan.is_proved},
          {"proof", proof_text(job, plan)},
          {"sheets", sheets}};
}

}  // namespace

std::string buying_list_json(const Job& job, const Sawing& sawing, const LengthStyle& style) {
  Json json = document(job, "buying-list");
  json["boards"] = Json::array();
  const auto lines = buying_list_of(job, sawing);
  for (const BuyLine& line : lines) {
    Json row = {{"stock", line.stock},
                {"sold_as", line.sold_as},
                {"species", line.species},
                {"label", line.label},
                {"length", to_json(line.length, style)},
                {"width", line.width > Length() ? to_json(line.width, style) : Json(nullptr)},
                {"count", line.count},
                {"on_hand", line.is_on_hand},
                {"board_feet", line.board_feet}};
    row["each_coins"] = line.each ? Json(line.each->coins) : Json(nullptr);
    json["boards"].push_back(std::move(row));
  }
  const auto sum = to_pay(lines);
  json["to_pay_coins"] = sum ? Json(sum->coins) : Json(nullptr);
  json["hardware"] = Json::array();
  for (const Hardware& h : hardware_of(job))
    json["hardware"].push_back({{"name", h.name}, {"count", h.count}});
  return dump(json);
}

std::string sawing_plan_json(const Job& job, const Sawing& sawing, const LengthStyle& style) {
  Json json = document(job, "sawing-plan");
  json["rack_shared_best"] = sawing.is_rack_shared_best;
  json["plans"] = Json::array();
  for (const StockPlan& plan : sawing.plans) json["plans"].push_back(plan_of(job, plan, style));
  json["sheet_plans"] = Json::array();
  for (const SheetStockPlan& plan : sawing.sheets)
    json["sheet_plans"].push_back(sheet_plan_of(job, plan, style));
  return dump(json);
}

}  // namespace kw
