#pragma once
/// An outline with few corners that lies wholly in a free space with many.

#include <cstddef>
#include <span>
#include <vector>

#include "cellstow/measuring/scan_free_space.hpp"

namespace cellstow::measuring::scan {

struct InwardRules {
  std::size_t corners_max = 12;  ///< of the outline and of each hole; three or more
  Um spike_um = 0;               ///< free space that runs out into the wall no wider than this is cut off first
};

/// A spike of free space that was cut off: where it left the rest, and how deep it ran into the wall.
struct Spike {
  PointUm at;
  double deep_um = 0;
};

/// Invariant: every point between outline and holes lies in the free space it was made from. The outline is simple and
/// counter-clockwise, holes are simple and clockwise and lie apart inside it.
struct Inward {
  Loop outline;
  std::vector<Loop> holes;
  double free_um2 = 0;           ///< of the free space given
  double lost_um2 = 0;           ///< of that, spikes included
  double deepest_um = 0;         ///< no point of the free space without its spikes is farther from what is left
  PointUm deepest_at;
  std::vector<Spike> spikes;     ///< deepest first
};

/// Cuts corners off and runs walls on until few are left, always on the tight side, and then moves what is left outward
/// as far as the wall allows. Exact: nothing outside the free space comes in, not by a micrometre.
///
/// @param space  outline counter-clockwise, holes clockwise, as free_space() gives them
/// @return not always as few corners as asked for: where a hole or a narrow place is in the way, more are kept
/// How near to the least loss: docs/theory/scan.md.   Cost: O(n^2) plain comparisons for n corners given
Inward simplify_inward(const FreeSpace& space, const InwardRules& rules);

}  // namespace cellstow::measuring::scan
