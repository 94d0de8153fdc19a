#pragma once
/// A bound on equal cells in right-angled regions, both ways round. Internal to packing.

#include "bay_region.hpp"

namespace cellstow::packing {

/// What lines across the regions can carry, exactly: the bar bound (pallet_bound.hpp) with the free runs of every slab in place of whole sides.
///
/// With H cells lying along x and V along y, for weights a of long and b of short sides on a line,
///
///   H w a + V l b <= sum over slabs of (depth of the slab) x (most a i + b j in its free runs)
///
/// and the same with x and y exchanged. Weights: those of the hull edges of every run.
/// @pre cells keep nothing free between them
int bay_bound(const std::vector<PlacedRegion>& regions, Um long_side, Um short_side);

}  // namespace cellstow::packing
