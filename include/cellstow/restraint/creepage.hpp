#pragma once
/// How far metal has to keep from live parts along a surface.

namespace cellstow::restraint {

/// Least creepage distance, mm, pollution degree 3, material group III; next higher voltage of the table.
/// Source: IEC 60664-1 Table F.4.
/// @param volts  highest direct voltage, up to 800; above, the last row grows in proportion
double creepage_mm(double volts);

/// Doubled for reinforced insulation (from memory), and never below this between live metal and a strap or bar with a sleeve on.
/// Common practice, no source.
inline constexpr double bare_metal_floor_mm = 10;

}  // namespace cellstow::restraint
