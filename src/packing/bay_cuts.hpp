#pragma once
/// Cells in a right-angled region by cutting it into rectangles and L-shapes. Internal to packing.

#include <string>
#include <unordered_map>

#include "bay_region.hpp"
#include "pallet.hpp"
#include "pallet_pieces.hpp"

namespace cellstow::packing {

/// Straight cuts, one after the other, until rectangles and L-shapes are left; these are asked as PieceSearch does. As there, a part is asked
/// only for what the other cannot give. It finds; a refusal proves nothing.
class BayCuts {
 public:
  /// @param longest  no side of any region is longer
  BayCuts(Um longest, Um long_side, Um short_side);
  /// Too many small units a side for the tables of PieceSearch.
  static bool too_fine(Um longest, Um long_side, Um short_side);

  /// @param budget  pairs of pieces to look at
  bool reach(const BayRegion& region, int cells, long long budget, long long& steps);
  int reached(const BayRegion& region);
  int possible(const BayRegion& region);
  /// Where the cells stand, in um from the region's low corner; long side along x or along y.
  std::vector<PalletCell> cells(const BayRegion& region);

 private:
  struct Part { std::size_t id; Um x, y; };
  struct Known {
    BayRegion region;
    std::optional<PlacedCutPiece> piece;   ///< in um
    int reached = 0, possible = 0;
    bool has_cuts = false;
    std::vector<std::pair<Part, Part>> cuts;
    std::size_t best_cut = 0;
  };

  std::size_t id_of(const BayRegion& region);
  CutPiece in_units(const CutPiece& piece) const;
  int ruled_out_above(const BayRegion& region) const;
  Um widest_fill(Um length) const;
  void list_cuts(std::size_t id);
  std::vector<Um> lines(const std::vector<Um>& edges) const;
  bool reach(std::size_t id, int cells, int depth);
  bool try_cut(std::size_t id, std::size_t cut, int cells, int depth);
  void place(std::size_t id, Um x, Um y, std::vector<PalletCell>& cells);

  Um unit_;
  SmallPallet small_;
  Reach reach_;
  PieceSearch pieces_;
  std::unordered_map<std::string, std::size_t> ids_;
  std::vector<Known> known_;
  long long left_ = 0;
};

}  // namespace cellstow::packing
