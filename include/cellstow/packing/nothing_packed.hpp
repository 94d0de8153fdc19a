#pragma once
/// A cavity that stays empty.

#include "cellstow/packing/layout.hpp"
#include "cellstow/survey/job.hpp"

namespace cellstow::packing {

/// No box and no cell; every fitting asked for is without a place, one name a piece.
CavityPacking nothing_packed(const survey::Cavity& cavity);

}  // namespace cellstow::packing
