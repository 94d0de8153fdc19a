#pragma once
/// Sharing the string among the cavities. Internal to plan.

#include <functional>
#include <vector>

#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// What a cavity offers: most cells, how many boxes they take, and where the mass of one cell with its
/// share of box metal sits.
struct Offer {
  int least = 0, most = 0;      ///< counts the user allows and the cavity holds
  int boxes = 0;                ///< when any cell is placed here
  double kg_per_cell = 0;       ///< box metal included
  double x_mm = 0, y_mm = 0, z_mm = 0;
};

/// Ways of placing `cells` cells, best first: the front-share target met before not met, then fewest
/// boxes, then nearest to the middle of the target, then the fuller first cavity.
///
/// @param front_share  front share as driven with these masses added; empty when the car is not known well enough
std::vector<Split> rank_splits(const std::vector<Offer>& offers, int cells, int parallel,
                               const std::optional<survey::ShareTarget>& target,
                               const std::function<std::optional<double>(const std::vector<balance::Lump>&)>& front_share);

}  // namespace cellstow::plan
