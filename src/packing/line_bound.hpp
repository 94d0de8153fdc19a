#pragma once
/// A bound on mixed arrangements from what any straight line across the plan can carry. Internal to packing.

#include "setup.hpp"

namespace cellstow::packing {

/// No arrangement of blocks of this tier, in both directions at once, holds more cells in this plan.
///
/// Widen every block by the gap at its high ends. A line along x then carries blocks along x (H) and blocks along y (V)
/// side by side: their lengths and breadths, gaps included, add up to no more than its free runs. Taken
/// over all lines, a block of n cells along x is met over its breadth, one along y over its length. So for any weights a, b
///
///   a (cells in H) + b (cells in V) <= integral over the lines of
///       max { sum of a n / (breadth + gap) + b n / (length + gap) : what the line's runs can carry }
///
/// and the same with lines along y. The most cells that keep all these inequalities is the bound: the bar bound for
/// equal rectangles in a rectangle (Isermann 1987, from memory; Barnes 1979 in spirit), here for any
/// plan, blocks of several lengths, and whole blocks only on every line.
/// For one box, which cannot reach from one part of the plan to the next, the best part counts alone.
int line_bound(const Setup& setup, const region::FreePlan& plan, const Tier& tier, long long& steps);

/// The same for blocks in several boxes, each in one of the plans, no two over the same spot.
/// @param gap  least room along x or y between any two blocks
int line_bound(const Setup& setup, const std::vector<region::FreePlan>& plans, Um gap, const Tier& tier,
               long long& steps);

}  // namespace cellstow::packing
