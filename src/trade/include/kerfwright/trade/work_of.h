// How much work a job is, counted from its cut lists, set-ups, sawing plan and steps.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "kerfwright/parts/assembly.h"
#include "kerfwright/parts/sawing.h"
#include "kerfwright/parts/setups.h"
#include "kerfwright/trade/work.h"

namespace kw::trade {

// What is done to the faces of the parts: of the box around each, all six.
struct Surface {
  bool is_sanded = true;
  int coats = 0;
};

// What is known of each piece of the job, in its order; what is null counts nothing.
struct PieceShop {
  const std::vector<Setup>* setups = nullptr;
  const Assembly* assembly = nullptr;
  Surface surface = {};
};

// Of all its pieces as often as they are made. A set-up (machine, swing, tilt, fence, stop) that
// several pieces share counts once, whatever the number of pieces; a cut counts for each part; a
// board once. Fasteners are screws, but for dowels; a dowel, and a joint or panel that is glued, is
// a part of a glue-up.
[[nodiscard]] Work work_of(const Job& job, const Sawing& sawing,
                           const std::vector<PieceShop>& shop);

// The faces of all parts of the pieces, six of each box.
[[nodiscard]] Area surface_of(const JobPiece& piece);

// The faces that each glue holds together: of glued joints the smaller board's section, of panels
// their long edges (with the one glue that its joints name; "" where there is not one). Common
// practice, no published source.
[[nodiscard]] std::map<std::string, Area> glued_in(const JobPiece& piece);

}  // namespace kw::trade
