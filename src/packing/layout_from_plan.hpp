#pragma once
/// From bodies in plan to bodies in the car. Internal to packing.

#include "attempt.hpp"

namespace cellstow::packing {

std::vector<BoxLayout> layouts(const Setup& setup, const Attempt& attempt, const Solved& solved);

/// Finds places for fittings that lie above the blocks; names those that have none.
void add_missing_above(const Setup& setup, CavityPacking& packing);

}  // namespace cellstow::packing
