#pragma once
/// The best set of strips across a free plan: exact, by earliest end. Internal to packing.

#include <optional>
#include <vector>

#include "strip_view.hpp"

namespace cellstow::packing {

/// One strip of an arrangement.
struct PlacedStrip {
  std::size_t kind = 0;       ///< index into the kinds given
  Um t = 0;                   ///< low edge of the contents
  Filling filling;
  unsigned fittings = 0;      ///< subset standing in this strip
};

struct RowsAnswer {
  Filling filling;
  unsigned fittings = 0;      ///< all that found a place
  std::vector<PlacedStrip> strips;   ///< rising t
};

/// Most cells, then fewest blocks, over all choices and positions of strips at least the gap apart, with every fitting placed where
/// that is possible at all.
///
/// Method: whatever the strips below hold, it never hurts when they end earlier. So keep, for every
/// worth (cells, blocks, fittings placed), the earliest end; extend each by the first position at or after it at which a strip is worth
/// more than at any position before. The answer is exact on the whole-um grid.
/// @param enough      cells beyond this count for nothing: with a wanted count, fewer blocks decide
/// @param resolution  1: exact. Coarser, rounded to the bound: an upper bound in a fraction of the time, its strips mean
///                    nothing; rounded to the sure side: strips that can be built, but not always the best
RowsAnswer best_rows(const StripView& view, const std::vector<StripKind>& kinds,
                     const std::vector<FillTable>& tables, int enough, Um resolution,
                     Rounding rounding = Rounding::bound);

}  // namespace cellstow::packing
