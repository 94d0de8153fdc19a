#pragma once
/// For sections across x or y: over which stretches of the lateral axis an upright column would meet material.

#include <vector>

#include "exact.hpp"

namespace cellstow::audit {

/// A section's ring with corners (lateral, height) as whole multiples of 1/scale ticks, so that
/// sections read between two stations stay whole numbers too.
struct ScaledRing {
  std::vector<Spot> corners;
  Side side = Side::outside;        ///< where its material is
};

/// An open stretch of the lateral axis, in ticks.
struct Stretch { Number low, high; };

/// Farther out than any coordinate may be.
inline constexpr Tick beyond_everything = 400'000'000;

/// Stretches over which the open column between `height.low` and `height.high` meets material of
/// any of the rings; rising, apart or touching, clipped to +-beyond_everything.
///
/// Each edge that passes through the open band covers its own stretch. What no edge covers is free
/// or blocked as a whole, and one point tells which.
std::vector<Stretch> blocked_stretches(const std::vector<ScaledRing>& rings, Tick scale, Span height);

}  // namespace cellstow::audit
