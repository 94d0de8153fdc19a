#pragma once
/// How far apart bare live parts must be along a surface.

namespace cellstow::wiring {

/// Least creepage distance, mm, at the next higher voltage of the table.
/// Source: IEC 60664-1 Table F.4, pollution degree 3, material group III (basic insulation; reinforced takes twice as much).
/// @return 0 above 800 V, where this extract of the table ends
double creepage_mm(double volts);

}  // namespace cellstow::wiring
