#pragma once
/// Cells in a rectangle by cutting it up, down to rectangles and L-shapes. Internal to packing.

#include <cstdint>
#include <unordered_map>
#include <vector>

#include "pallet_cuts.hpp"
#include "pallet_sizes.hpp"

namespace cellstow::packing {

/// A cell in the small numbers of its pallet.
struct SmallCell {
  int x = 0, y = 0;
  bool along_length = true;   ///< long side along the length
};

enum class Answer { reached, refused, given_up };

/// Asks piece by piece whether so many cells can be had, remembering for every piece what was reached and what was refused.
///
/// A piece is asked for no more than its area and bars allow, so with a count near the bound only cuts that waste next to
/// nothing are followed. A refusal says that cutting does not get there, not that nothing does.
class PieceSearch {
 public:
  explicit PieceSearch(const SmallPallet& pallet);

  /// @param budget  pairs of pieces to look at
  Answer reach(int cells, long long budget, long long& steps);
  /// Most cells reached so far.
  int reached();
  /// Where these stand.
  std::vector<SmallCell> cells();

 private:
  struct Known {
    std::int16_t reached = 0, possible = 0;
    Cut cut;                 ///< leads to `reached`; none: plain rows in a rectangle
  };

  PlacedCutPiece trimmed(const CutPiece& piece) const;
  Known& known(const CutPiece& piece);
  int ruled_out_above(const CutPiece& piece) const;
  bool reach(const CutPiece& piece, int cells);
  bool try_cut(const CutPiece& piece, const Cut& cut, int cells);
  bool try_rectangle(const CutPiece& piece, int cells);
  bool try_shape(const CutPiece& piece, int cells, bool swapped);
  CutPiece whole() const;
  void place(const CutPiece& piece, const Frame& frame, std::vector<SmallCell>& cells);
  void place_rows(const CutPiece& piece, const Frame& frame, std::vector<SmallCell>& cells) const;

  SmallPallet pallet_;
  Reach reach_;
  std::unordered_map<std::uint64_t, Known> known_;
  long long left_ = 0;
};

}  // namespace cellstow::packing
