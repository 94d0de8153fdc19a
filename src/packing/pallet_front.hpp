#pragma once
/// Is there room for exactly so many cells in a rectangle? Searched to the end. Internal to packing.

#include <string>
#include <unordered_map>
#include <vector>

#include "pallet_pieces.hpp"

namespace cellstow::packing {

/// Colours the squares of a unit grid so that every cell, either way round, covers each colour equally often.
///
/// Colour (a x + y) mod m, m the long or the short side, a without a common factor with m: m neighbouring squares along x, or
/// along y, have m different colours. With N cells placed, what they leave open is known colour by colour, not only in sum.
/// Source: the idea is that of Barnes (1979), see pallet_bound.hpp.
class Colouring {
 public:
  /// What `cells` cells leave open of each colour in a rectangle length x width.
  Colouring(int factor, int colours, const SmallPallet& pallet, int cells);
  bool overdrawn() const;
  void waste(int x, int y, int by) { left_[colour(x, y)] -= by; }
  int left(int x, int y) const { return left_[colour(x, y)]; }

 private:
  std::size_t colour(int x, int y) const { return static_cast<std::size_t>(factor_ * x + y) % left_.size(); }

  int factor_;
  std::vector<int> left_;
};

/// Fills a rectangle from one end, always at the low end of the lowest stretch of the front: a cell one way round, a cell the
/// other way round, or nothing. Where nothing goes, squares are wasted; there are only so many to waste, of each colour. Ends of
/// cells are sums of cell sides, since cells can be pushed to the low ends. Fronts seen before with as many cells behind
/// them, or their mirror image, are not looked at again.
class FrontSearch {
 public:
  /// Sides no longer than this: a front is remembered byte by byte.
  static constexpr int longest_side = 255;

  /// @param pallet  in numbers small enough to count squares
  FrontSearch(const SmallPallet& pallet, int cells);

  /// So many cells leave too little open, in all or of one colour: refused without a search.
  bool overdrawn() const;
  /// @param budget  fronts to look at
  Answer run(long long budget, long long& steps);
  /// After `reached`, on the pallet as it was given.
  std::vector<SmallCell> cells() const;

 private:
  struct Stretch { int end, height; };

  bool fill();
  bool place(std::size_t at, bool along);
  bool waste(std::size_t at);
  bool spend(int x_low, int x_high, int y_low, int y_high);
  void give_back(int x_low, int x_high, int y_low, int y_high);
  void raise(std::size_t at, int width, int to);
  bool wastes_too_much() const;
  int wasted_in_bays() const;
  bool seen_before();
  int low_end(std::size_t at) const { return at == 0 ? 0 : front_[at - 1].end; }
  int next_sum(int length) const;

  bool swapped_;          ///< the front runs along the shorter side
  SmallPallet pallet_;
  Reach reach_;
  int cells_;
  int to_waste_;
  std::vector<Colouring> colourings_;
  std::vector<Stretch> front_;
  std::vector<SmallCell> placed_;
  std::unordered_map<std::string, int> seen_;   ///< front to the most cells it was reached with
  long long left_ = 0;
};

}  // namespace cellstow::packing
