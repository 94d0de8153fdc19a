#pragma once
/// The lines along which a front in a right-angled region can run, and what must stay open beyond them. Internal to packing.

#include <cstdint>
#include <vector>

#include "bay_region.hpp"

namespace cellstow::packing {

/// Index of a line.
using Line = std::int32_t;
inline constexpr Line no_line = -1;
inline std::size_t index(Line line) { return static_cast<std::size_t>(line); }

/// Rising sums of cell sides, from 0 to the longest length asked for.
class SideSums {
 public:
  SideSums(Um longest, Um long_side, Um short_side);
  const std::vector<Um>& all() const { return sums_; }
  /// What of a length no sum of sides covers. @pre 0 <= length <= longest
  Um left_over(Um length) const;

 private:
  std::vector<Um> sums_;
  std::vector<std::size_t> last_;   ///< by stretches of `stretch_`: the last sum at or below where the stretch begins
  Um stretch_ = 1;
};

/// The lines square to one axis at which cells begin or end, or walls do.
struct BayAxis {
  std::vector<Um> at;                    ///< rising
  std::vector<std::size_t> slab;         ///< the slab of the region that lies beyond the line; the last slab for the last line
  std::vector<std::size_t> slab_before;  ///< the slab that lies before the line
  std::vector<Line> edges;               ///< lines of the region's own edges
  std::vector<Line> place;               ///< the first line from here on at which a cell can begin; no_line when there is none
  std::vector<Line> past_long, past_short;  ///< where a cell that begins here ends; no_line when that is outside

  Line last() const { return static_cast<Line>(at.size()) - 1; }
  bool is_place(Line line) const { return place[index(line)] == line; }
  Um span(Line low, Line high) const { return at[index(high)] - at[index(low)]; }
};

/// A packing can be pushed until no cell can move to the low side of either axis; every cell then begins at a wall or where a chain of cells
/// that begins at a wall ends. Cells that begin below some line are pushed down an axis and the others up it; the line is put where fewest places are left.
/// Source: pushing as in N. Christofides and C. Whitlock, Operations Research 25 (1977) 30-44, from memory.
class BayLines {
 public:
  BayLines(const BayRegion& region, Um long_side, Um short_side);

  const BayRegion& region() const { return region_; }
  const BayAxis& x() const { return x_; }
  const BayAxis& y() const { return y_; }
  const SideSums& sums() const { return sums_; }

  /// um2
  Um free_area(Line x_low, Line x_high, Line y_low, Line y_high) const;
  bool is_free(Line x_low, Line x_high, Line y_low, Line y_high) const;
  bool row_is_free(std::size_t row) const { return free_rows_[row]; }
  /// What lines up a column of the region leave open from a line on. um a line
  Um open_up(std::size_t column, Line from) const { return open_up_[column * y_.at.size() + index(from)]; }
  /// What lines across the whole region leave open from a line on. um2
  Um open_across(Line from) const { return open_across_[index(from)]; }

 private:
  void list_open_up();
  void list_open_across();

  BayRegion region_;
  SideSums sums_;
  BayAxis x_, y_;
  std::vector<char> free_rows_;
  std::vector<int> walls_;               ///< grid rectangles that are not free, below and left of every grid point
  std::vector<Um> open_up_, open_across_;
};

}  // namespace cellstow::packing
