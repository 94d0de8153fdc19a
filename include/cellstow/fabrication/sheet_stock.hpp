#pragma once
/// Flat parts laid on stock sheets, for buying and quoting.

#include <string>
#include <vector>

#include "cellstow/core/length.hpp"

namespace cellstow::fabrication {

using core::Length;

/// A flat part by the rectangle round it.
struct SheetPiece {
  std::string mark;
  Length length, width;   ///< of the rectangle round it
  double area_mm2 = 0;    ///< of the part itself
  int quantity = 1;
};

struct LaidPiece {
  std::string mark;
  Length x, y;            ///< low corner on the sheet
  Length length, width;   ///< along x, along y, as laid
};

struct LaidSheet {
  std::vector<LaidPiece> pieces;
  double filled = 0;      ///< share of the sheet's area that becomes parts
};

struct SheetPlan {
  std::vector<LaidSheet> sheets;
  int bound = 0;                      ///< by area: no way of laying does with fewer
  std::vector<SheetPiece> too_large;  ///< larger than a sheet less its margins: not in the plan
};

/// One material and thickness on sheets of one size, as few as some dozen ways of laying rectangles find.
///
/// Parts lie by the rectangles round them, either way round, `gap` apart and `margin` from the edges. A rough plan: the shop's own, with
/// parts in each other's hollows, may need less.
/// @pre sizes above 0
/// Source: largest free rectangles, J. Jylänki, "A thousand ways to pack the bin" (2010), from memory.
SheetPlan lay_on_sheets(const std::vector<SheetPiece>& pieces, Length sheet_length, Length sheet_width, Length margin, Length gap);

}  // namespace cellstow::fabrication
