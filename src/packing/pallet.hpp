#pragma once
/// Most equal cells in a bare rectangle, both ways round at once, with proof. Internal to packing.

#include <vector>

#include "pallet_sizes.hpp"

namespace cellstow::packing {

struct PalletCell {
  Um x = 0, y = 0;            ///< low corner
  bool along_length = true;   ///< long side along the length
};

struct PalletAnswer {
  std::vector<PalletCell> cells;
  int bound = 0;              ///< no packing holds more
  long long steps = 0;        ///< work done: the same on every run
};

/// The classical pallet loading problem.
///
/// 1. Sides become small numbers with the same partitions (pallet_sizes.hpp).
/// 2. Bounds by bars and by what lines can carry (pallet_bound.hpp).
/// 3. From the bound downwards, each count is asked for until it is reached: by cutting the rectangle up (pallet_pieces.hpp), by
///    leading the best fronts on side by side (bay_front.hpp), and by filling it from one end with a known number of squares to waste (pallet_front.hpp), which also tells that a count cannot be.
///
/// @param effort  1: some seconds on one core at the very most, next to nothing as a rule; work grows in proportion
/// Determinism: work is counted, not timed. Cost: see docs/benchmarks.md.
PalletAnswer most_on_pallet(const Pallet& pallet, int effort = 1);

}  // namespace cellstow::packing
