#include "kerfwright/lumber/sold.h"
#include "kerfwright/parts/cut_list.h"

namespace kw {

std::string_view name_of(FeatureKind kind) {
  switch (kind) {
    case FeatureKind::stick:
      return "stick";
    case FeatureKind::start:
      return "start";
    case FeatureKind::end:
      return "end";
    case FeatureKind::cut:
      return "cut";
    case FeatureKind::taper:
      return "taper";
    case FeatureKind::outline:
      return "outline";
    case FeatureKind::corner:
      return "corner";
    case FeatureKind::half_lap:
      return "half-lap";
    case FeatureKind::notch:
      return "notch";
    case FeatureKind::housing:
      return "housing";
    case FeatureKind::rabbet:
      return "rabbet";
    case FeatureKind::groove:
      return "groove";
    case FeatureKind::bridle:
      return "bridle";
    case FeatureKind::tenon:
      return "tenon shoulder";
    case FeatureKind::mortise:
      return "mortise";
    case FeatureKind::hole:
      return "hole";
    case FeatureKind::dowel_hole:
      return "dowel hole";
    case FeatureKind::pilot_hole:
      return "pilot hole";
    case FeatureKind::clearance_hole:
      return "clearance hole";
    case FeatureKind::pocket_hole:
      return "pocket hole";
  }
  return "";
}

std::string_view name_of(Side side) {
  switch (side) {
    case Side::front:
      return "upper face";
    case Side::back:
      return "lower face";
    case Side::low_edge:
      return "marked edge";
    case Side::high_edge:
      return "far edge";
    case Side::start:
      return "hook end";
    case Side::end:
      return "far end";
  }
  return "";
}

Length bit_for(const HoleMark& hole, LengthUnit unit) {
  const BitFor use = hole.kind == FeatureKind::clearance_hole ? BitFor::clearance
                     : hole.kind == FeatureKind::dowel_hole   ? BitFor::dowel
                                                              : BitFor::hole;
  return bit_sold(hole.diameter, use, unit);
}

}  // namespace kw
