#pragma once
/// What a reader must be warned of, gathered from all stages. Internal to plan.

#include "cellstow/plan/plan.hpp"

namespace cellstow::plan {

/// Cautions of the stages, then those that hold for every job; stages this version does not calculate go to left_out.
void add_cautions(const survey::Job& job, Plan& plan);

}  // namespace cellstow::plan
