#pragma once
/// Sharing the string among the cavities. Internal to plan.

#include <functional>
#include <vector>

#include "cellstow/plan/offer.hpp"
#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// Ways of placing `cells` cells, best first: the front-share target met before not met, then fewest
/// boxes, then nearest to the middle of the target, then the fuller first cavity.
///
/// @param front_share  front share as driven with these masses added; empty when the car is not known well enough
std::vector<Split> rank_splits(const std::vector<Offer>& offers, int cells, int parallel,
                               const std::optional<survey::ShareTarget>& target,
                               const std::function<std::optional<double>(const std::vector<balance::Lump>&)>& front_share);

}  // namespace cellstow::plan
