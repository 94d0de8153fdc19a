#pragma once
/// A convex outline of few corners whose walls touch the shell round the contents. Internal to packing.

#include <optional>
#include <vector>

#include "outline.hpp"

namespace cellstow::packing {

/// Contents that far more than the shell from walls leave room for an outline with its corners on the grid, um.
inline constexpr Um tangent_slack_um = 4;

/// A convex outline clear of every wall, each of its sides at the shell from the hull of the contents, no angle under 90 degrees.
///
/// Sides square with the box, along the hull's edges and along the cavity's walls are all drawn at first; then one side
/// after another is left out and its neighbours are lengthened until they meet, least area added first, as long as the outline stays clear.
/// Slanting sides lie up to 2.3 um farther out than the shell, for the rounding of their corners.
/// Counter-clockwise; empty when more than `most_corners` are left or not even the first outline is clear.
std::optional<std::vector<PointUm>> tangent_outline(const region::FreePlan& plan, const std::vector<RectUm>& contents, Um shell,
                                                    std::size_t most_corners);

}  // namespace cellstow::packing
