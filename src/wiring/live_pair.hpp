#pragma once
/// What stands near to what inside a box. Internal to wiring.

#include "cellstow/wiring/wiring.hpp"

namespace cellstow::wiring {

/// Steps of voltage at a post, in cells from the string's negative end.
inline int level_of(const WiredCell& cell, Pole pole) { return pole == Pole::plus ? cell.group : cell.group - 1; }

inline const Spot& spot_of(const WiredCell& cell, Pole pole) { return pole == Pole::plus ? cell.plus : cell.minus; }

/// Posts of another voltage and vents that a link passes close by.
void add_passed(const std::vector<WiredCell>& box_cells, const packing::BoxLayout& layout, Connection& link, const WiredCell& from,
                const WiredCell& to);

/// The greatest voltage between posts no farther apart than live parts of neighbours are.
/// @param cell_max_v  of one cell, full
std::optional<LivePair> worst_pair(const std::vector<WiredCell>& box_cells, double cell_max_v);

/// Room between two posts with their links on, mm.
/// @param out_mm  how far live metal stands out of the case
double clear_mm(const WiredCell& a, Pole pole_a, const WiredCell& b, Pole pole_b, double out_mm);

}  // namespace cellstow::wiring
