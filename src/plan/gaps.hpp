#pragma once
/// Where a box sits tightest. Internal to plan.

#include <vector>

#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// Clear distance from every side of the box, its floor and its lid, to the cavity and to each keep-out it passes; least slack first.
///
/// @param reading  the reading between sections the box was packed under
std::vector<Gap> tightest_gaps(const survey::Cavity& cavity, const survey::Rules& rules,
                               survey::Between reading, const box::Box& box);

}  // namespace cellstow::plan
