// What can be held at a saw. The law gives no least size of a workpiece (29 CFR 1910.213 has none);
// the figures are those of machine manuals and common practice, no published source. Pure.
#pragma once

#include <string_view>

namespace kw {

inline constexpr double shortest_at_mitre_saw = 203.2;  // 8 in: shorter is clamped, or cut last
inline constexpr double hands_from_blade = 152.4;       // 6 in
inline constexpr double shortest_at_rip = 254;          // 10 in: the blade's diameter
inline constexpr double narrowest_at_rip = 38.1;        // 1 1/2 in: narrower wants a push block
inline constexpr double shortest_at_jointer = 304.8;    // 12 in
inline constexpr double shortest_at_planer = 355.6;     // 14 in
inline constexpr double thinnest_leftover = 6.35;       // 1/4 in: a thinner strip is thrown back
inline constexpr double widest_at_mitre_saw = 292.1;    // 11 1/2 in: a 12 in sliding saw
inline constexpr double thickest_at_mitre_saw = 88.9;   // 3 1/2 in

// dBA allowed for hours of work: OSHA halves the time each 5 dB above 90 (29 CFR 1910.95, from
// memory), NIOSH each 3 dB above 85 (98-126, from memory).
[[nodiscard]] double hours_allowed_osha(double decibels);
[[nodiscard]] double hours_allowed_niosh(double decibels);

}  // namespace kw
