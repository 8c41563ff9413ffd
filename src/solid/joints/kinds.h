// Private to solid: what each kind of joint takes away. Each files its own faults and gives the
// patch through which fasteners may go, where there is one.
#pragma once

#include "joints/joining.h"

namespace kw {

// Where the boards cross, each gives up its share of the thickness that they have in common.
std::optional<Patch> cut_half_lap(Joining& joining);
// A slot in the middle of a, the tongue that is left of b in it.
std::optional<Patch> cut_bridle(Joining& joining);
// Notch, housing, rabbet, groove: a gives way to b.
std::optional<Patch> cut_seat(Joining& joining, FeatureKind kind);
// A rabbet or groove in a alone.
void cut_rabbet(Joining& joining);
void cut_groove(Joining& joining);
// b's end, made a tenon, and its mortise in a.
std::optional<Patch> cut_tenon(Joining& joining);

// Faces of the two sticks that bear on one another (at most `touching` apart): the largest patch.
std::optional<Patch> contact_of(const Joining& joining);
inline constexpr double touching = 0.5;  // mm

// Holes for the joint's dowels, pocket screws or fastener, through the patch.
void drill(Joining& joining, const std::optional<Patch>& patch);
inline constexpr int most_fasteners = 100;  // in one joint

}  // namespace kw
