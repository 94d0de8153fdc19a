#pragma once
/// What each cavity offers to a string, and the ways of sharing a count of cells among them.

#include <functional>
#include <vector>

#include "cellstow/balance/load_state.hpp"
#include "cellstow/box/box.hpp"

namespace cellstow::plan {

/// Most cells of one cavity, how many boxes they take, and where the mass of one cell with its share of box metal sits.
struct Offer {
  int least = 0, most = 0;      ///< counts the user allows and the cavity holds
  int boxes = 0;                ///< when any cell is placed here
  double kg_per_cell = 0;       ///< box metal included
  double x_mm = 0, y_mm = 0, z_mm = 0;
};

/// A full box as a mass in the car.
balance::Lump lump_of(const box::Box& box);

/// Mass and place of one cell from boxes that hold `cells` together: their mass shared out evenly.
Offer offer_of(const std::vector<balance::Lump>& boxes, int cells);

/// Calls `take` with the cells per cavity of every way to share `cells` out, the first cavity's falling.
///
/// Steps of `step` cells (groups in parallel stay together); a cavity takes none or least to most, the last what is left.
void for_each_split(const std::vector<Offer>& offers, int cells, int step, const std::function<void(const std::vector<int>&)>& take);

}  // namespace cellstow::plan
