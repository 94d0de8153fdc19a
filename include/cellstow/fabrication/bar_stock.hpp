#pragma once
/// Bars cut from stock lengths: fewest bars.

#include <string>
#include <vector>

#include "cellstow/core/length.hpp"

namespace cellstow::fabrication {

using core::Length;

/// So many pieces of one length.
struct BarPiece {
  std::string mark;
  Length length;       ///< finished
  int quantity = 1;
};

struct CutBar {
  std::vector<std::string> marks;   ///< in the order of cutting, longest first
  std::vector<Length> lengths;      ///< of these pieces
  Length drop;                      ///< what is left, behind the last cut
};

struct BarPlan {
  std::vector<CutBar> bars;
  int bound = 0;                    ///< no cutting plan does with fewer bars
  bool proven() const { return static_cast<int>(bars.size()) == bound; }
  std::vector<BarPiece> too_long;   ///< longer than a stock length: not in the plan
};

/// Pieces of one section shared out among bars of one stock length, as few bars as there can be.
///
///   pieces on a bar:  sum of lengths + kerf x (pieces - 1) <= stock
///
/// Longest first where there is room; then, until as few bars as the bound or the work is used up, bars are filled one after the other
/// with every set of pieces that no other set covers.
///
/// @param kerf   what one saw cut takes
/// @pre   stock above 0, lengths above 0
/// Determinism: work is counted. Cost: milliseconds for some dozens of pieces.
/// Source: bound L2 and the search after S. Martello and P. Toth, Knapsack Problems (1990), chapter 8, from memory.
BarPlan cut_bars(const std::vector<BarPiece>& pieces, Length stock, Length kerf);

}  // namespace cellstow::fabrication
