#pragma once
/// Heights layer by layer, from the floor's underside to the top of the lid.

#include <vector>

#include "cellstow/box/box.hpp"

namespace cellstow::box {

/// Live metal above the case in the given stance: terminal_top - height when the posts look up,
/// nothing when the cell lies on edge or flat.
Length live_metal_above_case(const survey::Cell& cell, survey::Stance stance);

/// The layers of a box, each resting on the one before.
///
/// (1) The thicknesses add up, to the micrometre, to lid_top - z_bottom.
/// (2) Height that no rule asks for stands in a layer whose name starts with "spare height".
///
/// @param layout  for the rule "loose" floor, liner and lid count as zero
std::vector<StackLayer> stack_of_heights(const packing::BoxLayout& layout, const survey::Cell& cell,
                                         const survey::Rules& rules);

}  // namespace cellstow::box
