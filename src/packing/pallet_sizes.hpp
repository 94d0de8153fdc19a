#pragma once
/// Sides of a rectangle and of a cell as small whole numbers. Internal to packing.

#include <utility>
#include <vector>

#include "cellstow/core/length.hpp"

namespace cellstow::packing {

using core::Um;

/// Equal cells of long_side x short_side, either way round, straight into a rectangle of length x width. No gaps.
struct Pallet {
  Um length = 0, width = 0;
  Um long_side = 0, short_side = 0;
};

/// The same in small numbers of no unit.
struct SmallPallet {
  int length = 0, width = 0;
  int long_side = 0, short_side = 0;
  int area() const { return length * width; }
  int cell_area() const { return long_side * short_side; }
};

/// Pairs (i, j), i long sides and j short sides, that fit a side and leave room for no further short side; j falls as i rises.
using Partitions = std::vector<std::pair<int, int>>;
Partitions partitions(Um side, Um long_side, Um short_side);

/// Small numbers with the same partitions of both sides, and so the same packings; smallest first, numbers without a common factor.
/// Sides are cut down to what partitions reach. Empty when a side is very many cells long.
/// Source: K. Dowsland, "The three-dimensional pallet chart: an analysis of the factors affecting the set of feasible layouts
/// for a class of two-dimensional packing problems", J. Oper. Res. Soc. 35 (1984) 895-905, from memory.
std::vector<SmallPallet> small_equals(const Pallet& pallet);

/// What sides of a SmallPallet can be filled by cells end to end.
class Reach {
 public:
  Reach(const SmallPallet& pallet, int longest);
  /// The largest i long + j short that is no more than `length`.
  int floor(int length) const { return floor_[static_cast<std::size_t>(length)]; }
  /// All such sums up to the longest, rising from 0.
  const std::vector<int>& sums() const { return sums_; }

 private:
  std::vector<int> floor_, sums_;
};

}  // namespace cellstow::packing
