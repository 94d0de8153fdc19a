#pragma once
/// How much longer a slotted hole is than a round one.

#include "cellstow/core/length.hpp"

namespace cellstow::restraint {

/// What a slot is longer than the bolt's clearance hole: room for the fixing to lie off either way by what it was measured
/// wrong and by what cars of one model differ. Common practice, no source.
constexpr core::Length slot_allowance(core::Length measured_within, core::Length car_scatter) {
  return (measured_within + car_scatter) * 2;
}

}  // namespace cellstow::restraint
