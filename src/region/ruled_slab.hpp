#pragma once
/// Ruled walls between two upright sections, seen in plan. Internal to region.

#include <vector>

#include "walls.hpp"

namespace cellstow::region {

using geometry::Loop;
using geometry::SpanUm;

/// Blocked along the section plane at two stations; between them both ends run straight.
struct BlockedRun { SpanUm start, end; };

/// The plan between two upright planes with what is blocked in it: runs apart from each other, in order.
struct Slice {
  Um low, high;                      ///< between these stations
  std::vector<BlockedRun> blocked;
};

/// Cuts the plan between two sections with matched corners into slices. Blocked is every place whose column is not
/// wholly inside the ruled walls, and at most `ruled_loss_um` more, measured along the section plane, or the
/// whole of a micrometre of stations.
void add_ruled_slices(const std::vector<Loop>& from, const std::vector<Loop>& to, Um low, Um high, Column column,
                      std::vector<Slice>& slices);

/// Free space may be given away by this much between ruled walls (docs/legal-layout.md).
inline constexpr double ruled_loss_um = 100;

}  // namespace cellstow::region
