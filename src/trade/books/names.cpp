#include "kerfwright/trade/books.h"

namespace kw::trade {

std::string_view name_of(AccountKind kind) {
  switch (kind) {
    case AccountKind::cash:
      return "cash";
    case AccountKind::boards:
      return "boards";
    case AccountKind::supplies:
      return "supplies";
    case AccountKind::in_work:
      return "work in progress";
    case AccountKind::owed_by_buyer:
      return "owed by buyers";
    case AccountKind::cost_of_sales:
      return "cost of sales";
    case AccountKind::running_costs:
      return "running costs";
    case AccountKind::fees:
      return "fees";
    case AccountKind::lost:
      return "lost";
    case AccountKind::sales:
      return "sales";
    case AccountKind::tax:
      return "tax";
    case AccountKind::owner:
      return "owner";
  }
  return "";
}

std::string_view name_of(BoardState state) {
  switch (state) {
    case BoardState::on_hand:
      return "on hand";
    case BoardState::reserved:
      return "reserved";
    case BoardState::sawn:
      return "sawn up";
    case BoardState::gone:
      return "gone";
  }
  return "";
}

std::string_view name_of(Activity activity) {
  switch (activity) {
    case Activity::job:
      return "job";
    case Activity::board:
      return "board";
    case Activity::set_up:
      return "set-up";
    case Activity::cut:
      return "cut";
    case Activity::hole:
      return "hole";
    case Activity::screw:
      return "screw";
    case Activity::glue_up:
      return "glue-up";
    case Activity::assembly:
      return "assembly";
    case Activity::sanding:
      return "sanding";
    case Activity::coat:
      return "coat";
  }
  return "";
}

std::optional<Activity> activity_named(std::string_view name) {
  for (std::size_t a = 0; a < activities; ++a) {
    if (name_of(static_cast<Activity>(a)) == name) return static_cast<Activity>(a);
  }
  return std::nullopt;
}

}  // namespace kw::trade
