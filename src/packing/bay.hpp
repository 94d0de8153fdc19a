#pragma once
/// Most equal cells in a bare right-angled region, both ways round at once, with a bound. Internal to packing.

#include <vector>

#include "bay_region.hpp"
#include "pallet.hpp"

namespace cellstow::packing {

struct BayAnswer {
  std::vector<PalletCell> cells;   ///< long side along x or along y, in um from the region's low corner
  int bound = 0;                   ///< no packing holds more
  long long steps = 0;             ///< work done: the same on every run
};

/// From the line bound (bay_bound.hpp) downwards, each count is asked for until it is reached, by filling the region from one side with a known area to
/// waste (bay_front.hpp): from the sides where less of the region lies with every front kept, which also tells that a count cannot be, since what wedges the search in
/// comes first; from all four sides with few fronts kept, which finds.
/// Determinism: work is counted, not timed. Cost: see docs/benchmarks.md.
/// @pre cells keep nothing free between them
BayAnswer most_in_bay(const BayRegion& region, Um long_side, Um short_side);

}  // namespace cellstow::packing
