#include "kerfwright/trade/work_of.h"

#include <cmath>
#include <limits>
#include <set>
#include <tuple>

#include "kerfwright/lumber/catalogue.h"

namespace kw::trade {
namespace {

constexpr double mm2_in_m2 = 1e6;

double amount_of(std::size_t count) {
  return static_cast<double>(count);
}

double boards_in(const Job& job, const Sawing& sawing) {
  double boards = 0;
  for (const BuyLine& line : buying_list_of(job, sawing)) boards += line.count;
  return boards;
}

// Set-ups of all pieces, those alike once.
double setups_in(const std::vector<PieceShop>& shop) {
  std::set<std::tuple<Machine, long, long, Length, Length>> setups;
  const auto tenths = [](Angle angle) { return std::lround(angle.in_degrees() * 10); };
  for (const PieceShop& piece : shop) {
    if (piece.setups == nullptr) continue;
    for (const Setup& setup : *piece.setups)
      for (const SetupCut& cut : setup.cuts)
        setups.insert(
            {setup.machine, tenths(setup.swing), tenths(setup.tilt), setup.fence, cut.stop});
  }
  return amount_of(setups.size());
}

Work cuts_in(const std::vector<Setup>& setups) {
  Work work;
  for (const Setup& setup : setups) {
    const Activity activity = setup.machine == Machine::drill ? Activity::hole : Activity::cut;
    for (const SetupCut& cut : setup.cuts) work.of(activity) += cut.count;
  }
  return work;
}

Work joints_in(const Resolved& piece) {
  Work work;
  for (const Driven& driven : driven_in(piece)) {
    const std::string& said = piece.joints[static_cast<std::size_t>(driven.joint)].fastener;
    const Fastener* fastener = find_fastener(built_in_catalogue(), said);
    const bool is_dowel =
        said.empty() || (fastener != nullptr && fastener->kind == FastenerKind::dowel);
    if (!is_dowel) work.of(Activity::screw) += 1;
  }
  for (const ResolvedJoint& joint : piece.joints)
    if (!joint.glue.empty()) work.of(Activity::glue_up) += 1;
  return work;
}

double panels_in(const CutList& list) {
  double panels = 0;
  for (const Part& part : list.parts)
    if (part.strips > 1) panels += amount_of(part.members.size());
  return panels;
}

double steps_in(const Assembly& assembly) {
  double steps = 0;
  for (const AssemblyStep& step : assembly.steps) {
    const bool is_apart = step.sub >= 0;
    steps +=
        is_apart ? amount_of(assembly.subs[static_cast<std::size_t>(step.sub)].copies.size()) : 1;
  }
  return steps;
}

Work work_on(const JobPiece& piece, const PieceShop& shop) {
  Work work = joints_in(*piece.piece);
  if (shop.setups != nullptr) work = work + cuts_in(*shop.setups);
  if (shop.assembly != nullptr) work.of(Activity::assembly) += steps_in(*shop.assembly);
  work.of(Activity::glue_up) += panels_in(*piece.cut_list);
  const double faces = surface_of({piece.piece, piece.cut_list, 1}).value / mm2_in_m2;
  if (shop.surface.is_sanded) work.of(Activity::sanding) += faces;
  work.of(Activity::coat) += faces * shop.surface.coats;
  return work * piece.count;
}

}  // namespace

Work work_of(const Job& job, const Sawing& sawing, const std::vector<PieceShop>& shop) {
  Work work;
  for (std::size_t p = 0; p < job.pieces.size(); ++p)
    work = work + work_on(job.pieces[p], p < shop.size() ? shop[p] : PieceShop{});
  work.of(Activity::job) = 1;
  work.of(Activity::board) = boards_in(job, sawing);
  work.of(Activity::set_up) = setups_in(shop);
  return work;
}

Area surface_of(const JobPiece& piece) {
  double faces = 0;
  for (const Part& part : piece.cut_list->parts) {
    const Vec3 s = part.size;
    faces += 2 * (s.x * s.y + s.y * s.z + s.z * s.x) * amount_of(part.members.size());
  }
  return {faces * piece.count};
}

std::map<std::string, Area> glued_in(const JobPiece& piece) {
  std::map<std::string, Area> faces;
  for (const ResolvedJoint& joint : piece.piece->joints) {
    if (joint.glue.empty()) continue;
    const auto section_of = [&](int board) {
      if (board < 0) return std::numeric_limits<double>::max();
      const Section& s = piece.piece->boards[static_cast<std::size_t>(board)].section;
      return s.thickness.in_mm() * s.width.in_mm();
    };
    faces[joint.glue].value += std::min(section_of(joint.a), section_of(joint.b)) * piece.count;
  }
  const std::string panel_glue = faces.size() == 1 ? faces.begin()->first : "";
  for (const Part& part : piece.cut_list->parts) {
    if (part.strips > 1)
      faces[panel_glue].value += (part.strips - 1) * part.size.x * part.size.z *
                                 amount_of(part.members.size()) * piece.count;
  }
  return faces;
}

}  // namespace kw::trade
