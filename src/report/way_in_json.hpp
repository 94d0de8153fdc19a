#pragma once
/// The way in, as it stands in the plan file. Internal to report.

#include "cellstow/plan/plan.hpp"
#include "report/json_values.hpp"

namespace cellstow::report {

/// Empty object without openings.
Json way_in_to_json(const plan::CavityPlan& cavity);

}  // namespace cellstow::report
