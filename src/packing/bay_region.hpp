#pragma once
/// Right-angled regions of the plan. Internal to packing.

#include <string>
#include <vector>

#include "cellstow/region/free_plan.hpp"

namespace cellstow::packing {

using core::Um;

/// A connected region made up of grid rectangles: column i lies between x[i] and x[i + 1]. Its low corner is at (0, 0).
struct BayRegion {
  std::vector<Um> x, y;
  std::vector<char> free;   ///< column by column

  std::size_t columns() const { return x.size() - 1; }
  std::size_t rows() const { return y.size() - 1; }
  bool is_free(std::size_t column, std::size_t row) const { return free[column * rows() + row] != 0; }
  /// The same region has the same key.
  std::string key() const;
};

struct PlacedRegion { BayRegion region; Um x = 0, y = 0; };

/// The connected parts of where contents may stand; none unless all walls are right-angled and few. Where a clearance rounds a
/// corner off, the square corner counts.
/// @param shell_x, shell_y  contents keep this from what is not free
std::vector<PlacedRegion> regions_of(const region::FreePlan& plan, Um shell_x, Um shell_y);

/// The region with x and y exchanged.
BayRegion swapped_region(const BayRegion& region);

}  // namespace cellstow::packing
