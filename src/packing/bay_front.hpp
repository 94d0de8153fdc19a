#pragma once
/// Is there room for exactly so many cells in a right-angled region? Searched to the end. Internal to packing.

#include <string>
#include <unordered_map>
#include <vector>

#include "bay_region.hpp"
#include "pallet.hpp"
#include "pallet_pieces.hpp"

namespace cellstow::packing {

/// Fills a right-angled region from its low side, always at the low end of the lowest stretch of the front: a cell one way round, a cell the
/// other way round, or nothing. What is not free rises by itself. Where nothing goes, area is wasted, and there is only so much to waste.
///
/// A packing can be pushed until no cell can move to the low side of either axis; every cell then begins at a wall or where a chain of cells
/// that begins at a wall ends. So what stands nowhere within reach of the next such place is wasted up to there.
/// Source: as FrontSearch (pallet_front.hpp), with walls; pushing as in N. Christofides and C. Whitlock, Operations Research 25 (1977) 30-44, from memory.
class BayFrontSearch {
 public:
  BayFrontSearch(const BayRegion& region, Um long_side, Um short_side, int cells);

  /// @param budget  fronts to look at
  Answer run(long long budget, long long& steps);
  /// After `reached`.
  const std::vector<PalletCell>& cells() const { return placed_; }

 private:
  struct Stretch { Um end, height; };

  bool fill();
  bool place(std::size_t at, bool along);
  bool waste(std::size_t at);
  void absorb();
  void raise(std::size_t at, Um width, Um to);
  bool wastes_too_much() const;
  Um floor(Um length) const;
  bool seen_before();
  std::size_t lowest() const;
  Um low_end(std::size_t at) const { return at == 0 ? 0 : front_[at - 1].end; }
  Um free_area(Um x_low, Um x_high, Um y_low, Um y_high) const;

  const BayRegion& region_;
  Um long_side_, short_side_;
  int cells_;
  Um to_waste_;
  std::vector<Um> sums_, x_places_, y_places_;
  std::vector<Stretch> front_;
  std::vector<PalletCell> placed_;
  std::unordered_map<std::string, int> seen_;
  long long left_ = 0;
};

}  // namespace cellstow::packing
