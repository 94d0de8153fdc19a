#include "pallet_sizes.hpp"

#include <algorithm>
#include <numeric>

namespace cellstow::packing {
namespace {

/// Long sides tried. Ratios of sides are told apart by fractions whose terms are counts of cells along a side, some
/// dozens at most, and between two such fractions lies one with terms no larger than their sums.
constexpr int most_long_side = 160;
/// Sides longer than this many cells are not a matter for these methods.
constexpr Um most_cells_a_side = 120;

int longest_of(const Partitions& pairs, int long_side, int short_side) {
  int longest = 0;
  for (const auto& [i, j] : pairs) longest = std::max(longest, i * long_side + j * short_side);
  return longest;
}

/// No pair that did not fit before fits now.
bool gains_nothing(const Partitions& pairs, int long_side, int short_side, int side) {
  for (const auto& [i, j] : pairs) {
    if (i * long_side + (j + 1) * short_side <= side) return false;
  }
  return (pairs.back().first + 1) * long_side > side;
}

}  // namespace

Partitions partitions(Um side, Um long_side, Um short_side) {
  Partitions pairs;
  for (Um i = 0; i * long_side <= side; ++i) {
    pairs.emplace_back(static_cast<int>(i), static_cast<int>((side - i * long_side) / short_side));
  }
  return pairs;
}

std::vector<SmallPallet> small_equals(const Pallet& pallet) {
  std::vector<SmallPallet> equals;
  if (pallet.short_side <= 0 || std::max(pallet.length, pallet.width) / pallet.short_side > most_cells_a_side) return equals;
  const Partitions of_length = partitions(pallet.length, pallet.long_side, pallet.short_side);
  const Partitions of_width = partitions(pallet.width, pallet.long_side, pallet.short_side);
  for (int long_side = 1; long_side <= most_long_side; ++long_side) {
    for (int short_side = 1; short_side <= long_side; ++short_side) {
      if (std::gcd(long_side, short_side) > 1) continue;
      const SmallPallet small{longest_of(of_length, long_side, short_side), longest_of(of_width, long_side, short_side),
                              long_side, short_side};
      if (gains_nothing(of_length, long_side, short_side, small.length) &&
          gains_nothing(of_width, long_side, short_side, small.width)) {
        equals.push_back(small);
      }
    }
  }
  return equals;
}

Reach::Reach(const SmallPallet& pallet, int longest) : floor_(static_cast<std::size_t>(longest) + 1, 0) {
  for (int length = 0; length <= longest; ++length) {
    bool reached = length == 0;
    for (const int side : {pallet.long_side, pallet.short_side}) {
      reached |= length >= side && floor(length - side) == length - side;
    }
    if (reached) sums_.push_back(length);
    floor_[static_cast<std::size_t>(length)] = reached ? length : floor_[static_cast<std::size_t>(length) - 1];
  }
}

}  // namespace cellstow::packing
