#pragma once
/// Two or more boxes in one cavity, on either side of a straight cut. Internal to packing.

#include "cellstow/packing/pack.hpp"

namespace cellstow::packing {

/// Packs one box (or boxes in parts that do not hang together) in a cavity.
using PackOne = CavityPacking (*)(const survey::Cavity&, const survey::Cell&, const survey::Rules&, const PackOptions&);

/// Best of the cuts tried along x and along y: one box before it, the others behind it, each at its own floor height.
///
/// What lies before a cut holds no less the further back the cut goes, what lies behind it no more: so a range of cuts is dropped
/// when its far end before and its near end behind together hold no more than the best found. Ranges narrower than 4 mm are not
/// cut further. Empty (no boxes) when no cut beats `single`.
/// @param pack_one  packs one side
CavityPacking pack_several(const survey::Cavity& cavity, const survey::Cell& cell, const survey::Rules& rules,
                           const PackOptions& options, const CavityPacking& single, PackOne pack_one);

}  // namespace cellstow::packing
