#pragma once
/// What each cavity offers to a string, and the ways of sharing a count of cells among them.

#include <functional>
#include <string>
#include <vector>

#include "cellstow/box/box.hpp"

namespace cellstow::choosing {

/// Cells of one format in one cavity, and where the mass of one of them, with its share of box metal, sits.
struct Offer {
  int least = 0, most = 0;      ///< cells the job allows and the cavity holds
  int boxes = 0;                ///< when any cell is placed here
  double kg_per_cell = 0;       ///< box metal included
  double x_mm = 0, y_mm = 0, z_mm = 0;
};

/// Mass and place of one cell from boxes that hold `cells` together: their full mass shared out evenly.
Offer offer_of(const std::vector<box::Box>& boxes, int cells);

/// Calls `take` with the cells per cavity of every way to share `cells` out, the first cavity's falling.
///
/// Steps of `step` cells (groups in parallel stay together); a cavity takes none or least to most, the last what is left.
void for_each_split(const std::vector<Offer>& offers, int cells, int step, const std::function<void(const std::vector<int>&)>& take);

/// A step, a multiple of `parallel`, that keeps the ways to share out to about `most_ways`.
int step_for(const std::vector<Offer>& offers, int parallel, double most_ways);

}  // namespace cellstow::choosing
