#pragma once
/// Fewer corners one at a time, each time the least free space given up.

#include "cellstow/measuring/scan_slice.hpp"

namespace cellstow::measuring::scan {

/// The loop with at most `corners` corners, or as few as can be reached. The free side is on its left: an outline runs
/// counter-clockwise, a hole clockwise; whatever changes takes free space away.
///
/// Two ways to lose a corner, the cheaper one first:
/// - a corner that points out of the free space is cut off;
/// - an edge goes, its neighbours run on until they meet.
///
/// @param others  edges that the loop may not touch; a loop among them may end up on the side that is not free
Loop reduce(const Loop& loop, std::size_t corners, const std::vector<WallPiece>& others);

}  // namespace cellstow::measuring::scan
