#include "kerfwright/workbench/recompute.h"

#include <cmath>
#include <fmt/core.h>

#include "kerfwright/planbook/steps.h"

namespace kw {
namespace {

// Common wood of two boards, told at the first board's place with a note at the second's.
Diagnostic clash_diagnostic(const Snapshot& now, const Clash& clash) {
  const auto& a =
      now.piece
          .boards[static_cast<std::size_t>(now.bodies[static_cast<std::size_t>(clash.a)].board)];
  const auto& b =
      now.piece
          .boards[static_cast<std::size_t>(now.bodies[static_cast<std::size_t>(clash.b)].board)];
  const Vec3 size = clash.high - clash.low;
  const auto written = [&](double mm) {
    return format_length(round_to(Length::mm(mm), now.piece.rule, Rounding::up),
                         {.unit = now.piece.unit});
  };
  return {.code = "solid.clash",
          .severity = Severity::warning,
          .at = a.at,
          .message = fmt::format("`{}` and `{}` want the same room: {} x {} x {} of it", a.id, b.id,
                                 written(size.x), written(size.y), written(size.z)),
          .notes = {{b.at, fmt::format("`{}` is made here", b.id)}},
          .hint =
              "move one of them, cut its end against the other, or join them with a joint that "
              "makes room"};
}

void write_in(Resolved& piece, LengthUnit unit) {
  piece.unit = unit;
  piece.rule = unit == LengthUnit::mm ? Length::mm(1) : divide(Length::inches(1), 16);
}

}  // namespace

Snapshot recompute(const Text& text, const Catalogue& catalogue, ShapeCache& cache,
                   const std::vector<Override>& overrides, std::optional<LengthUnit> unit) {
  Snapshot now;
  now.document = keep(read_piece(text), now.diagnostics);
  now.piece = keep(resolve(now.document, catalogue, overrides), now.diagnostics);
  settle_fasteners(now.piece);
  if (unit && *unit != now.piece.unit) write_in(now.piece, *unit);
  now.bodies = keep(bodies_of(now.piece, cache), now.diagnostics);
  now.clashes = clashes_in(now.bodies, cache);
  now.meshes = meshes_of(now.bodies, cache);
  now.cut_list = cut_list_of(now.piece, now.bodies);
  for (const Clash& clash : now.clashes) now.diagnostics.push_back(clash_diagnostic(now, clash));
  return now;
}

ShopPlan plan_of(Snapshot& snapshot, const Effort& effort) {
  ShopPlan plan;
  plan.closing = close_up(snapshot.piece, snapshot.bodies, snapshot.cut_list);
  plan.setups = setups_of(snapshot.piece, snapshot.cut_list);
  plan.sawing = keep(saw(job_of(snapshot.piece, snapshot.cut_list), effort), plan.diagnostics);
  plan.assembly = assembly_in(snapshot);
  for (Diagnostic& fault : unknown_steps(snapshot.piece, plan.assembly))
    plan.diagnostics.push_back(std::move(fault));
  plan.findings = findings_of(snapshot, {.draws = {.count = 10'000}});
  return plan;
}

Assembly assembly_in(const Snapshot& snapshot) {
  return assembly_of(snapshot.piece, snapshot.bodies, snapshot.cut_list,
                     contacts_in(snapshot.bodies));
}

std::vector<Finding> findings_of(const Snapshot& snapshot, const SurveyOptions& options) {
  return survey(snapshot.piece, snapshot.bodies, built_in_catalogue(), options);
}

PlanData data_of(const Snapshot& snapshot, const ShopPlan& plan) {
  return {&snapshot.piece, &snapshot.bodies, &snapshot.clashes, &snapshot.cut_list, &plan.closing,
          &plan.setups,    &plan.sawing,     &plan.assembly,    &plan.findings};
}

}  // namespace kw
