#pragma once
/// A bound by area that holds for every arrangement the rules allow. Internal to packing.

#include "contents.hpp"
#include "setup.hpp"

namespace cellstow::packing {

/// No arrangement, in any direction, heading or number of tiers, holds more: blocks do not overlap, so their
/// footprints add up to no more than the plan of the cavity, tier by tier.
int area_bound(const Setup& setup);

/// No rectangular box with this outside holds more in the tiers of the stack.
int area_bound(const Setup& setup, const Stack& stack, const RectUm& outer);

}  // namespace cellstow::packing
