#pragma once
/// Walls in plan of a cavity measured across x or y. Internal to region.

#include "walls.hpp"

namespace cellstow::region {

/// As section_walls, for sections across x or y.
std::vector<Wall> upright_section_walls(const survey::Sections& sections, survey::Between reading, Column column,
                                        Um reach);

}  // namespace cellstow::region
