#pragma once
/// What limits a cavity, as it stands in the plan file. Internal to report.

#include <optional>

#include "cellstow/plan/plan.hpp"
#include "report/json_values.hpp"

namespace cellstow::report {

/// `limits` of a cavity; null when it was not asked for.
Json trust_to_json(const std::optional<limits::TrustList>& trust);
Json limits_to_json(const std::optional<limits::CavityLimits>& limits, const limits::CellWorth& worth);

/// `fit` of a cavity: one entry a box.
Json fit_to_json(const plan::CavityPlan& cavity);

}  // namespace cellstow::report
